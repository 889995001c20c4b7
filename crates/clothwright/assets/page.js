// Screens that the workroom draws: the search as it goes on, sharing, words when something fails.
(function () {
  "use strict";
  var notice = function (words) {
    var p = document.getElementById("notice");
    if (p) { p.textContent = words; }
  };
  document.addEventListener("htmx:responseError", function (event) {
    notice(event.detail.xhr.responseText || "The change was not kept; try again.");
  });
  document.addEventListener("htmx:sendError", function () {
    notice("The workroom cannot be reached. Plan and papers are made there.");
  });
  // A phone shares the quote as a file; where it cannot, the file opens.
  var share = document.getElementById("share");
  if (share && navigator.share && navigator.canShare) {
    share.addEventListener("click", function (event) {
      event.preventDefault();
      fetch(share.href).then(function (answer) {
        if (!answer.ok) { location.href = share.href; return null; }
        return answer.blob().then(function (blob) {
          var file = new File([blob], share.dataset.share + ".pdf", { type: "application/pdf" });
          if (navigator.canShare({ files: [file] })) { return navigator.share({ files: [file], title: share.dataset.share }); }
          location.href = share.href;
        });
      }).catch(function () {});
    });
  }
  // Settings keep themselves.
  var settings = document.querySelector("form[action^='/shop?']");
  if (settings) {
    settings.addEventListener("change", function () {
      fetch(settings.action, { method: "POST", body: new URLSearchParams(new FormData(settings)), headers: { "HX-Request": "true" } }).then(function (answer) {
        return answer.ok ? notice("Saved. New jobs start from it.") : answer.text().then(notice);
      }).catch(function () { notice("Not saved: the workroom cannot be reached."); });
    });
  }
  // What a link leads to is never folded away.
  var unfold = function () {
    var at = location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    for (var d = at; d; d = d.parentElement) { if (d.tagName === "DETAILS") { d.open = true; } }
    if (at) { at.scrollIntoView(); }
  };
  window.addEventListener("hashchange", unfold);
  unfold();
  if ("serviceWorker" in navigator && !/^(door|trust)$/.test(document.body.className)) { navigator.serviceWorker.register("/worker.js").catch(function () {}); }
  var job = document.querySelector("main[data-job]"), plan = document.getElementById("plan");
  if (!job || !plan) { return; }
  var shown = plan.dataset.over === "true" ? Number(plan.dataset.revision) : null;
  var source = new EventSource("/job/" + job.dataset.job + "/live");
  source.addEventListener("standing", function (event) {
    var s = JSON.parse(event.data);
    var bar = document.querySelector("#search progress");
    if (bar) { bar.value = s.done; }
    if (s.over && shown !== s.revision) {
      shown = s.revision;
      window.htmx.ajax("GET", "/job/" + job.dataset.job + "/plan/part", { target: "#plan", swap: "outerHTML" });
    }
  });
})();
