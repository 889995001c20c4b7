// The outline of a board as its measures give it, flat as you face it: enough to point at its corners,
// sides and openings. Sizes are worked out in the workroom; this is only drawn.

import { reading } from "./draw.js";
import { value } from "./model.js";

const MM = { mm: 1, cm: 10, in: 25.4 };

/** A length in the unit of the job, as a number, whatever unit it is written in; nought if it cannot be read here. */
export function size(v) {
  const found = /^\s*(-?)(.*?)\s*(mm|cm|in)?\s*$/.exec(String(v ?? ""));
  const number = (reading(found?.[2] ?? "") ?? 0) * (found?.[1] ? -1 : 1);
  const own = MM[value("job.unit") || "in"] ?? 25.4;
  return found?.[3] ? (number * MM[found[3]]) / own : number;
}

const CORNERS = ["bottom left", "bottom right", "top right", "top left"];
const SIDES = ["bottom", "right", "top", "left"];

/** Corners counter-clockwise from the bottom left, y upwards, and the names of corners and sides. */
export function outline(piece) {
  const of = (key) => size(piece[key]);
  const shape = piece.shape ?? "rectangle";
  const named = (points, corners, sides) => ({ points, corners: corners ?? points.map((_, i) => `corner ${i + 1}`), sides: sides ?? points.map((_, i) => String(i + 1)) });
  if (shape === "rectangle") {
    const [w, h] = [of("width") || 80, of("height") || of("depth") || 50];
    return named([[0, 0], [w, 0], [w, h], [0, h]], CORNERS, SIDES);
  }
  if (shape === "trapezoid") {
    const [b, t, h] = [of("bottom") || 80, of("top") || 60, of("height") || 50];
    const o = piece.offset === undefined ? (b - t) / 2 : of("offset");
    return named([[0, 0], [b, 0], [o + t, h], [o, h]], CORNERS, SIDES);
  }
  if (shape === "tee" || shape === "ell") {
    const [w, body, d, ear] = [of("width") || 80, of("body") || 50, of("depth") || 55, of("ear") || 20];
    if (shape === "ell") {
      const left = piece.ear_side === "left";
      return named(left ? [[0, 0], [w, 0], [w, d], [w - body, d], [w - body, ear], [0, ear]] : [[0, 0], [w, 0], [w, ear], [body, ear], [body, d], [0, d]]);
    }
    const x = (w - body) / 2;
    return named([[0, 0], [w, 0], [w, ear], [x + body, ear], [x + body, d], [x, d], [x, ear], [0, ear]]);
  }
  if (["corners", "traced"].includes(shape) && Array.isArray(piece.corner) && piece.corner.length > 2) {
    return named(piece.corner.map((c) => [size(c.x), size(c.y)]));
  }
  if (shape === "sides") {
    const n = Math.max(3, piece.sides?.length ?? 4);
    const turn = (i) => Math.PI * (1.25 + (2 * i) / n) + (n === 4 ? 0 : Math.PI / n - Math.PI * 0.25);
    return named([...Array(n).keys()].map((i) => [50 + 50 * Math.cos(turn(i)), 40 + 40 * Math.sin(turn(i))]));
  }
  const r = (of("diameter") || of("base") || 80) / 2;
  return { points: [...Array(36).keys()].map((i) => [r + r * Math.cos(i / 36 * 2 * Math.PI), r + r * Math.sin(i / 36 * 2 * Math.PI)]), corners: [], sides: [] };
}

/** The radius at each corner. */
export function radii(piece, count) {
  if (Array.isArray(piece.radii)) {
    return piece.radii.map(size);
  }
  if (piece.shape === "corners" || piece.shape === "traced") {
    return (piece.corner ?? []).map((c) => size(c.radius));
  }
  return Array(count).fill(size(piece.radius));
}

/** How far each side bows outwards, from its own corner to the next. */
export function bows(piece) {
  return ["corners", "traced"].includes(piece.shape) ? (piece.corner ?? []).map((c) => size(c.rise)) : [];
}

/** An outline with bowed sides as a path. */
function bowed(points, rises, at) {
  const n = points.length;
  const text = (p) => `${p[0].toFixed(1)} ${p[1].toFixed(1)}`;
  let d = `M${text(at(points[0]))}`;
  for (let i = 0; i < n; i += 1) {
    const [p, q] = [points[i], points[(i + 1) % n]];
    const [a, b] = [at(p), at(q)];
    const chord = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
    const scale = Math.hypot(b[0] - a[0], b[1] - a[1]) / chord;
    const rise = Math.abs(rises[i] ?? 0);
    const radius = rise > 0 ? ((chord * chord) / 4 + rise * rise) / (2 * rise) * scale : 0;
    d += rise > 0 ? `A${radius.toFixed(1)} ${radius.toFixed(1)} 0 0 ${rises[i] > 0 ? 0 : 1} ${text(b)}` : `L${text(b)}`;
  }
  return `${d}Z`;
}

/** An outline with rounded corners or bowed sides as a path, by a mapping to the screen. */
export function course(points, round, at, rises = []) {
  if (rises.some((rise) => rise !== 0)) {
    return bowed(points, rises, at);
  }
  const n = points.length;
  let d = "";
  for (let i = 0; i < n; i += 1) {
    const [p, q, r] = [points[(i + n - 1) % n], points[i], points[(i + 1) % n]];
    const back = Math.hypot(p[0] - q[0], p[1] - q[1]) || 1;
    const on = Math.hypot(r[0] - q[0], r[1] - q[1]) || 1;
    const cut = Math.min(round[i] ?? 0, back / 2, on / 2);
    const a = at([q[0] + ((p[0] - q[0]) * cut) / back, q[1] + ((p[1] - q[1]) * cut) / back]);
    const b = at([q[0] + ((r[0] - q[0]) * cut) / on, q[1] + ((r[1] - q[1]) * cut) / on]);
    d += `${i === 0 ? "M" : "L"}${a[0].toFixed(1)} ${a[1].toFixed(1)}`;
    if (cut > 0) {
      const c = at(q);
      d += `Q${c[0].toFixed(1)} ${c[1].toFixed(1)} ${b[0].toFixed(1)} ${b[1].toFixed(1)}`;
    }
  }
  return `${d}Z`;
}
