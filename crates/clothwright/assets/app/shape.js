// Corners, sides and openings, tapped on the picture; a drawer asks only what that one needs.

import { h, icon, s } from "./draw.js";
import { choice, field, segment } from "./fields.js";
import { bows, course, outline, radii, size } from "./flat.js";
import { kind_of } from "./kinds.js";
import { entry, faults, on_change, set, value } from "./model.js";
import { sentence } from "./fields.js";
import { go, screen } from "./shell.js";

const WIDE = 360;
const HIGH = 250;
const EDGE = 46;

let chosen = null;

/** The shape of a panel or a cushion, to be tapped. */
export function shape(mark) {
  const piece = entry("piece", mark);
  if (!piece) {
    go("pieces");
    return;
  }
  chosen = null;
  const drawing = h("div", { class: "fig shape" });
  const drawer = h("div", { class: "drawer", "aria-live": "polite" });
  const choose = (what, at) => {
    chosen = what && { what, at };
    draw(mark, drawing, choose);
    fill(mark, drawer, choose);
  };
  screen({ step: "pieces", class: "shaping", back: () => go("pieces", mark), title: piece.name, bare: true },
    drawing, drawer, h("div", { class: "nextrow" }, h("button", { type: "button", class: "b strong wide next", onclick: () => (chosen ? choose(null) : go("pieces", mark)) }, "Done")));
  on_change(() => draw(mark, drawing, choose));
  fill(mark, drawer, choose);
}

function view(points) {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [left, low, w, h2] = [Math.min(...xs), Math.min(...ys), Math.max(...xs) - Math.min(...xs) || 1, Math.max(...ys) - Math.min(...ys) || 1];
  const scale = Math.min((WIDE - 2 * EDGE) / w, (HIGH - 2 * EDGE) / h2);
  const [x0, y0] = [(WIDE - w * scale) / 2, (HIGH - h2 * scale) / 2];
  return {
    scale, left, low,
    at: (p) => [x0 + (p[0] - left) * scale, HIGH - y0 - (p[1] - low) * scale],
    from: (x, y) => [left + (x - x0) / scale, low + (HIGH - y0 - y) / scale],
  };
}

const keys_of = (mark) => new Set((kind_of(entry("piece", mark))?.keys ?? []).map((k) => k.name));

