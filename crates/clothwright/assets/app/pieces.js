// The pieces of a job: rows with their pictures, one open at a time.

import { h, icon, picture } from "./draw.js";
import { choice, field, flag, rows, sentence } from "./fields.js";
import { figure } from "./figure.js";
import { asked, blank, chosen, kind_of, measured, nested, said, summary } from "./kinds.js";
import { add, entries, entry, faults, forget_listeners, free_name, lines, model, move, on_change, set, value } from "./model.js";
import { go, is_wide, screen } from "./shell.js";
import { photos } from "./photos.js";

const NEW_FIRST = ["panel", "boxed cushion", "slip seat", "pad"];

function unit_of() {
  return value("job.unit") || "in";
}

function thumb(piece) {
  const of = piece.mirror_of ? entries("piece").find((p) => p.name === piece.mirror_of) ?? piece : piece;
  return h("span", { class: "pic" }, picture(blank(of)?.icon ?? ""));
}

function state_of(mark) {
  const found = faults(`piece.@${mark}`);
  if (model.out.some((o) => o.answer && o.change.path?.startsWith(`piece.@${mark}.`))) {
    return h("span", { class: "st no" }, icon("fault", true), h("span", { class: "vh" }, "not taken"));
  }
  if (found.some((f) => f.code !== "missing")) {
    return h("span", { class: "st no" }, icon("fault", true), h("span", { class: "vh" }, "to check"));
  }
  if (model.out.some((o) => o.change.path?.startsWith(`piece.@${mark}.`) || o.change.values?.id === mark)) {
    return h("span", { class: "st wait" }, icon("clock", true), h("span", { class: "vh" }, "waiting to be sent"));
  }
  return null;
}

function row(piece, index, open) {
  const count = Number(piece.count ?? 1);
  const found = faults(`piece.@${piece.id}`);
  const missing = found.some((f) => f.code === "missing");
  return h("button", { type: "button", class: "line", "aria-expanded": String(open), "data-piece": piece.id },
    thumb(piece),
    h("span", { class: "grow" }, h("span", { class: "nm" }, piece.name, count > 1 && h("span", { class: "quiet" }, ` × ${count}`)),
      h("span", { class: "meas" }, summary(piece), missing && h("span", { class: "quiet" }, " – still to measure"))),
    h("span", { class: "row gap2" }, state_of(piece.id), h("span", { class: "tk plain" }, String(index + 1))));
}

let several = null;

/** The list of pieces, with the one that is open. */
export function pieces(open) {
  const list = h("ul", { class: "list" });
  const middle = h("div", { class: "middle" });
  const count = h("h2", {});
  const pick = h("button", { type: "button", class: "b plain small", onclick: () => {
    several = several ? null : new Set();
    pieces_again(open);
  } }, several ? "Done selecting" : "Select several");
  screen({ step: "pieces", class: open ? "pieces opened" : "pieces" },
    h("section", { class: "side", "aria-label": "pieces" },
      h("button", { type: "button", class: "b strong wide", id: "add-piece", onclick: () => go("add") }, icon("add"), "Add a piece"),
      h("div", { class: "row between headrow" }, count, entries("piece").length > 1 && pick),
      several && bulk(several, open), list),
    middle);
  let last = null;
  on_change(() => {
    const all = entries("piece");
    const made = all.reduce((n, p) => n + Number(p.count ?? 1), 0);
    count.textContent = all.length === 0 ? "No pieces yet" : made === all.length ? `${all.length} ${all.length === 1 ? "piece" : "pieces"}` : `${made} pieces in ${all.length} ${all.length === 1 ? "row" : "rows"}`;
    const shape = all.map((p) => p.id).join();
    if (shape !== last) {
      last = shape;
      draw_rows(all, list, middle, open);
    } else {
      all.forEach((p, i) => {
        const old = list.querySelector(`[data-piece="${p.id}"]`);
        if (old && old !== document.activeElement) {
          const fresh = row(p, i, p.id === open);
          fresh.toggle = old.toggle;
          if (several) {
            // A chosen row stays chosen when news of the job come in.
            fresh.setAttribute("aria-pressed", String(several.has(p.id)));
          }
          old.replaceWith(fresh);
        }
      });
    }
    for (const b of list.querySelectorAll("[data-piece]")) {
      b.onclick = () => b.toggle();
    }
  });
  if (open && !is_wide()) {
    list.querySelector(".piece.open")?.scrollIntoView({ block: "start" });
  }
}

