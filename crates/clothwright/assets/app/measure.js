// One measure at a time, for a phone in one hand and a tape in the other.

import { h, icon, number, reading, speak, tape } from "./draw.js";
import { says, typed } from "./fields.js";
import { figure } from "./figure.js";
import { diagonals, list_step, measured, row_steps, steps } from "./kinds.js";
import { entries, entry, on_change, set, value } from "./model.js";
import { go, screen } from "./shell.js";
import { camera } from "./photos.js";

const EIGHTHS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
const SIXTEENTHS = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];

let sixteenths = false;

/** What is asked in turn: what must be measured, then what is usual in one go, then how many. */
function turns(mark) {
  const all = steps(mark);
  // A plain measure without a usual value is asked too; it may be left.
  const is_asked = (one) => one.must || (one.sort === "length" && one.unsaid === undefined && !one.table);
  const must = all.filter(is_asked);
  const usual = all.filter((one) => !is_asked(one));
  return [...must, ...(usual.length > 0 ? [{ usual, key: null, caption: must.length > 0 ? "The rest" : "Measures" }] : []), { count: true, key: null, path: `piece.@${mark}.count`, caption: "How many alike" }];
}

function unit_of() {
  return value("job.unit") || "in";
}

/** Measures a piece from a measure on, or from the first that is missing. */
export function measure(mark, wanted) {
  const piece = entry("piece", mark);
  if (!piece) {
    go("pieces");
    return;
  }
  const all = turns(mark);
  const optional = all.flatMap((one) => one.usual ?? []);
  let at = wanted ? all.findIndex((one) => one.key === wanted) : all.findIndex((one) => one.path && !one.count && blank(one.path));
  let single = null;
  if (wanted && at < 0) {
    single = optional.find((one) => one.key === wanted) ?? null;
    at = all.findIndex((one) => one.usual);
  }
  at = at < 0 ? 0 : at;
  show(mark, all, at, single);
}

const blank = (path) => {
  const v = value(path);
  return v === undefined || v === null || v === "";
};

function show(mark, all, at, single) {
  const piece = entry("piece", mark);
  const here = single ?? all[at];
  const is_number = here.count || ["count", "degrees"].includes(here.sort);
  const unit = is_number ? (here.sort === "degrees" ? "°" : "") : unit_of();
  const typing = { text: "", is_fresh: true };
  const path = here.path && here.index !== undefined ? `${here.path}.${here.index}` : here.path;
  if (path) {
    typing.text = String(value(path) ?? "");
  }
  const next = () => (single ? null : all[at + 1]);
  const done_words = () => (here.count ? "Done" : next() ? `Next: ${next().letter ? `${next().letter} ` : ""}${next().caption.charAt(0).toLowerCase()}${next().caption.slice(1)}` : "Done");
  const fig = h("div", { class: "fig" });
  const draw = () => fig.replaceChildren(figure(mark, { lit: here.key, tap: (key) => jump(mark, key) }));
  const bars = h("div", { class: "bars", "aria-hidden": "true" }, all.map((_, i) => h("i", { class: i === at ? "now" : i < at ? "done" : "" })));
  const strong = h("button", { type: "button", class: "b strong wide next", onclick: () => leave(mark, all, at, single, path, typing, here) }, done_words(), icon("next", true));
  const parts = here.usual ? usual_part(mark, here) : keypad_part(mark, here, path, typing, unit, is_number, all, at);
  screen({ step: "pieces", class: here.usual ? "measure as-usual" : "measure", back: () => go("pieces", mark), title: piece.name, under: bars, more: camera(mark), bare: true },
    fig, parts, h("div", { class: "nextrow" }, (at > 0 || single) && h("button", { type: "button", class: "b before", "aria-label": "the measure before", onclick: () => before(mark, all, at, single, path, typing, here) }, icon("back")), here.more && !here.usual && h("button", { type: "button", class: "b", id: "one-more", onclick: () => one_more(mark, all, at, path, typing, here) }, "One more"), strong));
  on_change(draw);
  strong.focus({ preventScroll: true });
}

