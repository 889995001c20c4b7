// Small tools for building the page: elements, icons, fractions, the tape.

const SVG = "http://www.w3.org/2000/svg";

function build(element, attributes, children) {
  for (const [name, to] of Object.entries(attributes ?? {})) {
    if (to === null || to === undefined || to === false) {
      continue;
    }
    if (name.startsWith("on")) {
      element.addEventListener(name.slice(2), to);
    } else if (name === "value" && "value" in element) {
      element.value = to;
    } else {
      element.setAttribute(name, to === true ? "" : to);
    }
  }
  for (const child of children.flat(3)) {
    if (child !== null && child !== undefined && child !== false) {
      element.append(child);
    }
  }
  return element;
}

export const h = (tag, attributes, ...children) => build(document.createElement(tag), attributes, children);
export const s = (tag, attributes, ...children) => build(document.createElementNS(SVG, tag), attributes, children);

/** A picture that the workroom drew. */
export function picture(text) {
  const holder = document.createElement("div");
  holder.className = "drawing";
  if (!text) {
    return holder;
  }
  const read = new DOMParser().parseFromString(text.replace("<svg ", `<svg xmlns="${SVG}" `), "image/svg+xml");
  if (read.documentElement.nodeName === "svg") {
    holder.append(document.importNode(read.documentElement, true));
  }
  return holder;
}

const ICONS = {
  back: "M15 4 7 12 15 20",
  next: "M9 4 17 12 9 20",
  add: "M12 4V20M4 12H20",
  tick: "M4 12.5 9.5 18 20 6",
  clock: "M12 3a9 9 0 1 0 0.01 0M12 7V12.5L16 15",
  fault: "M12 3 22 21H2ZM12 9V15M12 17V19",
  more: "M5 11h2v2H5zM11 11h2v2h-2zM17 11h2v2h-2z",
  camera: "M3 7H8L10 4H14L16 7H21V20H3ZM12 9.5a4 4 0 1 0 .01 0",
  details: "M4 4H20V20H4ZM8 9H16M8 13H16M8 17H12",
  materials: "M4 5H14V20H4ZM14 8H20V20H14M4 9H14",
  pieces: "M4 4H11V11H4ZM13 4H20V9H13ZM13 11H20V20H13ZM4 13H11V20H4Z",
  plan: "M3 5H21V19H3ZM3 12H12M12 5V19M12 14H21",
  send: "M3 11 21 3 14 21 11 13Z",
  wipe: "M8 6H21V18H8L3 12ZM11 9.5 17 14.5M17 9.5 11 14.5",
  remove: "M5 7H19M9 7V4H15V7M7 7 8 20H16L17 7",
  copy: "M8 8H20V20H8ZM8 16H4V4H16V8",
  mirror: "M12 3V21M10 7 3 18H10ZM14 7 21 18H14Z",
  up: "M5 14 12 7 19 14",
  down: "M5 10 12 17 19 10",
  away: "M3 3 21 21M4 9.5A12 12 0 0 1 9 7M20 9.5A12 12 0 0 0 12.5 6.5M7.5 13.5A7 7 0 0 1 11 11.6M12 18.5V20",
};

export function icon(name, small) {
  return s("svg", { class: small ? "i sm" : "i", viewBox: "0 0 24 24", "aria-hidden": "true" }, s("path", { d: ICONS[name] }));
}

/** "17 5/8" with its fraction stacked; read out as words. */
export function number(text, plain) {
  const found = /^(.*?)(?:(?<=\s)|^)(\d+)\/(\d+)(.*)$/.exec(String(text));
  if (!found || plain) {
    return document.createTextNode(text);
  }
  const [, before, above, below, after] = found;
  return h("span", { class: "num" }, before.trimEnd(), h("span", { class: "frac" }, h("b", {}, above), h("i", {}, "⁄"), h("u", {}, below)), after);
}

/** A reading as decimal, in its own unit; `null` if it is none. */
export function reading(text) {
  const found = /^\s*(\d+(?:\.\d+)?)?(?:[\s-]*(\d+)\/(\d+))?\s*$/.exec(text);
  if (!found || (found[1] === undefined && found[2] === undefined)) {
    return null;
  }
  const part = found[2] ? Number(found[2]) / Number(found[3]) : 0;
  return Number.isFinite(part) ? Number(found[1] ?? 0) + part : null;
}

/** The tape at a reading, as it looks in the hand. */
export function tape(text, unit) {
  const at = reading(text) ?? 0;
  const is_inch = unit === "in";
  // Screen units for one tick of the tape, and ticks between numbers.
  const [one, ticks, by] = is_inch ? [16.2, 8, 1] : unit === "cm" ? [9, 10, 1] : [9, 10, 10];
  const across = 340;
  const tick = by / ticks;
  const x = (v) => 176 + ((v - at) / tick) * one;
  const out = s("svg", { class: "tape", viewBox: `0 0 ${across} 50`, preserveAspectRatio: "xMidYMid slice", "aria-hidden": "true" });
  out.append(s("rect", { class: "far", x: 0, y: 0, width: across, height: 50 }));
  out.append(s("rect", { class: "near", x: Math.max(0, x(0)), y: 0, width: Math.max(0, x(at) - Math.max(0, x(0))), height: 50 }));
  const first = Math.max(0, Math.floor((at - (180 / one) * tick) / tick));
  for (let n = first; x(n * tick) < across + 10; n += 1) {
    const long = n % ticks === 0 ? 50 : n % (ticks / 2) === 0 ? 28 : is_inch && n % 2 === 0 ? 20 : 12;
    const place = x(n * tick);
    out.append(s("path", { class: "tick", d: `M${place} 0V${long}`, "stroke-width": n % ticks === 0 ? 2 : 1.3 }));
    if (n % ticks === 0 && n > 0) {
      out.append(s("text", { x: place - 4, y: 44, "text-anchor": "end" }, String((n / ticks) * by)));
    }
  }
  out.append(s("path", { class: "hand", d: "M176 0V50" }));
  return out;
}

/** Wakes an act once nothing has come for a while. */
export function later(act, pause) {
  let timer = null;
  let last = null;
  const go = () => {
    clearTimeout(timer);
    timer = null;
    if (last) {
      const said = last;
      last = null;
      act(...said);
    }
  };
  const wait = (...said) => {
    last = said;
    clearTimeout(timer);
    timer = setTimeout(go, pause);
  };
  wait.now = go;
  return wait;
}

/** Said aloud once, without being shown. */
export function speak(words) {
  const region = document.getElementById("spoken");
  if (region) {
    region.textContent = words;
  }
}
