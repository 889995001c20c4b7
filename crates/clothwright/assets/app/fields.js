// Fields of the page: each keeps itself, and says at its own place what is missing, wrong or waiting.

import { h, icon, later } from "./draw.js";
import { choose, faults, on_change, set, state, value } from "./model.js";

const BLANK = ["missing"];

/** What stands below a field: still needed, wrong, waiting, or another device's value. */
export function says(path, holder, input, touched) {
  const one = state(path);
  const found = faults(path).filter((f) => f.path === path);
  const wrong = found.filter((f) => !BLANK.includes(f.code));
  const blank = found.length > wrong.length;
  // What is drawn already stays: a button under a finger may not be drawn anew.
  const now = JSON.stringify([one?.seq, one?.answer, one?.change.value, found, touched]);
  if (holder.dataset.now === now) {
    return;
  }
  holder.dataset.now = now;
  holder.replaceChildren();
  let is_bad = false;
  if (one?.answer?.state === "differs") {
    is_bad = true;
    const theirs = one.answer.theirs ?? "";
    holder.append(
      h("span", { class: "say bad" }, icon("fault", true), `Another device (${one.answer.who}) changed this at ${one.answer.at.slice(11, 16)}.`),
      h("span", { class: "row gap2" },
        h("button", { type: "button", class: "b small", onclick: () => choose(one, false) }, `Keep theirs: ${shown(theirs) || "empty"}`),
        h("button", { type: "button", class: "b small", onclick: () => choose(one, true) }, `Keep mine: ${shown(one.change.value) || "empty"}`)),
    );
  } else if (one?.answer) {
    is_bad = true;
    holder.append(h("span", { class: "say bad" }, icon("fault", true), one.answer.why));
  } else if (wrong.length > 0) {
    is_bad = true;
    for (const f of wrong) {
      holder.append(h("span", { class: "say bad" }, icon("fault", true), sentence(f)));
    }
  } else if (one) {
    holder.append(h("span", { class: "say wait" }, icon("clock", true), "Kept here, goes when the workroom can be reached"));
  } else if (blank) {
    holder.append(h("span", { class: touched ? "say bad" : "say" }, "still needed"));
  }
  input.setAttribute("aria-invalid", String(is_bad));
  input.classList.toggle("bad", is_bad);
  input.classList.toggle("wait", Boolean(one && !one.answer));
}

export function sentence(fault) {
  const join = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  return `${join(fault.what)}${fault.remedy ? `: ${fault.remedy}` : ""}.`;
}

function shown(v) {
  return typeof v === "object" && v !== null ? "…" : String(v ?? "");
}

function as_text(v) {
  return Array.isArray(v) ? v.join(", ") : v === undefined || v === null ? "" : String(v);
}

/** What was typed, as its sort of value. */
export function typed(sort, text) {
  const clean = text.trim().replace(/\s+/g, " ");
  if (sort === "number" || sort === "count" || sort === "degrees") {
    return clean !== "" && /^-?\d+(\.\d+)?$/.test(clean) ? Number(clean) : clean;
  }
  if (sort === "lengths" || sort === "list") {
    return clean === "" ? "" : clean.split(/[,;]/).map((part) => part.trim()).filter(Boolean);
  }
  return clean;
}

let next_id = 0;

function framed(words, letter, input, unit, hint, path) {
  const id = `f${(next_id += 1)}`;
  input.id = id;
  input.dataset.path = path;
  const below = h("span", { id: `${id}-says`, class: "says" });
  input.setAttribute("aria-describedby", below.id);
  const label = h("label", { class: "lab", for: id }, letter && h("span", { class: "letter", "aria-hidden": "true" }, letter), words, hint && h("span", { class: "how" }, hint));
  return [h("div", { class: "f" }, label, h("span", { class: "in" }, input, unit && h("span", { class: "u" }, unit)), below), below];
}

/** A value that is typed. */
export function field(path, words, { sort = "text", letter, unit, hint, kind = "text", list, usual, many } = {}) {
  const is_number = ["number", "count", "degrees"].includes(sort);
  const input = h(many ? "textarea" : "input", { type: many ? null : kind, rows: many ? 3 : null, autocomplete: "off", inputmode: is_number ? "decimal" : null, placeholder: usual, list });
  let touched = false;
  const keep = later(() => set(path, typed(sort, input.value)), 200);
  input.addEventListener("input", keep);
  input.addEventListener("change", () => keep.now());
  input.addEventListener("blur", () => {
    keep.now();
    touched = input.value.trim() === "";
    says(path, below, input, touched);
  });
  const [frame, below] = framed(words, letter, input, unit, hint, path);
  on_change(() => {
    if (document.activeElement !== input) {
      input.value = as_text(value(path));
    }
    says(path, below, input, touched);
  });
  return frame;
}

