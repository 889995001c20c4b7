// An outline from a photograph: the photograph is sent, corners are dragged over it with a magnifier beside
// the finger, the outline is taken over.
(function () {
  "use strict";
  const main = document.querySelector("main[data-outline]");
  if (!main) { return; }
  const NS = "http://www.w3.org/2000/svg";
  const ask = document.getElementById("ask");
  const said = document.getElementById("said");
  const found = document.getElementById("found");
  const [base, query] = main.dataset.outline.split("?");
  const address = (rest) => `${base}${rest}?${query}`;
  let now = null;

  function make(name, values, ...inside) {
    const node = name.includes(":") ? document.createElementNS(NS, name.slice(4)) : document.createElement(name);
    for (const [key, value] of Object.entries(values)) {
      if (key.startsWith("on")) { node.addEventListener(key.slice(2), value); } else { node.setAttribute(key, value); }
    }
    node.append(...inside);
    return node;
  }

  function say(words, remedy) {
    said.replaceChildren();
    said.className = remedy ? "say bad" : "say";
    if (words) { said.append(make("b", {}, words), remedy ? ` — ${remedy}` : ""); }
  }

  async function send(rest, body, type) {
    const headers = { "x-token": main.dataset.token };
    if (type) { headers["content-type"] = type; }
    const answer = await fetch(address(rest), { method: "POST", headers, body });
    if (!answer.ok) {
      // An error may come as a screen of its own: only what it says is of use here.
      const text = await answer.text();
      const main_text = new DOMParser().parseFromString(text, "text/html").querySelector("main")?.textContent;
      throw new Error((main_text ?? text).trim().slice(0, 300));
    }
    return answer.json();
  }

  ask.addEventListener("submit", async (event) => {
    event.preventDefault();
    say("Sending the photograph and looking for the sheets …");
    found.hidden = true;
    ask.setAttribute("aria-busy", "true");
    try {
      take_in(await send("", new FormData(ask)));
    } catch (error) {
      say(error.message || "The workroom cannot be reached", "try again when it can be reached; the photograph stays on this device");
    }
    ask.removeAttribute("aria-busy");
  });

  function take_in(answer) {
    if (answer.why) { say(answer.why, answer.do); } else { say(""); }
    if (!answer.name) { return; }
    now = answer;
    now.corners = answer.corners ?? [];
    show();
    found.scrollIntoView({ block: "start" });
  }

  const path = (points, closed) => points.map((p, i) => `${i ? "L" : "M"}${p[0]} ${p[1]}`).join("") + (closed ? "Z" : "");

  function show() {
    const { width, height } = now;
    const dot = width / 70;
    const svg = make("svg:svg", { viewBox: `0 0 ${width} ${height}`, class: "traced", role: "group", "aria-label": "the photograph with the outline over it" });
    const image = make("svg:image", { href: `/tracing/${now.name}`, width, height });
    svg.append(image);
    for (const line of now.lines ?? []) {
      svg.append(make("svg:path", { d: path(line, true), class: "band", "stroke-width": Math.max(2 * now.band, 3) }));
      svg.append(make("svg:path", { d: path(line, true), class: "line", "stroke-width": width / 900 }));
    }
    if (!now.lines) {
      now.corners.forEach((loop, i) => svg.append(make("svg:path", { d: path(loop, loop.length > 2), class: "line", "stroke-width": width / 600, "data-loop": i })));
    }
    now.corners.forEach((loop, i) => loop.forEach((corner, k) => {
      const node = make("svg:g", { class: "corner", tabindex: "0", role: "button", "aria-label": `corner ${k + 1}` },
        make("svg:circle", { class: "reach", cx: corner[0], cy: corner[1], r: dot * 1.6 }), make("svg:circle", { cx: corner[0], cy: corner[1], r: dot * 0.55, "stroke-width": width / 700 }));
      hold(svg, node, i, k);
      svg.append(node);
    }));
    svg.addEventListener("click", (event) => {
      // Where no part stood out its corners are tapped one after another.
      if (now.tapping && !event.target.closest(".corner")) {
        now.corners[now.corners.length - 1].push(place(svg, event));
        show();
      }
    });
    const glass = make("canvas", { class: "glass", width: 220, height: 220, hidden: "" });
    const sizes = make("dl", { class: "sizes" });
    for (const one of now.sizes ?? []) {
      sizes.append(make("dt", {}, one.what), make("dd", {}, one.size));
      if (one.letter) {
        svg.append(make("svg:circle", { class: "tag", cx: one.at[0], cy: one.at[1], r: width / 60 }), make("svg:text", { class: "tag", x: one.at[0], y: one.at[1] + width / 130, "font-size": width / 45 }, one.letter));
      }
    }
    const act = (words, on, strong) => make("button", { type: "button", class: strong ? "b strong" : "b", onclick: on }, words);
    const row = make("div", { class: "row wrap" });
    if (now.lines) { row.append(act("Take this outline over", over, true)); }
    if (now.tapping) { row.append(act("Follow the edge", again, true)); }
    row.append(act(now.tapping ? "Tap again from the start" : "Tap the corners myself", () => { now.kept = now.corners.slice(1).filter((loop) => loop.length > 2); now.corners = [[]]; now.lines = null; now.sizes = []; now.tapping = true; show(); }));
    if (now.lines) { row.append(act("Add an opening", () => { now.kept = []; now.corners.push([]); now.lines = null; now.sizes = []; now.tapping = true; show(); })); }
    const words = make("p", {});
    if (now.lines) {
      words.append(make("b", {}, `True within ${now.within}`), ": 95 in 100 parts of the outline, with 95 in 100 chances, if the sheets lay flat and what was typed is right. Hold one size against the tape before cloth is cut.");
    } else if (now.tapping) {
      words.append(`Tap the corners in order, all the way round; bends need no corner, a long curve a few. ${now.corners[now.corners.length - 1].length} tapped.`);
    }
    found.replaceChildren(make("div", { class: "photo-wrap" }, svg, glass), words, make("div", { class: "row" }, sizes), row);
    found.hidden = false;
    now.image = new Image();
    now.image.src = `/tracing/${now.name}`;
  }

  function place(svg, event) {
    const p = svg.createSVGPoint();
    p.x = event.clientX;
    p.y = event.clientY;
    const q = p.matrixTransform(svg.getScreenCTM().inverse());
    return [Math.round(q.x * 10) / 10, Math.round(q.y * 10) / 10];
  }

  // A corner follows the finger; a piece of the picture round it is shown large, clear of the hand.
  function hold(svg, node, i, k) {
    const moved = (to) => {
      now.corners[i][k] = to;
      for (const circle of node.querySelectorAll("circle")) { circle.setAttribute("cx", to[0]); circle.setAttribute("cy", to[1]); }
      look(to);
    };
    node.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      node.setPointerCapture(event.pointerId);
      const start = place(svg, event);
      const own = now.corners[i][k];
      const off = [own[0] - start[0], own[1] - start[1]];
      let is_moved = false;
      const move = (e) => {
        const to = place(svg, e);
        is_moved = is_moved || Math.hypot(to[0] - start[0], to[1] - start[1]) > 3;
        moved([to[0] + off[0], to[1] + off[1]]);
      };
      const end = () => {
        node.removeEventListener("pointermove", move);
        found.querySelector(".glass").hidden = true;
        if (is_moved && !now.tapping) { again(); }
      };
      node.addEventListener("pointermove", move);
      node.addEventListener("pointerup", end, { once: true });
      node.addEventListener("pointercancel", end, { once: true });
      look(own);
    });
    node.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: [-2, 0], ArrowRight: [2, 0], ArrowUp: [0, -2], ArrowDown: [0, 2] }[event.key];
      if (step) {
        event.preventDefault();
        moved([now.corners[i][k][0] + step[0], now.corners[i][k][1] + step[1]]);
      } else if (event.key === "Enter") {
        again();
      } else if (event.key === "Delete" && now.corners[i].length > 3) {
        now.corners[i].splice(k, 1);
        again();
      }
    });
  }

  function look(at) {
    const glass = found.querySelector(".glass");
    const image = now.image;
    if (!image?.complete) { return; }
    const scale = image.naturalWidth / now.width;
    const reach = 36;
    const paint = glass.getContext("2d");
    paint.fillStyle = "#000";
    paint.fillRect(0, 0, 220, 220);
    paint.drawImage(image, at[0] * scale - reach, at[1] * scale - reach, 2 * reach, 2 * reach, 0, 0, 220, 220);
    paint.strokeStyle = "#ffd400";
    paint.lineWidth = 1.5;
    paint.beginPath();
    paint.moveTo(110, 0); paint.lineTo(110, 220); paint.moveTo(0, 110); paint.lineTo(220, 110);
    paint.stroke();
    glass.classList.toggle("right", at[0] < now.width / 2);
    glass.hidden = false;
  }

  async function again() {
    // Openings that were found stay when the outer edge is tapped anew.
    const loops = [...now.corners, ...(now.kept ?? [])].filter((loop) => loop.length > 2);
    if (loops.length === 0) { say("Tap at least three corners", "all the way round, in order"); return; }
    say("Following the edge …");
    try {
      const answer = await send(`/${now.name}`, JSON.stringify({ loops }), "application/json");
      const was = loops;
      take_in(answer);
      if (answer.why) { now.corners = answer.corners ?? was; show(); }
    } catch (error) {
      say(error.message, "choose the photograph again");
    }
  }

  async function over() {
    say("Taking it over …");
    try {
      const answer = await send(`/${now.name}/take`, "");
      window.location.assign(answer.to);
    } catch (error) {
      say(error.message, "try again");
    }
  }
}());
