// Photographs of a piece or of the whole job: kept here at once, sent when the workroom can be reached.

import { h, icon } from "./draw.js";
import { keep_photo, local, order } from "./keep.js";
import { model, on_change, refresh } from "./model.js";

function picker(mark, words, name) {
  const input = h("input", { type: "file", accept: "image/*", multiple: true, class: "vh", onchange: async () => {
    for (const file of input.files) {
      await keep_photo(model.key, mark, "", file);
    }
    input.value = "";
  } });
  return h("label", { class: name }, icon("camera", true), words ? words : h("span", { class: "vh" }, "photograph"), input);
}

/** The camera in the head of a screen. */
export const camera = (mark) => picker(mark, "", "b round");

/** Photographs at a piece, or of the whole job where the mark is empty. */
export function photos(mark) {
  const strip = h("div", { class: "photos" });
  let shown = null;
  on_change(async () => {
    const kept = (model.sheet?.photos ?? []).filter((p) => p.piece === mark);
    const away = (await local.all("photo")).filter((p) => p.job === model.key && p.piece === mark);
    const now = JSON.stringify([kept.map((p) => p.id), away.map((p) => p.name)]);
    if (now === shown) {
      return;
    }
    shown = now;
    strip.replaceChildren(
      ...kept.map((p) => h("figure", {}, h("a", { href: `/photo/${p.id}`, "aria-label": p.words || "photograph" }, h("img", { src: `/photo/${p.id}`, alt: p.words || "photograph", loading: "lazy" })),
        h("button", { type: "button", class: "b small", onclick: async () => {
          if (await order(`/photo/${p.id}/remove`)) {
            await refresh();
          }
        } }, icon("remove", true), "Delete"))),
      ...away.map((p) => h("figure", {}, h("img", { src: URL.createObjectURL(p.blob), alt: "photograph, waiting to be sent" }), h("span", { class: "say wait" }, icon("clock", true), "waiting"))));
  });
  return h("div", { class: "photo-part" }, strip, picker(mark, "Photo", "b small"));
}