/** One of some words: `[value, shown]`. */
export function choice(path, words, options, { letter, after } = {}) {
  const select = h("select", {}, options.map(([v, shown]) => h("option", { value: v }, shown)));
  const [frame, below] = framed(words, letter, select, null, null, path);
  select.addEventListener("change", async () => {
    await set(path, select.value);
    after?.();
  });
  on_change(() => {
    const now = String(value(path) ?? "");
    const known = options.find(([v]) => v === now);
    if (!known && now && ![...select.options].some((o) => o.value === now)) {
      select.append(h("option", { value: now }, now));
    }
    select.value = now === "" && !options.some(([v]) => v === "") ? options[0][0] : now;
    says(path, below, select, false);
  });
  return frame;
}

/** Yes or no; what is usual need not be said. */
export function flag(path, words, usual) {
  const box = h("input", { type: "checkbox" });
  const below = h("span", { class: "says" });
  box.dataset.path = path;
  const is_usual = () => (typeof usual === "function" ? usual() : usual);
  box.addEventListener("change", () => set(path, box.checked === is_usual() ? null : box.checked));
  on_change(() => {
    const now = value(path);
    box.checked = now === undefined || now === null ? is_usual() : now === true || now === "true";
    says(path, below, box, false);
  });
  return h("div", { class: "f flag" }, h("label", {}, box, h("span", {}, words)), below);
}

/** A few words side by side, one of them chosen. */
export function segment(path, words, options, after) {
  const buttons = options.map(([v, shown]) => h("button", { type: "button", role: "radio", "data-value": v, onclick: async () => {
    await set(path, v);
    after?.();
  } }, shown));
  const group = h("div", { class: "seg", role: "radiogroup", "aria-label": words, "data-path": path }, buttons);
  group.addEventListener("keydown", (event) => {
    const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (by) {
      event.preventDefault();
      const at = buttons.indexOf(document.activeElement);
      const to = buttons[(at + by + buttons.length) % buttons.length];
      to.focus();
      to.click();
    }
  });
  on_change(() => {
    const now = String(value(path) ?? options[0][0]);
    for (const b of buttons) {
      const is_on = b.dataset.value === now;
      b.setAttribute("aria-checked", String(is_on));
      b.tabIndex = is_on ? 0 : -1;
    }
  });
  return h("div", { class: "f" }, h("span", { class: "lab" }, words), group);
}

/** Rows of the same fields, such as openings or lengths on hand. */
export function rows(path, words, fields, { one = "Add", start = {}, shown, asks, folded } = {}) {
  const holder = h("div", { class: "rows" });
  let drawn = null;
  on_change(() => {
    const all = value(path) ?? [];
    // A row is drawn again when it asks for other things.
    const form = JSON.stringify(all.map((row) => (asks ? row[asks] ?? "" : 1)));
    if (form === drawn) {
      return;
    }
    const was_open = [...holder.children].map((row) => row.open);
    const fresh = drawn === null ? 0 : JSON.parse(drawn).length;
    drawn = form;
    holder.replaceChildren(...all.map((_, i) => {
      const inner = [h("div", { class: "fields" }, fields.map((f) => f(i))),
        h("button", { type: "button", class: "b small", onclick: () => set(path, (value(path) ?? []).filter((_, n) => n !== i)) }, "Remove")];
      if (!folded) {
        return h("fieldset", { class: "group" }, h("legend", {}, shown ? shown(i) : `${words} ${i + 1}`), inner);
      }
      // A long list is read in lines; the one that is worked on is open.
      const line = h("summary", {});
      on_change(() => {
        line.textContent = `${i + 1}. ${folded((value(path) ?? [])[i] ?? {})}`;
      });
      const row = h("details", { class: "fold group" }, line, inner);
      row.open = was_open[i] || (drawn !== null && fresh > 0 && i >= fresh) || all.length === 1;
      return row;
    }));
  });
  const add = h("button", { type: "button", class: "b small", onclick: () => set(path, [...(value(path) ?? []), structuredClone(start)]) }, icon("add", true), one);
  return h("div", { class: "f" }, holder, add);
}
