// What is asked of a piece, by the table of its kind: the same table that the workroom reads with.

import { model, value } from "./model.js";

const CHOSEN = ["word", "flag"];
const NESTED = ["table", "tables", "sides"];

export function kind_of(piece) {
  return model.kinds.get(piece?.kind);
}

/** What holds for a key: what was said, or what is usual. */
export function said(piece, keys, name) {
  const now = piece[name];
  if (now !== undefined && now !== null && now !== "") {
    return String(now);
  }
  const key = keys.find((k) => k.name === name);
  return key?.unsaid ?? (key?.sort === "flag" ? String(key.otherwise) : "");
}

/** The keys that are asked, by what is said of others; letters for those that are measured. */
export function asked(piece) {
  const keys = kind_of(piece)?.keys ?? [];
  const in_run = piece.run?.length !== undefined || piece.run?.measured !== undefined;
  let letter = 0;
  const is_asked = (k) => !k.when || k.when[1].includes(said(piece, keys, k.when[0]));
  return keys.filter(is_asked).map((k) => {
    const is_measured = k.how !== "";
    const shown = { ...k, letter: is_measured ? String.fromCharCode(65 + (letter % 26)) : null };
    letter += is_measured ? 1 : 0;
    return shown;
  }).filter((k) => !(in_run && k.run));
}

export const measured = (piece) => asked(piece).filter((k) => k.letter);
export const chosen = (piece) => asked(piece).filter((k) => CHOSEN.includes(k.sort));
export const nested = (piece) => asked(piece).filter((k) => NESTED.includes(k.sort));

/** The blank picture that shows most of what is measured of a piece. */
export function blank(piece, lit) {
  const keys = measured(piece).map((k) => k.name).join();
  const every = kind_of(piece)?.blanks ?? [];
  const showing = every.filter((b) => lit && b.picture.includes(`data-key="${lit}"`));
  const all = showing.length > 0 ? showing : every;
  const shape = piece.shape ?? "";
  return all.find((b) => b.keys.join() === keys && (b.shape === shape || !shape)) ?? all.find((b) => b.shape === shape) ?? all[0];
}

// Lists that make the outline: without them there is no piece.
const OUTLINES = ["sides", "across", "offset", "corner", "runs"];

/** What is typed on the keypad of one row of a table. */
export function inside(table) {
  // Which corners a diagonal joins goes without asking.
  const known = table.name === "across" ? ["from", "to"] : [];
  return table.keys.filter((x) => !known.includes(x.name) &&  ["length", "zero", "signed", "count"].includes(x.sort) && (x.must || x.sort !== "zero"));
}

/** Pairs of corners that are no neighbours, in the order in which they are measured. */
export function diagonals(corners) {
  const all = [];
  for (let a = 1; a <= corners; a += 1) {
    for (let b = a + 2; b <= corners; b += 1) {
      if (!(a === 1 && b === corners)) {
        all.push([a, b]);
      }
    }
  }
  return all.length > 0 ? all : [[1, 2]];
}

/** One row's steps. */
export function row_steps(table, path, row) {
  const inner = inside(table);
  const corners = table.name === "across" ? Math.max(4, value(path.replace(/\.across$/, ".sides"))?.length ?? 4) : 0;
  const ways = diagonals(corners);
  const [from, to] = ways[(row ?? 0) % ways.length];
  const named = (x) => (corners > 0 ? `Corner ${from} to corner ${to}` : row === null ? `${table.caption}: ${x.caption.toLowerCase()}` : `${value(`${path}.${row}.name`) || row + 1}: ${x.caption}`);
  const place = row === null ? path : `${path}.${row}`;
  return inner.map((x, i) => ({
    ...x, path: `${place}.${x.name}`, table: table.name, row, letter: table.letter, how: table.how, key: row === null ? table.name : `${table.name}.${row}`,
    caption: named(x), must: OUTLINES.includes(table.name) || (table.must && x.must), more: row !== null && i === inner.length - 1,
  }));
}

/** One of a list of lengths. */
export function list_step(k, path, index, more) {
  return { ...k, path, index, key: `${k.name}.${index}`, caption: `${singular(k)} ${index + 1}`, must: k.must || OUTLINES.includes(k.name), more };
}

/** One step of measuring: a value with its letter and its words. */
export function steps(mark) {
  const piece = value(`piece.@${mark}`);
  if (!piece) {
    return [];
  }
  return measured(piece).flatMap((k) => {
    const path = `piece.@${mark}.${k.name}`;
    const has = Array.isArray(piece[k.name]) ? piece[k.name].length : 0;
    if (k.sort === "lengths") {
      const count = Math.max(k.name === "sides" ? 4 : k.name === "diagonals" ? 2 : 1, has);
      return [...Array(count).keys()].map((i) => list_step(k, path, i, i + 1 === count && k.name !== "diagonals"));
    }
    if (k.sort === "table") {
      return row_steps(k, path, null);
    }
    if (k.sort === "tables") {
      const rows = Math.max(k.name === "corner" ? 3 : k.name === "offset" ? 2 : 1, has);
      return [...Array(rows).keys()].flatMap((row) => row_steps(k, path, row).map((one) => ({ ...one, more: one.more && row === rows - 1 })));
    }
    return CHOSEN.includes(k.sort) || k.sort === "of foam" ? [] : [{ ...k, path, key: k.name }];
  });
}

function singular(k) {
  return { diagonals: "Diagonal", sides: "Side", radii: "Radius", runs: "Run" }[k.name] ?? k.caption;
}

/** What was measured, in one line. */
export function summary(piece) {
  if (piece.mirror_of) {
    return `mirror image of ${piece.mirror_of}`;
  }
  const sizes = measured(piece).filter((k) => ["length", "zero"].includes(k.sort) && (k.must || piece[k.name])).map((k) => (k.name === "radius" ? `r ${piece[k.name]}` : piece[k.name] ?? "?"));
  if (sizes.every((x) => x === "?")) {
    const lists = measured(piece).filter((k) => Array.isArray(piece[k.name]));
    return lists.length > 0 ? lists.map((k) => `${piece[k.name].length} ${k.caption.toLowerCase()}`).join(", ") : "not measured yet";
  }
  return sizes.slice(0, 5).join(" × ");
}
