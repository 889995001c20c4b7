// The materials of a job: rows that open in place.

import { h, icon } from "./draw.js";
import { choice, field, flag, rows } from "./fields.js";
import { add, entries, entry, forget_listeners, free_name, model, move, on_change, value } from "./model.js";
import { advanced } from "./pieces.js";
import { go, screen } from "./shell.js";

const TITLES = { cloth: "Cloth", foam: "Foam", board: "Board", sundry: "Sundries" };

function used(list, name) {
  const has = (inner) => Object.entries(inner).some(([key, now]) => (key === list || (list === "cloth" && key.endsWith("_cloth"))) && now === name || (now && typeof now === "object" && has(now)));
  const n = entries("piece").filter(has).length;
  return n === 0 ? "not used yet" : `used by ${n} ${n === 1 ? "piece" : "pieces"}`;
}

function about(list, e) {
  const unit = value("job.unit") || "in";
  const money = value("job.currency") ?? "USD";
  if (list === "sundry") {
    return [e.for, e.pack && `${e.pack} in a pack`, e.price !== undefined && `${money} ${e.price}`].filter(Boolean).join(" · ");
  }
  if (list === "cloth") {
    return [e.width ? `${e.width} ${unit} wide` : "width still needed", e.repeat?.length && `repeat ${e.repeat.length}${e.repeat.width ? ` × ${e.repeat.width}` : ""}`, e.direction, e.customers_own ? "customer's own" : e.price ? `${money} ${e.price}` : "price still needed", used(list, e.name)].filter(Boolean).join(" · ");
  }
  const sheet = e.sheet?.[0];
  return [e.thickness ? `${e.thickness} ${unit} thick` : "thickness still needed", sheet?.length && `${sheet.length} × ${sheet.width}`, sheet?.price && `${money} ${sheet.price}`, used(list, e.name)].filter(Boolean).join(" · ");
}

export function materials(open) {
  const part = (list) => {
    const ul = h("ul", { class: "list" });
    let last = null;
    on_change(() => {
      const all = entries(list);
      const shape = all.map((e) => e.id).join();
      if (shape !== last) {
        last = shape;
        ul.replaceChildren(...all.map((e) => h("li", { class: e.id === open ? "piece open" : "piece" },
          h("button", { type: "button", class: "line material", "aria-expanded": String(e.id === open), "data-material": e.id, onclick: () => go("materials", e.id === open ? null : e.id) },
            h("span", { class: `swatch ${list}`, "aria-hidden": "true" }), h("span", { class: "grow" }, h("span", { class: "nm" }), h("span", { class: "meas" }))),
          e.id === open && edit(list, e.id))));
      }
      all.forEach((e) => {
        const line = ul.querySelector(`[data-material="${e.id}"]`);
        line.querySelector(".nm").textContent = e.name;
        line.querySelector(".meas").textContent = about(list, e);
      });
    });
    return h("section", { class: "stack" }, h("div", { class: "row between headrow" }, h("h2", {}, TITLES[list]), h("button", { type: "button", class: "b small", id: `add-${list}`, onclick: () => make(list) }, icon("add", true), list === "sundry" ? "Add a sundry" : `Add ${TITLES[list].toLowerCase()}`)), ul);
  };
  screen({ step: "materials", class: "form" }, ["cloth", "foam", "board", "sundry"].map(part));
}

async function make(list) {
  const values = list === "sundry" ? { name: free_name(list, "Staples"), for: "staples" } : { name: free_name(list, TITLES[list]) };
  if (list === "foam" || list === "board") {
    values.sheet = [{ price: 0 }];
  }
  const mark = await add(list, values);
  forget_listeners();
  go("materials", mark);
}