function pieces_again(open) {
  const at = window.scrollY;
  forget_listeners();
  pieces(open);
  window.scrollTo(0, at);
}

/** Measures that another outline does not have are given up with the one they belonged to. */
async function drop_unasked(mark) {
  const piece = entry("piece", mark);
  const names = new Set(asked(piece).map((k) => k.name));
  for (const k of kind_of(piece)?.keys ?? []) {
    if (!names.has(k.name) && piece[k.name] !== undefined) {
      await set(`piece.@${mark}.${k.name}`, null);
    }
  }
}

function draw_rows(all, list, middle, open) {
  const editor = open && entry("piece", open) ? edit(open) : null;
  list.replaceChildren(...all.map((piece, i) => {
    const is_open = piece.id === open;
    const toggle = several
      ? () => {
        several.has(piece.id) ? several.delete(piece.id) : several.add(piece.id);
        pieces_again(open);
      }
      : () => go(is_open && !is_wide() ? "pieces" : "pieces", is_open && !is_wide() ? null : piece.id);
    const line = row(piece, i, is_open);
    line.toggle = toggle;
    if (several) {
      line.setAttribute("aria-pressed", String(several.has(piece.id)));
    }
    return h("li", { class: is_open ? "piece open" : "piece" }, line, is_open && !is_wide() && editor);
  }));
  middle.replaceChildren(is_wide() && editor ? h("article", { class: "sheet editor" }, h("h2", { tabindex: "-1" }, entry("piece", open).name, " ", h("span", { class: "quiet" }, kind_of(entry("piece", open))?.title ?? "")), editor) : "");
}

// The same change for many pieces at once.
function bulk(marks, open) {
  const all = [...marks];
  const change = (words, key, options) => h("label", { class: "f" }, h("span", { class: "lab" }, words),
    h("span", { class: "in" }, h("select", { disabled: all.length === 0, onchange: async (event) => {
      for (const mark of all) {
        await set(`piece.@${mark}.${key}`, event.target.value === "—" ? null : event.target.value);
      }
    } }, h("option", { value: "" }, all.length === 0 ? "tap rows below" : `set for ${all.length}`), options.map((o) => h("option", { value: o[0] }, o[1])))));
  const names = (list) => entries(list).map((e) => [e.name, e.name]);
  return h("div", { class: "sheet bulk" }, h("div", { class: "fields" },
    change("Cloth", "cloth", names("cloth")), change("Foam", "foam", [["—", "none"], ...names("foam")]), change("Board", "board", [["—", "none"], ...names("board")]),
    change("Pattern", "pattern", [["centred", "Centre it"], ["free", "Anywhere"], ["—", "As usual"]])),
  h("button", { type: "button", class: "b small", disabled: all.length === 0, onclick: async () => {
    for (const mark of all) {
      await move("piece", mark, "remove");
    }
    several = null;
    pieces_again(open);
  } }, icon("remove", true), "Remove"));
}

const names_of = (list) => [["", "—"], ...entries(list).map((e) => [e.name, e.name])];

