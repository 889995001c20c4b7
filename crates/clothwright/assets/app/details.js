// Who the job is for, where it goes, when; what it is measured in; its rates.

import { h } from "./draw.js";
import { choice, field, segment } from "./fields.js";
import { photos } from "./photos.js";
import { progress, screen } from "./shell.js";
import { local, order, read } from "./keep.js";
import { model, set } from "./model.js";

async function known_customers(list, input) {
  const all = (await read("/customers/known")) ?? (await local.get("misc", "customers")) ?? [];
  await local.put("misc", all, "customers");
  list.replaceChildren(...all.map((c) => h("option", { value: c.name })));
  // A known name brings its telephone and address.
  input.addEventListener("change", async () => {
    const found = all.find((c) => c.name === input.value);
    if (found) {
      await set("customer.contact", found.contact);
      await set("customer.address", found.address);
    }
  });
}

export function details() {
  const list = h("datalist", { id: "known" });
  const name = field("customer.name", "Customer", { list: "known" });
  screen({ step: "details", class: "form" },
    h("section", { class: "sheet pad stack" }, h("h2", { tabindex: "-1" }, "Customer"), list,
      h("div", { class: "fields" }, name, field("customer.contact", "Phone or email"), field("customer.address", "Address"))),
    h("section", { class: "sheet pad stack" }, h("h2", {}, "Job"),
      h("div", { class: "fields" }, field("job.name", "Name of the job"), field("job.number", "Job number"),
        choice("job.place", "Where it goes", [["", "—"], ...model.places]), field("job.country", "Country, two letters"),
        field("job.date", "Quote date", { kind: "date" }), field("job.due", "Due", { kind: "date" }), field("job.valid_days", "Quote holds, days", { sort: "count" }),
        segment("job.unit", "Measure in", [["in", "inches"], ["mm", "mm"], ["cm", "cm"]])),
      h("p", { class: "quiet small" }, "How far the job is"), progress()),
    h("section", { class: "sheet pad stack" }, h("h2", {}, "Photographs"), photos("")),
    h("section", { class: "sheet pad stack" }, h("h2", {}, "Rates and terms of this job"), h("p", { class: "quiet small" }, "They start from the shop's settings."),
      h("div", { class: "fields" }, RATES.map(([path, words, sort, usual]) => field(path, words, { sort, usual })))), whole_job());
  known_customers(list, name.querySelector("input"));
}

/** The whole job copied, put away, or deleted for good; in the workroom only. */
function whole_job() {
  const typed = h("input", { autocomplete: "off", "aria-label": "name of the job, to delete it" });
  const act = async (path, to, body) => {
    if (await order(`/job/${model.id}/${path}`, body)) {
      location.href = to;
    }
  };
  return h("section", { class: "sheet pad stack" }, h("h2", {}, "The whole job"),
    h("div", { class: "row gap2 wrap" }, h("button", { type: "button", class: "b small", onclick: () => act("duplicate", "/") }, "Duplicate"), h("button", { type: "button", class: "b small", onclick: () => act("archive", "/") }, "Put into the archive")),
    h("details", { class: "fold" }, h("summary", {}, "Delete for good"), h("p", { class: "small" }, "With its history and photographs. Only a backup made before still has it. Type the job's name:"),
      h("div", { class: "row gap2 wrap" }, h("span", { class: "in grow" }, typed), h("button", { type: "button", class: "b small", onclick: () => {
        const form = new URLSearchParams({ name: typed.value });
        act("delete", "/", form);
      } }, "Delete"))));
}

export const RATES = [
  ["rates.hour", "Labour, an hour", "number", ""], ["rates.cloth_markup", "Markup on cloth, %", "number", ""], ["rates.foam_markup", "Markup on foam, %", "number", ""],
  ["rates.board_markup", "Markup on board, %", "number", ""], ["rates.sundries_percent", "Consumables, % of materials", "number", ""], ["rates.overhead_percent", "Overhead, % of labour", "number", ""],
  ["rates.minimum", "Minimum charge", "number", ""], ["tax.name", "Name of the tax", "text", "e.g. VAT"], ["tax.rate", "Tax, %", "number", ""], ["deposit.percent", "Deposit, %", "number", ""], ["job.currency", "Currency", "text", "USD"],
  ["shop.terms", "Terms at the foot of the quote", "text", ""],
];