function edit(list, mark) {
  const at = (key) => `${list}.@${mark}.${key}`;
  const unit = value("job.unit") || "in";
  const act = (what, words, name) => h("button", { type: "button", class: "b small", onclick: async () => {
    const fresh = await move(list, mark, what);
    go("materials", what === "copy" ? fresh : what === "remove" ? null : mark);
  } }, icon(name, true), words);
  const tools = h("div", { class: "row gap2 wrap tools" }, act("copy", "Duplicate", "copy"), act("up", "Move up", "up"), act("remove", "Remove", "remove"));
  if (list === "sundry") {
    return h("div", { class: "body" }, h("div", { class: "fields" }, field(at("name"), "Name"), choice(at("for"), "For", model.uses), field(at("supplier"), "Supplier"),
      field(at("pack"), "In a pack", { sort: "number", hint: "a count; for cord, zip and thread a length; for adhesive, wrap and dust cover an area as 4 m2" }), field(at("price"), "Price of a pack", { sort: "number" }),
      field(at("size"), "Size, of forms and inner cushions", { sort: "list", hint: "two measures with a comma" })), tools, advanced(list, mark));
  }
  if (list !== "cloth") {
    return h("div", { class: "body" }, h("div", { class: "fields" }, field(at("name"), "Name"), field(at("supplier"), "Supplier"), field(at("thickness"), "Thickness", { unit }),
      list === "foam" && field(at("density"), "Density", { hint: "as 1.8 lb/ft3 or 35 kg/m3" }), list === "foam" && field(at("firmness"), "Firmness"), list === "board" && flag(at("grain"), "Longer side along the grain", false)),
    h("h3", {}, "Sheets it is sold in"),
    rows(at("sheet"), "Sheet", [(i) => field(at(`sheet.${i}.length`), "Long side", { unit }), (i) => field(at(`sheet.${i}.width`), "Short side", { unit }), (i) => field(at(`sheet.${i}.price`), "Price of a sheet", { sort: "number" }), (i) => field(at(`sheet.${i}.on_hand`), "In stock, if an offcut", { sort: "count" })], { one: "Another sheet size", start: { price: 0 } }),
    tools, advanced(list, mark));
  }
  return h("div", { class: "body" },
    h("div", { class: "fields" }, field(at("name"), "Name"), field(at("supplier"), "Supplier"), field(at("width"), "Width, selvedge to selvedge", { unit }), field(at("selvedge"), "Selvedge each side, not usable", { unit, usual: "0" }),
      choice(at("sort"), "Kind of cloth", [["", "—"], ...model.sorts]),
      field(at("price"), "Price", { sort: "number" }), choice(at("per"), "Price per", [["", unit === "in" ? "yard" : "metre"], ["yd", "yard"], ["m", "metre"]]),
      choice(at("direction"), "Runs", [["", "Up the roll"], ["railroaded", "Railroaded"], ["either", "Try both"]]), flag(at("one_way"), "Nap or one-way print (a pattern has, unless you say not)", () => entry(list, mark)?.sort === "velvet" || Boolean(entry(list, mark)?.repeat?.length || entry(list, mark)?.repeat?.width)), flag(at("customers_own"), "Customer's own", false)),
    h("fieldset", { class: "group" }, h("legend", {}, "Pattern"), h("div", { class: "fields" },
      field(at("repeat.length"), "Repeat along the roll", { unit }), field(at("repeat.width"), "Repeat across", { unit }), choice(at("repeat.drop"), "Next column", [["", "Beside: straight"], ["half", "Half a repeat higher: half-drop"]]),
      field(at("repeat.first_across"), "First motif, from the left selvedge", { unit, hint: "once the cloth is here" }), field(at("repeat.first_along"), "First motif, from the cut end", { unit }))),
    h("fieldset", { class: "group" }, h("legend", {}, "Lengths in stock"),
      rows(at("on_hand"), "Length", [(i) => field(at(`on_hand.${i}.id`), "Mark on it"), (i) => field(at(`on_hand.${i}.length`), "Length", { unit }), (i) => field(at(`on_hand.${i}.width`), "Width, if another", { unit })], { one: "Add a length", start: { id: "R1" } })),
    tools, advanced(list, mark));
}
