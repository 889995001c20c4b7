// A cloth laid by hand: a part follows the finger or the arrow keys and is pinned where it is let go.
(function () {
  "use strict";
  var main = document.querySelector("main[data-by-hand]");
  if (!main) { return; }
  var put = document.getElementById("put"), flaw = document.getElementById("flaw"), mark = document.getElementById("mark-flaw");
  var move = document.getElementById("move"), marking = false, moving = false, held = null, moved = false;
  // A finger also scrolls the picture: there parts are moved only when it is said so.
  var now = function (what) {
    marking = what === "marking"; moving = what === "moving";
    mark.setAttribute("aria-pressed", String(marking)); move.setAttribute("aria-pressed", String(moving));
    document.body.classList.toggle("marking", marking); document.body.classList.toggle("moving", moving);
  };
  mark.addEventListener("click", function () { now(marking ? "" : "marking"); });
  move.addEventListener("click", function () { now(moving ? "" : "moving"); });
  now(window.matchMedia("(pointer: coarse)").matches ? "" : "moving");
  var inPicture = function (svg, event) {
    var p = svg.createSVGPoint();
    p.x = event.clientX; p.y = event.clientY;
    return p.matrixTransform(svg.getScreenCTM().inverse());
  };
  // Of a point of the picture: millimetres from the left selvedge and from the cut end.
  var onCloth = function (svg, x, y) {
    var d = svg.dataset, across = (y - d.y) / d.scale;
    return { across: d.down === "true" ? -across : across, along: (x - d.x) / d.scale };
  };
  var fill = function (form, values) {
    Object.keys(values).forEach(function (name) { form.elements[name].value = values[name]; });
    form.submit();
  };
  var pin = function (rect, anew) {
    var d = rect.dataset, svg = rect.ownerSVGElement, values = { part: d.part, turn: d.turn, x: d.mmX, y: d.mmY, to_x: "", to_y: "" };
    if (anew) {
      var x = Number(rect.getAttribute("x")), y = Number(rect.getAttribute("y")), h = Number(rect.getAttribute("height"));
      var at = onCloth(svg, x, svg.dataset.down === "true" ? y + h : y);
      values.to_x = at.across.toFixed(3); values.to_y = at.along.toFixed(3);
    }
    fill(put, values);
  };
  document.querySelectorAll("svg.handles").forEach(function (svg) {
    svg.addEventListener("pointerdown", function (event) {
      if (marking) {
        var p = inPicture(svg, event), at = onCloth(svg, p.x, p.y);
        fill(flaw, { strip: svg.dataset.strip, at_x: at.across.toFixed(1), at_y: at.along.toFixed(1) });
        return;
      }
      var rect = event.target.closest("rect[data-part]");
      if (!rect || !moving) { return; }
      var from = inPicture(svg, event);
      held = { rect: rect, left: rect.getAttribute("x"), top: rect.getAttribute("y"), dx: from.x - rect.getAttribute("x"), dy: from.y - rect.getAttribute("y"), x: event.clientX, y: event.clientY };
      moved = false;
      rect.setPointerCapture(event.pointerId);
      event.preventDefault();
      rect.focus();
    });
    svg.addEventListener("pointermove", function (event) {
      if (!held) { return; }
      if (Math.abs(event.clientX - held.x) + Math.abs(event.clientY - held.y) > 5) { moved = true; }
      if (!moved) { return; }
      var p = inPicture(svg, event);
      held.rect.setAttribute("x", p.x - held.dx);
      held.rect.setAttribute("y", p.y - held.dy);
      held.rect.classList.add("moving");
    });
    svg.addEventListener("pointerup", function () {
      if (!held) { return; }
      var rect = held.rect;
      held = null;
      pin(rect, moved);
    });
    svg.addEventListener("pointercancel", function () {
      if (!held) { return; }
      held.rect.setAttribute("x", held.left); held.rect.setAttribute("y", held.top);
      held.rect.classList.remove("moving");
      held = null;
    });
    svg.addEventListener("keydown", function (event) {
      var rect = event.target.closest("rect[data-part]");
      if (!rect) { return; }
      var step = (event.shiftKey ? 50 : 5) * svg.dataset.scale;
      var by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
      if (by) {
        rect.setAttribute("x", Number(rect.getAttribute("x")) + by[0]);
        rect.setAttribute("y", Number(rect.getAttribute("y")) + by[1]);
        rect.classList.add("moving");
        event.preventDefault();
      } else if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        pin(rect, rect.classList.contains("moving"));
      } else if (event.key === "Escape") { location.reload(); }
    });
  });
  var pinned = document.querySelectorAll("rect.kept");
  if (pinned.length) { pinned[pinned.length - 1].scrollIntoView({ block: "nearest", inline: "center" }); }
  // The lay found by the search takes the place of the first one, unless something is being moved.
  if (main.dataset.over !== "true") {
    var source = new EventSource("/job/" + main.dataset.byHand + "/live");
    source.addEventListener("standing", function (event) {
      if (!JSON.parse(event.data).over) { return; }
      source.close();
      if (held || marking || document.querySelector("rect.moving") || document.activeElement.matches("input, select")) {
        document.getElementById("search").textContent = "a better lay may have been found; load the page again to see it";
      } else { location.reload(); }
    });
  }
})();