function edit(mark) {
  const piece = entry("piece", mark);
  const at = (key) => `piece.@${mark}.${key}`;
  if (piece.mirror_of) {
    return h("div", { class: "body" }, h("div", { class: "fields" }, field(at("name"), "Name"), field(at("count"), "How many", { sort: "count", usual: "1" }), choice(at("cloth"), "Cloth", names_of("cloth"))), tools(mark, false));
  }
  const of = kind_of(piece);
  const again = async () => {
    await drop_unasked(mark);
    pieces_again(mark);
  };
  const shape = chosen(piece).find((k) => k.name === "shape");
  const flat = ["panel", "shaped cushion"].includes(piece.kind);
  const fig = h("div", { class: "fig" });
  let drawn = null;
  on_change(() => {
    const now = JSON.stringify([value(`piece.@${mark}`), model.sheet?.pictures?.[mark]?.length, faults(`piece.@${mark}`).length]);
    if (now !== drawn && value(`piece.@${mark}`)) {
      drawn = now;
      fig.replaceChildren(figure(mark, { tap: (key) => go("measure", mark, key) }));
    }
  });
  const why = h("ul", { class: "why" });
  on_change(() => {
    // What is wrong is said where the eye falls first, whatever field it belongs to.
    why.replaceChildren(...faults(`piece.@${mark}`).filter((f) => f.code !== "missing").map((f) => h("li", { class: "say bad" }, icon("fault", true), sentence(f))));
  });
  return h("div", { class: "body" }, why,
    shape && choice(at("shape"), "Shape", shape.words, { after: again }),
    h("div", { class: "two" }, fig,
      h("div", {},
        h("div", { class: "row gap2 wrap" }, h("button", { type: "button", class: "b grow", onclick: () => go("measure", mark) }, "Measure with keypad"),
          flat && h("button", { type: "button", class: "b", onclick: () => go("shape", mark) }, "Corners, edges, openings"),
          flat && h("a", { class: "b", href: `/job/${model.id}/outline/${mark}` }, "From a photograph")),
        h("div", { class: "fields" }, measured(piece).map((k) => measure_field(mark, k)).filter(Boolean)))),
    h("div", { class: "fields" },
      field(at("name"), "Name"), field(at("count"), "How many", { sort: "count", usual: "1" }),
      choice(at("cloth"), "Cloth", names_of("cloth")),
      of?.foam && choice(at("foam"), "Foam", names_of("foam")), of?.board && choice(at("board"), "Board", names_of("board")),
      chosen(piece).filter((k) => k.name !== "shape").map((k) => (k.sort === "flag" ? flag(at(k.name), k.caption, k.otherwise) : choice(at(k.name), k.caption, k.unsaid === undefined ? [["", "As usual"], ...k.words] : k.words.map(([v, w]) => [v === k.unsaid ? v : v, w]), { after: again }))),
      asked(piece).filter((k) => !k.letter && ["length", "zero", "signed", "count", "degrees", "text", "side", "lengths"].includes(k.sort)).map((k) => field(at(k.name), k.caption, { sort: k.sort, usual: k.unsaid }))),
    nested(piece).filter((k) => !(flat && ["notch", "side", "cut_out"].includes(k.name))).map((k) => nest(mark, k)),
    photos(mark), tools(mark, true), more(mark, of));
}

function measure_field(mark, k) {
  const path = `piece.@${mark}.${k.name}`;
  if (["table", "tables", "sides", "of foam", "word", "flag"].includes(k.sort)) {
    return null;
  }
  return field(path, k.caption, { sort: k.sort, letter: k.letter, hint: k.how, unit: k.sort === "count" ? null : k.sort === "degrees" ? "°" : unit_of(), usual: k.unsaid });
}

function inner_field(path, k) {
  if (["cloth", "foam"].includes(k.name) && k.sort === "text") {
    return choice(path, k.caption, names_of(k.name));
  }
  if (k.sort === "word") {
    return choice(path, k.caption, k.unsaid === undefined ? [["", "As usual"], ...k.words] : k.words);
  }
  if (k.sort === "flag") {
    return flag(path, k.caption, k.otherwise);
  }
  if (k.sort === "table") {
    return h("fieldset", { class: "group" }, h("legend", {}, k.caption), h("div", { class: "fields" }, k.keys.map((x) => inner_field(`${path}.${x.name}`, x))));
  }
  return field(path, k.caption, { sort: k.sort, usual: k.unsaid });
}

function is_asked_in_row(x, row, keys) {
  return !x.when || x.when[1].includes(said(row ?? {}, keys, x.when[0]));
}