function jump(mark, key) {
  go("measure", mark, key);
}

function usual_part(mark, here) {
  const line = (one) => {
    const path = one.index !== undefined ? `${one.path}.${one.index}` : one.path;
    const now = value(path);
    return h("button", { type: "button", class: "b usual", "data-usual": one.key, onclick: () => jump(mark, one.key) },
      one.letter && h("span", { class: "letter" }, one.letter), h("span", { class: "grow" }, one.caption), h("span", { class: blank(path) ? "quiet" : "num" }, blank(path) ? one.unsaid ?? "none" : number(String(now))));
  };
  return h("div", { class: "pad stack" }, h("p", { class: "quiet small" }, "Usually so. Tap one to measure it, or go on."), here.usual.map(line));
}

function keypad_part(mark, here, path, typing, unit, is_number, all, at) {
  const shown = h("output", { class: "reading", id: "reading" });
  const below = h("span", { class: "says" });
  const band = h("div", { class: "band-tape" });
  const read_aloud = delayed(600, () => speak(typing.text ? `${typing.text.replace("/", " over ")} ${unit}` : "empty"));
  const draw = () => {
    shown.replaceChildren(number(typing.text || (here.count ? "1" : "0")), h("i", { class: "caret" }), unit && h("small", {}, ` ${unit}`));
    shown.classList.toggle("empty", typing.text === "");
    band.replaceChildren(is_number ? "" : tape(typing.text, unit));
  };
  const press = (key) => {
    type(typing, key, unit, is_number, path, mark);
    draw();
    read_aloud();
  };
  draw();
  on_change(() => says(path, below, shown, false));
  const keys = pad(unit, is_number, press);
  keyboard(press, () => document.querySelector(".nextrow .strong")?.click(), () => go("pieces", mark));
  return h("div", { class: "taking" },
    h("div", { class: "asked" }, h("div", { class: "row between" }, h("h2", {}, here.letter && h("span", { class: "letter lit" }, here.letter), here.caption, here.index === undefined && here.how && h("span", { class: "how" }, here.how))), shown, below), band, keys);
}

function delayed(pause, act) {
  let timer = null;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(act, pause);
  };
}

function type(typing, key, unit, is_number, path, mark) {
  // A new reading takes the place of the old one.
  const begin = () => {
    if (typing.is_fresh) {
      typing.text = "";
    }
    typing.is_fresh = false;
  };
  if (key === "back") {
    typing.is_fresh = false;
    typing.text = / ?\d+\/\d+$/.test(typing.text) ? typing.text.replace(/ ?\d+\/\d+$/, "") : typing.text.slice(0, -1);
  } else if (key === "clear") {
    typing.is_fresh = false;
    typing.text = "";
  } else if (key.includes("/")) {
    begin();
    typing.text = `${typing.text.replace(/\s*\d+\/\d+$/, "")} ${key}`.trim();
  } else if (key === "half") {
    const now = sum(typing.text);
    typing.is_fresh = false;
    typing.text = now === null ? "" : String(Math.round((now / 2) * 10) / 10);
  } else if (key === "same") {
    const before = entries("piece").filter((p) => p.id !== mark && p.kind === entry("piece", mark)?.kind).at(-1);
    const found = before?.[path.split(".").pop()];
    typing.is_fresh = false;
    typing.text = found === undefined ? typing.text : String(found);
  } else {
    if (key !== "+") {
      begin();
    }
    typing.is_fresh = false;
    typing.text = (/\d\/\d+$/.test(typing.text) && key !== "+" ? "" : typing.text) + key;
  }
}

/** "430+25" on the tape is 455; `null` if a part is no reading. */
function sum(text) {
  const parts = text.split("+").map((part) => reading(part));
  return parts.some((part) => part === null) ? null : parts.reduce((a, b) => a + b, 0);
}

