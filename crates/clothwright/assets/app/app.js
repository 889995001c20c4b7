// The page of a job: finds the screen that its address names.

import { adding, pieces } from "./pieces.js";
import { details } from "./details.js";
import { h } from "./draw.js";
import { local, read, standing, start } from "./keep.js";
import { materials } from "./materials.js";
import { measure } from "./measure.js";
import { begin, follow, forget_listeners, load } from "./model.js";
import { draw_state, go, progress, route_with, screen, start_shell } from "./shell.js";
import { shape } from "./shape.js";

function route() {
  forget_listeners();
  const [, , , step, mark, more] = location.pathname.split("/").map(decodeURIComponent);
  const screens = { details, materials: () => materials(mark), pieces: () => pieces(mark), add: adding, measure: () => measure(mark, more), shape: () => shape(mark) };
  (screens[step] ?? elsewhere)();
}

/** A screen that the workroom draws, asked for away from it. */
function elsewhere() {
  screen({ step: location.pathname.split("/")[3], class: "form" }, h("div", { class: "sheet pad stack" }, h("h2", { tabindex: "-1" }, "The plan is made in the workroom."),
    h("p", {}, standing.waiting > 0 ? `${standing.waiting} ${standing.waiting === 1 ? "reading goes" : "readings go"} as soon as you are back.` : "It is here as soon as you are back."), h("button", { type: "button", class: "b", onclick: () => go("pieces") }, "To the pieces")));
}

function nothing(words) {
  document.getElementById("main").replaceChildren(h("div", { class: "pad stack" }, h("h2", {}, words), h("a", { class: "b", href: "/" }, "All jobs")));
}

/** Jobs that are kept on this device, while the workroom cannot be reached. */
async function list_kept() {
  const all = await local.all("job");
  const name = h("input", { id: "name", autocomplete: "off", required: true });
  document.body.className = "app away";
  document.getElementById("top").replaceChildren(h("div", { class: "grow" }, h("h1", {}, "Jobs on this device")), h("span", { id: "state" }));
  document.getElementById("main").replaceChildren(
    h("form", { class: "sheet pad stack", onsubmit: async (event) => {
      event.preventDefault();
      const key = await begin(name.value.trim());
      if (key) {
        location.href = `/job/${key}/details`;
      } else {
        nothing("Open the page once in the workroom first: new jobs start from the shop's settings.");
      }
    } }, h("label", { class: "f" }, h("span", { class: "lab" }, "New job"), h("span", { class: "in" }, name)), h("button", { class: "b strong wide" }, "Start job")),
    h("ul", { class: "list" }, all.sort((a, b) => b.seen - a.seen).map((j) => h("li", { class: "piece" }, h("a", { class: "line", href: `/job/${j.key}/pieces` }, h("span", { class: "grow" }, h("span", { class: "nm" }, j.sheet.values.job?.name ?? j.sheet.name), h("span", { class: "meas" }, j.sheet.values.customer?.name ?? "")))))));
  draw_state();
}

async function run() {
  start();
  start_shell();
  read("/start").then((all) => all && local.put("misc", all, "start"));
  const found = /^\/job\/([^/]+)/.exec(location.pathname);
  if (!found) {
    await list_kept();
    return;
  }
  document.getElementById("progress-place")?.replaceChildren(progress());
  let key = decodeURIComponent(found[1]);
  // A job begun away may have its number by now.
  const number = await local.get("misc", `number of ${key}`);
  if (number) {
    history.replaceState(null, "", location.pathname.replace(`/job/${key}`, `/job/${number}`));
    key = String(number);
  }
  if (!(await load(key))) {
    nothing("This job is not on this device, and the workroom cannot be reached.");
    draw_state();
    return;
  }
  follow();
  route_with(route);
  window.addEventListener("popstate", route);
  route();
}

if ("serviceWorker" in navigator) {
  navigator.serviceWorker.register("/worker.js").catch(() => {});
}
run();