// Rows of long lists in a line each.
const sizes = (row) => [row.width, row.height ?? row.depth].filter(Boolean).join(" × ");
const FOLDED = {
  cut: (row) => [row.name || "not named", sizes(row) || "still to measure", row.pair ? "a pair" : row.count && `${row.count} of it`].filter(Boolean).join(", "),
  layer: (row) => [row.what, row.count && row.length ? `${row.count} × ${row.length}` : row.length ?? row.count, sizes(row), row.foam, row.note].filter(Boolean).join(", "),
};

function nest(mark, k) {
  const path = `piece.@${mark}.${k.name}`;
  if (k.sort === "table") {
    return h("details", { class: "fold" }, h("summary", {}, k.caption), h("div", { class: "fields" }, k.keys.map((x) => inner_field(`${path}.${x.name}`, x))));
  }
  if (k.sort === "sides") {
    return h("details", { class: "fold" }, h("summary", {}, k.caption), ["bottom", "right", "top", "left"].map((side) => h("fieldset", { class: "group" }, h("legend", {}, side), h("div", { class: "fields" }, k.keys.map((x) => inner_field(`${path}.${side}.${x.name}`, x))))));
  }
  const one = { layer: "Add a layer", cut: "Add a cut", across: "Add a diagonal", offset: "Add a height", corner: "Add a corner", notch: "Add a notch", fitting: "Add a fitting" }[k.name] ?? "Add";
  return h("section", { class: "nest" }, h("h3", {}, k.caption), k.how && h("p", { class: "quiet small" }, k.how),
    rows(path, k.caption, k.keys.map((x) => (i) => is_asked_in_row(x, value(`${path}.${i}`), k.keys) && inner_field(`${path}.${i}.${x.name}`, x)),
      { one, shown: (i) => `${i + 1}`, asks: k.keys.find((x) => x.when)?.when[0], start: k.name === "layer" ? { what: k.keys[0].words[0][0] } : {}, folded: FOLDED[k.name] }));
}

function tools(mark, can_mirror) {
  const act = (what, words, name, then) => h("button", { type: "button", class: "b small", onclick: async () => {
    const fresh = await move("piece", mark, what);
    then(fresh);
  } }, icon(name, true), words);
  const stay = () => pieces_again(mark);
  return h("div", { class: "row gap2 wrap tools" },
    act("copy", "Duplicate", "copy", (fresh) => go("pieces", fresh)),
    can_mirror && act("mirror", "Mirror image", "mirror", (fresh) => go("pieces", fresh)),
    act("up", "Move up", "up", stay), act("down", "Move down", "down", stay),
    act("remove", "Remove", "remove", () => go("pieces")));
}

function more(mark, of) {
  const at = (key) => `piece.@${mark}.${key}`;
  const shared = model.common.map((k) => {
    if (k.sort === "flag") {
      return flag(at(k.name), k.caption, k.name === "strip" ? Boolean(of?.cover) : false);
    }
    return k.words ? choice(at(k.name), k.caption, k.words) : field(at(k.name), k.caption, { sort: k.sort });
  });
  const holder = h("div", {});
  const fold = h("details", { class: "fold" }, h("summary", {}, "More: pattern, joins, reuse, handing, fixing, notes"), holder);
  // Built when it is opened: most pieces need none of it.
  fold.addEventListener("toggle", () => {
    if (!fold.open || holder.firstChild) {
      return;
    }
    holder.append(
      h("div", { class: "fields" }, shared, choice(at("under_cloth"), "Bottom cloth", names_of("cloth")), ["boxing_cloth", "welt_cloth", "zip_cloth", "dust_cloth"].map((k) => choice(at(k), { boxing_cloth: "Boxing in", welt_cloth: "Piping in", zip_cloth: "Zip strip in", dust_cloth: "Dust cover in" }[k], names_of("cloth"))), field(at("match"), "Match the pattern with group"), field(at("place"), "Room"), field(at("found"), "Condition found"), field(at("note"), "Note for the bench")),
      h("fieldset", { class: "group" }, h("legend", {}, "Fixing"), h("div", { class: "fields" },
        choice(at("fixing.by"), "Fixed by", [["", "—"], ["screws", "Screws"], ["clips", "Clips"], ["cleat", "Split cleat"], ["loose", "Laid in"]]), field(at("fixing.count"), "How many", { sort: "count" }), field(at("fixing.length"), "Screw length"), field(at("fixing.into"), "Thickness they go into"))),
      of?.keys.some((k) => k.run) ? h("fieldset", { class: "group" }, h("legend", {}, "One of a run along a wall"), h("div", { class: "fields" },
        field(at("run.length"), "Whole length"), field(at("run.sections"), "Sections", { sort: "count" }), field(at("run.end_gap"), "Gap at each end"), field(at("run.joint_gap"), "Gap between sections"))) : "",
      advanced("piece", mark));
  });
  return fold;
}

