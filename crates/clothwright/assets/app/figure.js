// A piece's picture: every measure with its letter, lit while it is taken, filled in when it is done.

import { picture } from "./draw.js";
import { blank, measured } from "./kinds.js";
import { faults, model, value } from "./model.js";

function text_of(v) {
  if (Array.isArray(v)) {
    return v.length > 0 ? v.join(", ") : "";
  }
  return v === undefined || v === null || typeof v === "object" ? "" : String(v);
}

/** Drawn true once its measures can be read, as its kind usually looks until then. */
export function figure(mark, { lit, tap } = {}) {
  const piece = value(`piece.@${mark}`);
  if (!piece) {
    return picture("");
  }
  const is_whole = faults(`piece.@${mark}`).length === 0;
  const usual = blank(piece, lit)?.picture ?? "";
  let drawn = (is_whole && model.sheet?.pictures?.[mark]) || usual;
  // A true picture that leaves out the measure being taken gives way to the usual one.
  if (lit && !drawn.includes(`data-key="${lit}"`) && usual.includes(`data-key="${lit}"`)) {
    drawn = usual;
  }
  const holder = picture(drawn);
  const keys = measured(piece);
  for (const group of holder.querySelectorAll(".measure")) {
    const key = group.dataset.key;
    const now = text_of(value(`piece.@${mark}.${key}`) ?? (key.includes(".") ? undefined : piece[key]));
    const known = keys.find((k) => k.name === key);
    const letter = group.querySelector(".letter");
    if (known?.letter) {
      letter.textContent = known.letter;
    }
    group.classList.toggle("done", now !== "");
    group.classList.toggle("lit", key === lit);
    group.querySelector(".value").textContent = now.length > 12 ? "" : now;
    if (key === lit) {
      // What is lit lies over everything else.
      group.parentNode.append(group);
    }
    if (tap) {
      group.classList.add("tap");
      group.addEventListener("click", () => tap(key));
    }
  }
  return holder;
}

