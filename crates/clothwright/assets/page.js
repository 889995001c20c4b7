// What the page cannot do with plain forms: the keypad, the search as it goes on, words when something fails.
(function () {
  "use strict";
  var notice = function (words) {
    var p = document.getElementById("notice");
    if (p) { p.textContent = words; p.className = "warn"; }
  };
  document.addEventListener("click", function (event) {
    var key = event.target.closest("[data-key]");
    if (!key) { return; }
    var field = document.querySelector("[data-keypad]");
    var k = key.getAttribute("data-key");
    if (k === "⌫") { field.value = field.value.slice(0, -1); }
    else if (k.trim().indexOf("/") > 0) { field.value = field.value.replace(/\s*\d+\/\d+$/, "").trimEnd() + k; field.value = field.value.trimStart(); }
    else { field.value += k; }
    field.focus();
  });
  document.addEventListener("htmx:responseError", function (event) {
    notice(event.detail.xhr.responseText || "the change was not kept; try again");
  });
  document.addEventListener("htmx:sendError", function () {
    notice("the page cannot be reached; what you typed stays here until it can");
  });
  // What a link leads to is never folded away.
  var unfold = function () {
    var at = location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    for (var d = at; d; d = d.parentElement) { if (d.tagName === "DETAILS") { d.open = true; } }
    if (at) { at.scrollIntoView(); }
  };
  window.addEventListener("hashchange", unfold);
  document.addEventListener("click", function (event) { if (event.target.closest("a[href^='#']")) { setTimeout(unfold, 0); } });
  unfold();
  // A new measure takes the place of the old one.
  document.addEventListener("focusin", function (event) { if (event.target.matches(".measures input[data-path], input[inputmode]") && event.target.select) { event.target.select(); } });
  var job = document.querySelector("main[data-job]");
  if (!job) { return; }
  var source = null, shown = null;
  var listen = function () {
    if (source) { source.close(); }
    source = new EventSource("/job/" + job.dataset.job + "/live");
    source.addEventListener("standing", function (event) {
      var s = JSON.parse(event.data);
      var line = document.querySelector("#search");
      if (line) {
        var bar = line.querySelector("progress");
        if (bar) { bar.value = s.done; }
        var words = line.querySelector(".words");
        if (words && !s.over && s.best_mm > 0) { words.textContent = "best " + (s.best_mm / 1000).toFixed(2) + " m, no lay below " + (s.least_mm / 1000).toFixed(2) + " m"; }
      }
      if (s.over) {
        source.close();
        if (shown !== s.revision) {
          shown = s.revision;
          window.htmx.ajax("GET", "/job/" + job.dataset.job + "/plan", { target: "#plan", swap: "outerHTML" });
        }
      }
    });
  };
  // What a material is called now is what pieces can be covered in.
  var choices = function () {
    ["cloth", "foam", "board"].forEach(function (list) {
      var names = [].map.call(document.querySelectorAll("[data-path^='" + list + ".'][data-path$='.name']"), function (f) { return f.value; }).filter(Boolean);
      var of = list === "cloth" ? "[data-path^='piece.'][data-path$='cloth']" : "[data-path^='piece.'][data-path$='." + list + "']";
      document.querySelectorAll("select" + of).forEach(function (select) {
        var at = select.selectedIndex, old = [].map.call(select.options, function (o) { return o.value; });
        var now = [""].concat(names);
        if (old.join("\n") === now.join("\n")) { return; }
        select.replaceChildren.apply(select, now.map(function (n) { return new Option(n || "—", n); }));
        // One renamed stays chosen.
        select.selectedIndex = old.length === now.length ? at : Math.max(0, now.indexOf(old[at]));
      });
    });
  };
  // A lay announced and not heard of again is asked for.
  setInterval(function () {
    var line = document.querySelector("#search");
    if (line && !line.querySelector(".words") && (!source || source.readyState === 2)) { shown = null; listen(); }
  }, 15000);
  var plan = document.getElementById("plan");
  if (plan && plan.dataset.over !== "true") { listen(); }
  document.addEventListener("htmx:afterRequest", function (event) {
    var path = event.detail.pathInfo ? event.detail.pathInfo.requestPath : "";
    if (event.detail.successful && path.endsWith("/set")) { listen(); choices(); }
    if (event.detail.successful) { var p = document.getElementById("notice"); if (p && p.className === "warn" && event.detail.xhr.status === 200) { p.textContent = ""; p.className = ""; } }
  });
})();