/** The text of one entry, for those who write it themselves. */
export function advanced(list, mark) {
  const area = h("textarea", { rows: 10, spellcheck: "false", "aria-label": "text of this entry" });
  const fold = h("details", { class: "fold" }, h("summary", {}, "Advanced: its text"), area,
    h("button", { type: "button", class: "b small", onclick: () => lines(list, mark, area.value) }, "Save the text"));
  fold.addEventListener("toggle", async () => {
    if (fold.open) {
      const answer = model.id ? await fetch(`/job/${model.id}/lines?list=${list}&mark=${mark}`).catch(() => null) : null;
      area.value = answer?.ok ? await answer.text() : "";
      area.disabled = !answer?.ok;
      area.placeholder = "Shown when the workroom can be reached";
    }
  });
  return fold;
}

/** All kinds by their pictures, to add a piece. */
export function adding() {
  const all = [...model.kinds.values()];
  const first = NEW_FIRST.map((n) => all.find((k) => k.name === n)).filter(Boolean);
  const rest = all.filter((k) => !first.includes(k));
  const one = (k) => h("button", { type: "button", class: "kind", "data-kind": k.name, onclick: () => make(k) }, picture(k.blanks[0]?.icon ?? ""), h("span", {}, k.title));
  // Kinds that come in many outlines have one picture for each.
  const shapes = (k) => (k.keys.find((key) => key.name === "shape")?.words ?? []).filter(([word]) => word !== (k.blanks[0]?.shape || "rectangle")).map(([word, title]) => h("button", { type: "button", class: "kind", "data-kind": k.name, "data-shape": word, onclick: () => make(k, word) }, picture(k.blanks.find((b) => b.shape === word)?.icon ?? ""), h("span", {}, title)));
  const of = (name) => all.find((k) => k.name === name);
  screen({ step: "pieces", class: "adding", back: () => go("pieces"), title: "Add a piece" },
    h("h2", { tabindex: "-1" }, "What is it?"), h("div", { class: "kinds" }, first.map(one)),
    h("h3", {}, "Panels of other outlines"), h("div", { class: "kinds" }, shapes(of("panel"))),
    h("h3", {}, "More kinds"), h("div", { class: "kinds" }, rest.map(one)),
    h("h3", {}, "Cushions of other outlines"), h("div", { class: "kinds" }, shapes(of("shaped cushion"))));
}

async function make(k, outline) {
  const first = (list) => entries(list)[0]?.name;
  const last = entries("piece").findLast((p) => !p.mirror_of);
  const values = { name: free_name("piece", k.title), kind: k.name, shape: outline, cloth: last?.cloth ?? first("cloth") };
  if (k.foam) {
    values.foam = entries("piece").findLast((p) => p.kind === k.name)?.foam ?? first("foam");
  }
  if (k.board) {
    values.board = entries("piece").findLast((p) => p.kind === k.name)?.board ?? first("board");
  }
  for (const key of Object.keys(values)) {
    if (values[key] === undefined) {
      delete values[key];
    }
  }
  const mark = await add("piece", values);
  // A traced outline is not measured by tape.
  go(outline === "traced" ? "pieces" : "measure", mark);
}