function draw(mark, holder, choose) {
  const piece = value(`piece.@${mark}`);
  if (!piece) {
    return;
  }
  const line = outline(piece);
  const { at, from, scale } = view(line.points);
  const round = radii(piece, line.points.length);
  const is_on = (what, i) => chosen?.what === what && chosen.at === i;
  const svg = s("svg", { class: "flat", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "group", "aria-label": `${piece.name}, face up` });
  const face = s("path", { class: "face", d: course(line.points, round, at, bows(piece)) });
  face.addEventListener("click", (event) => {
    if (keys_of(mark).has("cut_out")) {
      open_at(mark, from(...spot(svg, event)), choose);
    }
  });
  svg.append(face);
  const button = (node, name, act) => {
    node.setAttribute("tabindex", "0");
    node.setAttribute("role", "button");
    node.setAttribute("aria-label", name);
    node.addEventListener("click", act);
    node.addEventListener("keydown", (event) => {
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        act();
      }
    });
    return node;
  };
  if (keys_of(mark).has("side")) {
    line.sides.forEach((name, i) => {
      const [a, b] = [at(line.points[i]), at(line.points[(i + 1) % line.points.length])];
      const side = piece.side?.[name];
      const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const d = `M${a[0] * 0.75 + b[0] * 0.25} ${a[1] * 0.75 + b[1] * 0.25}L${a[0] * 0.25 + b[0] * 0.75} ${a[1] * 0.25 + b[1] * 0.75}`;
      svg.append(button(s("g", { class: is_on("side", name) ? "edge on" : "edge", "data-side": name }, s("path", { class: "reach", d }), s("path", { class: "mark", d }),
        side?.edge && side.edge !== "stapled" ? s("text", { x, y: y + (i === 2 ? -8 : 16) }, side.edge) : ""), `${name} edge, ${side?.edge ?? "stapled"}`, () => choose("side", name)));
    });
  }
  (piece.notch ?? []).forEach((n, i) => {
    const p = notch_place(line, n);
    if (p) {
      const [x, y] = at(p);
      svg.append(button(s("g", { class: is_on("notch", i) ? "open on" : "open", "data-notch": i }, s("rect", { x: x - 9, y: y - 9, width: 18, height: 18 }), s("text", { x, y: y + 28 }, "notch")), `notch ${i + 1}`, () => choose("notch", i)));
    }
  });
  (piece.cut_out ?? []).forEach((c, i) => {
    const [x, y] = at([size(c.x), size(c.y)]);
    const [w, h2] = [Math.max(14, size(c.diameter ?? c.width) * scale), Math.max(14, size(c.diameter ?? c.height) * scale)];
    const form = c.diameter !== undefined ? s("ellipse", { cx: x, cy: y, rx: w / 2, ry: h2 / 2 }) : s("rect", { x: x - w / 2, y: y - h2 / 2, width: w, height: h2 });
    const node = button(s("g", { class: is_on("cut_out", i) ? "open on" : "open", "data-opening": i }, form, s("text", { x, y: y + h2 / 2 + 16 }, c.what ?? "opening")), `${c.what ?? "opening"}, ${c.x ?? "?"} from the left, ${c.y ?? "?"} from the bottom`, () => choose("cut_out", i));
    drag(node, svg, mark, i, from);
    svg.append(node);
  });
  if (line.corners.length > 0 && (keys_of(mark).has("radii") || keys_of(mark).has("radius"))) {
    line.corners.forEach((name, i) => {
      const [x, y] = at(line.points[i]);
      const out = [x < WIDE / 2 ? -24 : 24, y < HIGH / 2 ? -14 : 24];
      svg.append(button(s("g", { class: is_on("corner", i) ? "corner on" : "corner", "data-corner": name }, s("circle", { class: "reach", cx: x, cy: y, r: 22 }), s("circle", { cx: x, cy: y, r: 9 }), s("text", { x: x + out[0], y: y + out[1] }, round[i] > 0 ? `r ${round[i]}` : "")), `${name} corner, ${round[i] > 0 ? `round, r ${round[i]}` : "square"}`, () => choose("corner", i)));
    });
  }
  holder.replaceChildren(svg);
}

function spot(svg, event) {
  const box = svg.getBoundingClientRect();
  const scale = Math.max(WIDE / box.width, HIGH / box.height);
  return [(event.clientX - box.left - (box.width - WIDE / scale) / 2) * scale, (event.clientY - box.top - (box.height - HIGH / scale) / 2) * scale];
}

const whole = (n) => String(Math.max(0, Math.round(n * ((value("job.unit") || "in") === "mm" ? 1 : 4)) / ((value("job.unit") || "in") === "mm" ? 1 : 4)));

/** As the tape says it: quarters of an inch as fractions. */
function tape_words(n) {
  const text = whole(n);
  const [a, b] = text.split(".");
  const part = { 25: "1/4", 5: "1/2", 75: "3/4" }[b];
  return part ? (a === "0" ? part : `${a} ${part}`) : a;
}

async function open_at(mark, [x, y], choose) {
  const path = `piece.@${mark}.cut_out`;
  const all = value(path) ?? [];
  await set(path, [...all, { what: "the vent", x: tape_words(x), y: tape_words(y) }]);
  choose("cut_out", all.length);
}