function pad(unit, is_number, press) {
  const key = (k, shown, extra) => h("button", { type: "button", class: `key ${extra ?? ""}`, "data-key": k, onclick: () => press(k), "aria-label": k === "back" ? "delete" : null }, shown ?? k);
  const fraction = (f) => {
    const [a, b] = f.split("/");
    return h("button", { type: "button", class: "key fr", "data-key": f, onclick: () => press(f) }, h("span", { class: "frac" }, h("b", {}, a), h("i", {}, "⁄"), h("u", {}, b)));
  };
  const wipe = key("back", icon("wipe"), "aux");
  if (is_number) {
    // Digits stand where they stand for lengths.
    const none = () => h("i", {});
    const is_inch = unit_of() === "in";
    const rest = (first) => (is_inch ? [none(), none()] : [first ?? none()]);
    return h("div", { class: is_inch ? "keys inch" : "keys mm" }, [["7", "8", "9"], ["4", "5", "6"], ["1", "2", "3"]].map((row) => [...row.map((k) => key(k)), ...rest()]),
      wipe, key("0"), is_inch ? [key("clear", "Clear", "aux"), none(), none()] : [none(), key("clear", "Clear", "aux")]);
  }
  if (unit !== "in") {
    return h("div", { class: "keys mm" }, ["7", "8", "9"].map((k) => key(k)), key("+", "+", "aux"), ["4", "5", "6"].map((k) => key(k)), key("half", "half", "aux"), ["1", "2", "3"].map((k) => key(k)), key("same", "same", "aux"), wipe, key("0"), key("."), key("clear", "Clear", "aux"));
  }
  const holder = h("div", { class: "keys inch" });
  const fill = () => {
    const f = sixteenths ? SIXTEENTHS : EIGHTHS;
    const other = h("button", { type: "button", class: "key aux", "data-key": "16ths", onclick: () => {
      sixteenths = !sixteenths;
      fill();
    } }, sixteenths ? "8ths" : "16ths");
    holder.replaceChildren(key("7"), key("8"), key("9"), fraction(f[0]), fraction(f[1]), key("4"), key("5"), key("6"), fraction(f[2]), fraction(f[3]), key("1"), key("2"), key("3"), fraction(f[4]), fraction(f[5]), wipe, key("0"), sixteenths ? fraction(f[7]) : key("clear", "Clear", "aux"), fraction(f[6]), other);
  };
  fill();
  return holder;
}

let listening = null;
function keyboard(press, done, out) {
  document.removeEventListener("keydown", listening);
  listening = (event) => {
    if (!document.querySelector(".measure .keys") || event.ctrlKey || event.metaKey || event.altKey) {
      return;
    }
    if (/^[0-9.+]$/.test(event.key)) {
      press(event.key);
    } else if (event.key === "Backspace") {
      press("back");
    } else if (event.key === "Enter" && !event.target.closest?.("button:not(.next)")) {
      event.preventDefault();
      done();
    } else if (event.key === "Escape") {
      out();
    }
  };
  document.addEventListener("keydown", listening);
}

/** Keeps what was typed; whether it could be. */
async function keep(path, typing, here) {
  let text = typing.text.trim();
  if (text.includes("+")) {
    const all = sum(text);
    text = all === null ? text : String(Math.round(all * 100) / 100);
  }
  if (here.index !== undefined) {
    const list = Array.isArray(value(here.path)) ? [...value(here.path)] : [];
    if (text === "" && here.index >= list.length) {
      return;
    }
    list[here.index] = text;
    const filled = [...list].map((one) => one ?? "");
    while (filled.at(-1) === "") {
      filled.pop();
    }
    await set(here.path, filled.every((one) => one === "") ? null : filled);
    return;
  }
  if (here.row !== undefined && here.row !== null) {
    const list = `${path.split(`.${here.table}.`)[0]}.${here.table}`;
    const all = structuredClone(value(list) ?? []);
    all[here.row] = { ...(all[here.row] ?? {}), [here.name]: typed(here.sort, text) };
    if (here.table === "across") {
      const corners = Math.max(4, value(`${list.replace(/\.across$/, "")}.sides`)?.length ?? 4);
      const ways = diagonals(corners);
      const [from, to] = ways[here.row % ways.length];
      all[here.row] = { from, to, ...all[here.row] };
    }
    await set(list, all);
    return;
  }
  const sort = here.count ? "count" : here.sort;
  await set(path, here.count && text === "1" ? null : typed(sort, text));
}

