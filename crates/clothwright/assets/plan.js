// Draws a lay: the roll runs up a phone's screen and to the right on a wide one; labels keep their size.
(function () {
  "use strict";
  var SVG = "http://www.w3.org/2000/svg";
  var el = function (tag, attributes, text) {
    var e = document.createElementNS(SVG, tag);
    Object.keys(attributes).forEach(function (name) { e.setAttribute(name, attributes[name]); });
    if (text !== undefined) { e.textContent = text; }
    return e;
  };

  // From cloth (across, along) to the screen. Turned, never mirrored.
  var view = function (strip, room, upright) {
    var edge = upright ? { low: 46, top: 26, right: 8, bottom: 10 } : { low: 14, top: 30, right: 30, bottom: 8 };
    var scale = upright ? (room - edge.low - edge.right) / strip.wide : Math.min(300, Math.max(200, room / 4)) / strip.wide;
    var wide = (upright ? strip.wide : strip.long) * scale + edge.low + edge.right;
    var high = (upright ? strip.long : strip.wide) * scale + edge.top + edge.bottom;
    return {
      scale: scale, wide: wide, high: high, upright: upright,
      at: function (x, y) { return upright ? [edge.low + x * scale, high - edge.bottom - y * scale] : [edge.low + y * scale, edge.top + x * scale]; }
    };
  };

  var box = function (v, b) {
    var p = v.at(b[0], b[1]), q = v.at(b[2], b[3]);
    return { x: Math.min(p[0], q[0]), y: Math.min(p[1], q[1]), width: Math.abs(p[0] - q[0]), height: Math.abs(p[1] - q[1]) };
  };

  var motifs = function (svg, v, strip) {
    var m = strip.motifs;
    if (!m || m.along * v.scale < 12) { return; }
    var across = m.across || strip.wide * 2, group = el("g", { class: "motifs" });
    var first = Math.floor((strip.usable[0] - m.first[0]) / across) - 1;
    for (var c = first, drawn = 0; drawn < 4000; c += 1) {
      var x = m.first[0] + c * across;
      if (x > strip.usable[1]) { break; }
      if (x < strip.usable[0]) { continue; }
      var up = m.half && c % 2 !== 0 ? m.along / 2 : 0;
      for (var y = ((m.first[1] + up) % m.along + m.along) % m.along; y < strip.long; y += m.along, drawn += 1) {
        var p = v.at(x, y);
        group.append(el("path", { d: "M" + (p[0] - 4) + " " + p[1] + "L" + p[0] + " " + (p[1] - 4) + "L" + (p[0] + 4) + " " + p[1] + "L" + p[0] + " " + (p[1] + 4) + "Z" }));
      }
      if (!m.across) { break; }
    }
    svg.append(group);
  };

  var bounds = function (points) {
    var xs = points.map(function (p) { return p[0]; }), ys = points.map(function (p) { return p[1]; });
    return { x: Math.min.apply(0, xs), y: Math.min.apply(0, ys), width: Math.max.apply(0, xs) - Math.min.apply(0, xs), height: Math.max.apply(0, ys) - Math.min.apply(0, ys) };
  };

  var inside = function (x, y, points) {
    var is_in = false;
    for (var i = 0, j = points.length - 1; i < points.length; j = i, i += 1) {
      var a = points[i], b = points[j];
      if ((a[1] > y) !== (b[1] > y) && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) { is_in = !is_in; }
    }
    return is_in;
  };

  // A place in the part where a label of that size lies wholly on it: the middle, or near it.
  var place = function (points, b, w, h) {
    var best = null;
    for (var i = 1; i < 12; i += 1) {
      for (var j = 1; j < 12; j += 1) {
        var x = b.x + (b.width * i) / 12, y = b.y + (b.height * j) / 12;
        var free = [[-1, -1], [1, -1], [1, 1], [-1, 1], [0, 0], [-1, 0], [1, 0]].every(function (k) { return inside(x + (k[0] * w) / 2, y + (k[1] * h) / 2, points); });
        var off = Math.abs(i - 6) + Math.abs(j - 6);
        if (free && (!best || off < best.off)) { best = { x: x, y: y, off: off }; }
      }
    }
    return best;
  };

  var label = function (svg, points, part, b) {
    var short = part.name.length > 22 ? part.name.slice(0, 20) + "…" : part.name;
    var cut = short.lastIndexOf(" ", Math.ceil(short.length / 2)), tag = [part.tag, 15, "tag"], size = [part.size, 12.5, "size"];
    var whole = [tag, [short, 12.5, "what"], size], folded = cut > 0 ? [tag, [short.slice(0, cut), 12.5, "what"], [short.slice(cut + 1), 12.5, "what"], size] : whole;
    var ways = [[whole, 0], [folded, 0], [whole, 1], [folded, 1], [[tag, size], 0], [[tag, size], 1], [[tag], 0], [[tag], 1], [[[part.tag, 12, "tag"]], 0], [[[part.tag, 12, "tag"]], 1]];
    for (var w = 0; w < ways.length; w += 1) {
      var lines = ways[w][0], turned = ways[w][1], wide = Math.max.apply(0, lines.map(function (l) { return l[0].length * l[1] * 0.56; })) + 4, high = lines.reduce(function (s, l) { return s + l[1] * 1.2; }, 0) + (part.top !== null && w < 8 ? 14 : 0);
      var at = turned ? place(points, b, high, wide) : place(points, b, wide, high);
      if (!at) { continue; }
      var group = el("g", turned ? { transform: "rotate(-90 " + at.x + " " + at.y + ")" } : {}), y = at.y - high / 2;
      lines.forEach(function (l) { y += l[1] * 1.2; group.append(el("text", { x: at.x, y: y - l[1] * 0.25, "font-size": l[1], class: l[2] }, l[0])); });
      svg.append(group);
      return part.top !== null && w < 8 ? { x: turned ? at.x + high / 2 - 6 : at.x, y: turned ? at.y : at.y + high / 2 - 6 } : null;
    }
    return null;
  };

  // Points to the part's top; nought degrees is up the roll.
  var arrow = function (svg, v, at, degrees) {
    var turn = (v.upright ? 0 : 90) - degrees;
    svg.append(el("path", { class: "way", transform: "translate(" + at.x + " " + at.y + ") rotate(" + turn + ")", d: "M0 8V-7M-4 -2L0 -8L4 -2" }));
  };

  var draw = function (holder, strip, tint) {
    var upright = window.matchMedia("(max-width: 639px)").matches;
    var v = view(strip, holder.clientWidth || 320, upright);
    var svg = el("svg", { class: "cloth-plan tint-" + tint, width: v.wide, height: v.high, viewBox: "0 0 " + v.wide + " " + v.high, role: "img", "aria-label": "Plan of the parts; the list below says the same" });
    svg.append(el("rect", Object.assign({ class: "roll" }, box(v, [0, 0, strip.wide, strip.long]))));
    [[0, strip.usable[0]], [strip.usable[1], strip.wide]].forEach(function (edge) { if (edge[1] - edge[0] > 0.5) { svg.append(el("rect", Object.assign({ class: "selvedge" }, box(v, [edge[0], 0, edge[1], strip.long])))); } });
    motifs(svg, v, strip);
    strip.kept.forEach(function (k) {
      var b = box(v, k.box), text = "Keep " + k.name;
      svg.append(el("rect", Object.assign({ class: "keep" }, b)));
      if (b.width > text.length * 7 && b.height > 18) { svg.append(el("text", { class: "kept", x: b.x + b.width / 2, y: b.y + b.height / 2 + 4, "font-size": 12.5 }, text)); }
    });
    var over = el("g", { class: "labels" });
    strip.parts.forEach(function (part) {
      var points = part.points.map(function (p) { return v.at(p[0], p[1]); }), b = bounds(points);
      svg.append(el("path", { class: part.pinned ? "part pinned" : "part", d: "M" + points.map(function (p) { return p[0].toFixed(1) + " " + p[1].toFixed(1); }).join("L") + "Z" }));
      var free = label(over, points, part, b);
      if (free) { arrow(over, v, free, part.top); }
      if (b.width > 46 && b.height > 46) {
        var c = place(points, { x: b.x, y: b.y + b.height - 24, width: 24, height: 24 }, 16, 16) || null;
        if (c) { over.append(el("circle", { cx: c.x, cy: c.y, r: 10 }), el("text", { class: "order", x: c.x, y: c.y + 4, "font-size": 12 }, String(part.order))); }
      }
    });
    strip.flaws.forEach(function (f) { svg.append(el("rect", Object.assign({ class: "flaw" }, box(v, f)))); });
    svg.append(over);
    for (var y = 0, n = 0; y <= strip.long + 1; y += strip.step / 2, n += 1) {
      var p = v.at(0, y), whole = n % 2 === 0;
      svg.append(el("path", { class: "scale", d: upright ? "M" + p[0] + " " + p[1] + "h-" + (whole ? 8 : 5) : "M" + p[0] + " " + p[1] + "v-" + (whole ? 8 : 5) }));
      if (whole) { svg.append(el("text", upright ? { class: "scale", x: p[0] - 10, y: p[1] + 4, "text-anchor": "end" } : { class: "scale", x: p[0], y: p[1] - 11, "text-anchor": "middle" }, n / 2 + " " + strip.unit)); }
    }
    holder.replaceChildren(svg);
    if (upright) { holder.scrollTop = holder.scrollHeight; }
  };

  var all = function () {
    [].forEach.call(document.querySelectorAll(".roll-view"), function (holder) {
      draw(holder, JSON.parse(holder.dataset.strip), holder.dataset.tint);
    });
  };
  all();
  window.addEventListener("resize", all);
  document.addEventListener("htmx:afterSwap", all);
})();