function drag(node, svg, mark, i, from) {
  node.addEventListener("pointerdown", (event) => {
    const start = spot(svg, event);
    let moved = null;
    node.setPointerCapture(event.pointerId);
    const move = (e) => {
      const now = spot(svg, e);
      if (moved || Math.hypot(now[0] - start[0], now[1] - start[1]) > 5) {
        moved = now;
        node.setAttribute("transform", `translate(${now[0] - start[0]} ${now[1] - start[1]})`);
      }
    };
    const end = async () => {
      node.removeEventListener("pointermove", move);
      if (moved) {
        const [x, y] = from(...moved);
        const path = `piece.@${mark}.cut_out.${i}`;
        await set(`${path}.x`, tape_words(x));
        await set(`${path}.y`, tape_words(y));
      }
    };
    node.addEventListener("pointermove", move);
    node.addEventListener("pointerup", end, { once: true });
    node.addEventListener("pointercancel", end, { once: true });
  });
}

function notch_place(line, n) {
  const i = line.sides.indexOf(String(n.side ?? "bottom"));
  if (i < 0) {
    return null;
  }
  const [a, b] = [line.points[i], line.points[(i + 1) % line.points.length]];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const t = Math.min(1, (size(n.from) + size(n.width) / 2) / long);
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

function fill(mark, drawer, choose) {
  const path = `piece.@${mark}`;
  const piece = value(path);
  const unit = value("job.unit") || "in";
  const keys = keys_of(mark);
  if (!chosen) {
    drawer.replaceChildren(h("h2", { tabindex: "-1" }, "Tap a corner, a side, or the face"),
      h("p", { class: "quiet" }, keys.has("cut_out") ? "Corners: square, round. Sides: stapled, lip, joined. On the face: an opening where you tap it." : "Corners: square or round."),
      keys.has("notch") ? h("button", { type: "button", class: "b small", id: "add-notch", onclick: async () => {
        const all = value(`${path}.notch`) ?? [];
        await set(`${path}.notch`, [...all, { side: outline(piece).sides[2] ?? "1", from: "0" }]);
        choose("notch", all.length);
      } }, icon("add", true), "Notch in a side") : "", h("ul", {}, faults(path).filter((f) => f.code !== "missing").map((f) => h("li", { class: "say bad" }, icon("fault", true), sentence(f)))));
    return;
  }
  const remove = (list) => h("button", { type: "button", class: "b small", onclick: async () => {
    await set(`${path}.${list}`, (value(`${path}.${list}`) ?? []).filter((_, i) => i !== chosen.at));
    choose(null);
  } }, icon("remove", true), "Remove");
  if (chosen.what === "corner") {
    drawer.replaceChildren(...corner_part(mark, piece, unit, choose));
  } else if (chosen.what === "side") {
    const at = `${path}.side.${chosen.at}`;
    drawer.replaceChildren(h("h2", { tabindex: "-1" }, `${name_of(chosen.at)} edge`),
      segment(`${at}.edge`, "This edge is", [["stapled", "Stapled"], ["lip", "Lip"], ["joined", "Joined"], ["tucked", "Tucked"], ["sewn", "Sewn"], ["open", "Open"]]),
      h("div", { class: "fields" }, field(`${at}.by`, "Lip or tuck, so wide", { unit }), field(`${at}.turn_under`, "Turned under, if another", { unit }), choice(`${at}.foam_edge`, "Foam here", [["", "As usual"], ["square", "Square"], ["bevelled", "Bevelled"], ["pulled down", "Pulled down"]])));
  } else if (chosen.what === "notch") {
    const at = `${path}.notch.${chosen.at}`;
    drawer.replaceChildren(h("h2", { tabindex: "-1" }, "Notch"), h("div", { class: "fields" }, choice(`${at}.side`, "In which side", outline(piece).sides.map((n) => [n, name_of(n)])), field(`${at}.from`, "Starts, along that side", { unit, usual: "0", hint: "bottom: from the left; right: from below; top: from the right; left: from above" }), field(`${at}.width`, "Width", { unit }), field(`${at}.depth`, "Depth", { unit })), remove("notch"));
  } else {
    const at = `${path}.cut_out.${chosen.at}`;
    drawer.replaceChildren(h("h2", { tabindex: "-1" }, "Opening"), h("div", { class: "fields" }, field(`${at}.what`, "Opening for"), field(`${at}.x`, "Centre from the left", { unit }), field(`${at}.y`, "Centre from the bottom", { unit }), field(`${at}.width`, "Width", { unit }), field(`${at}.height`, "Height", { unit }), field(`${at}.diameter`, "or, if round, across", { unit }), field(`${at}.radius`, "Its corners, radius", { unit }), field(`${at}.flange`, "Flange that covers the edge", { unit })), remove("cut_out"));
  }
  drawer.querySelector("h2")?.focus({ preventScroll: true });
}

const name_of = (side) => (/^\d+$/.test(side) ? `Side ${side}` : side.charAt(0).toUpperCase() + side.slice(1));

function corner_part(mark, piece, unit, choose) {
  const line = outline(piece);
  const count = line.points.length;
  const each = piece.shape === "corners" || (["rectangle", undefined, ""].includes(piece.shape) && keys_of(mark).has("radii"));
  const i = chosen.at;
  const texts = () => {
    const now = value(`piece.@${mark}`);
    if (now.shape === "corners") {
      return now.corner.map((c) => String(c.radius ?? "0"));
    }
    return Array.isArray(now.radii) ? [...now.radii] : Array(count).fill(String(now.radius ?? "0"));
  };
  const apply = async (text, which) => {
    const all = texts().map((old, n) => (which(n) ? text || "0" : old));
    const path = `piece.@${mark}`;
    if (piece.shape === "corners") {
      await set(`${path}.corner`, value(`${path}.corner`).map((c, n) => ({ ...c, radius: all[n] === "0" ? undefined : all[n] })));
    } else if (!each || all.every((one) => one === all[0])) {
      await set(`${path}.radii`, null);
      await set(`${path}.radius`, all[i] === "0" ? null : all[i]);
    } else {
      await set(`${path}.radius`, null);
      await set(`${path}.radii`, all);
    }
    choose("corner", i);
  };
  const input = h("input", { inputmode: "decimal", autocomplete: "off", value: texts()[i] === "0" ? "" : texts()[i], "aria-label": "radius", id: "corner-radius" });
  input.addEventListener("change", () => apply(input.value.trim(), each ? (n) => n === i : () => true));
  const usual = unit === "in" ? ["1/2", "1", "1 1/2", "2"] : unit === "cm" ? ["2", "4", "5", "7.5"] : ["20", "40", "50", "75"];
  const same = (words, which) => h("button", { type: "button", class: "b small", onclick: () => apply(input.value.trim(), which) }, words);
  const square = h("button", { type: "button", class: "b small", onclick: () => apply("0", each ? (n) => n === i : () => true) }, "Square");
  return [
    h("h2", { tabindex: "-1" }, `${name_of(line.corners[i])} corner`),
    h("div", { class: "f" }, h("span", { class: "lab" }, "Radius, with a coin or a tin"), h("span", { class: "in" }, input, h("span", { class: "u" }, unit))),
    h("div", { class: "row gap2 wrap" }, square, usual.map((r) => h("button", { type: "button", class: "b small", "data-radius": r, onclick: () => apply(r, each ? (n) => n === i : () => true) }, r))),
    each && count === 4 ? h("div", { class: "row gap2 wrap" }, h("span", { class: "quiet small" }, "Same for"), same(i > 1 ? "both top" : "both bottom", (n) => (i > 1 ? n > 1 : n < 2)), same("all four", () => true)) : each ? h("div", { class: "row gap2" }, same("Same for all", () => true)) : h("p", { class: "quiet small" }, "All corners of this shape are alike."),
  ];
}