/** Why a reading cannot be one; empty if it can. */
function not_a_reading(text, here) {
  if (text === "" || here.sort === "text" || here.sort === "degrees") {
    return "";
  }
  if (here.count || here.sort === "count") {
    return /^[1-9]\d{0,3}$/.test(text) ? "" : "A whole number, 1 or more.";
  }
  const all = sum(text.replace(/^[-−]/, ""));
  const may_be_zero = here.sort === "zero" || here.sort === "signed";
  return all === null ? "This is no length: check the digits." : all === 0 && !may_be_zero ? "A length of nothing: measure it." : "";
}

/** One measure back; what was typed is kept if it is a reading. */
async function before(mark, all, at, single, path, typing, here) {
  if (path && !not_a_reading(typing.text.trim(), here)) {
    await keep(path, typing, here);
  }
  const now = turns(mark);
  show(mark, now, single ? now.findIndex((one) => one.usual) : Math.min(at, now.length) - 1, null);
}

async function leave(mark, all, at, single, path, typing, here) {
  const wrong = path ? not_a_reading(typing.text.trim(), here) : "";
  if (wrong) {
    document.querySelector(".asked .says")?.replaceChildren(h("span", { class: "say bad" }, icon("fault", true), wrong));
    speak(wrong);
    return;
  }
  if (path) {
    await keep(path, typing, here);
  }
  if (single) {
    show(mark, turns(mark), all.findIndex((one) => one.usual), null);
    return;
  }
  // What was said may ask for more than before.
  const now = turns(mark);
  const same = now.findIndex((one) => one.path === here.path && one.index === here.index && one.key === here.key && one.count === here.count && Boolean(one.usual) === Boolean(here.usual));
  const next = (same < 0 ? at : same) + 1;
  if (here.count || next >= now.length) {
    finish(mark);
  } else {
    show(mark, now, next, null);
  }
}

async function one_more(mark, all, at, path, typing, here) {
  await keep(path, typing, here);
  const base = `piece.@${mark}.${here.table ?? here.name}`;
  const table = measured(entry("piece", mark)).find((k) => k.name === (here.table ?? here.name));
  const more = here.index === undefined ? row_steps(table, base, here.row + 1).map((one) => ({ ...one, must: true })) : [list_step(table, base, here.index + 1, true)];
  show(mark, [...all.slice(0, at + 1), ...more, ...all.slice(at + 1)], at + 1, null);
}

function finish(mark) {
  // Told by what stands here: the workroom may not have heard of it yet. Of a list its first one tells.
  const is_open = (p) => steps(p.id).some((one) => one.must && !one.row && !one.index && blank(one.index === undefined ? one.path : `${one.path}.0`));
  const rest = entries("piece").filter((p) => p.id !== mark && !p.mirror_of && is_open(p));
  const next = rest[0];
  if (!next) {
    go("pieces", mark);
    return;
  }
  const piece = entry("piece", mark);
  screen({ step: "pieces", class: "measured", back: () => go("pieces", mark), title: piece.name },
    h("div", { class: "pad stack" }, h("h2", { tabindex: "-1" }, `${piece.name} is measured.`),
      h("button", { type: "button", class: "b strong wide", onclick: () => go("measure", next.id) }, `Next piece: ${next.name}`, icon("next", true)),
      h("button", { type: "button", class: "b wide", onclick: () => go("pieces", mark) }, "Back to the pieces")));
}
