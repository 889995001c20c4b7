// The frame round every screen of a job: head, steps, price, and where things stand.

import { h, icon, speak } from "./draw.js";
import { listen, order, standing } from "./keep.js";
import { entries, forget_listeners, model, on_change, refresh, stage, value } from "./model.js";

const STAGES = ["measured", "quoted", "ordered", "cut", "covered", "fitted", "paid"];

export const is_wide = () => window.matchMedia("(min-width: 1024px)").matches;

let router = null;
export function route_with(act) {
  router = act;
}

/** Where a screen of this job is found. */
export function address(step, mark, more) {
  return ["/job", model.key, step, mark, more].filter((part) => part !== undefined && part !== null && part !== "").join("/");
}

/** Shows another screen of this job, without leaving the page. */
export function go(step, mark, more) {
  history.pushState(null, "", address(step, mark, more));
  router();
}

/** Draws a screen anew; what listened for the last one is forgotten. */
export function screen({ step, class: name, back, title, under, more, bare }, ...children) {
  document.body.className = `app ${name ?? ""}${bare ? " bare" : ""}`;
  const job_name = model.values?.job?.name ?? "";
  document.title = `${title ?? job_name} — Clothwright`;
  const head = document.getElementById("top");
  head.replaceChildren(
    back ? h("button", { type: "button", class: "b round", "aria-label": "back", onclick: back }, icon("back")) : h("a", { class: "b round", "aria-label": "all jobs", href: "/" }, icon("back")),
    h("div", { class: "grow" }, h("h1", { class: "one" }, title ?? job_name), under ?? ""), h("span", { id: "state" }), more ?? menu());
  for (const link of document.querySelectorAll("[data-step]")) {
    link.href = address(link.dataset.step);
    if (link.dataset.step === step) {
      link.setAttribute("aria-current", "page");
    } else {
      link.removeAttribute("aria-current");
    }
  }
  const main = document.getElementById("main");
  main.className = name ?? "";
  main.replaceChildren(...children.flat().filter(Boolean));
  on_change(() => {
    draw_state();
    draw_docket();
    draw_head();
  });
  window.scrollTo(0, 0);
  const heading = main.querySelector("[tabindex='-1']");
  heading?.focus({ preventScroll: true });
}

function menu() {
  const links = [["bench", "Bench"], ["goods", "Cloth"], ["hours", "Hours"], ["money", "Money"], ["versions", "History"], ["by-hand/0", "Move parts by hand"]].map(([to, words]) => h("a", { href: address(to) }, words));
  const undone = h("button", { type: "button", class: "plain", onclick: undo }, "Undo");
  return h("details", { class: "menu only-small" }, h("summary", { class: "b round", "aria-label": "more" }, icon("more")), h("div", { class: "sheet" }, links, undone));
}

/** One step back, in the workroom; what waits to be sent goes first. */
async function undo() {
  if (standing.waiting > 0 || !(await order(`/job/${model.id}/undo`))) {
    speak("nothing undone");
    document.getElementById("notice").textContent = standing.reach === "away" ? "Undo works when the workroom can be reached." : "There is nothing to undo.";
    setTimeout(() => document.getElementById("notice").replaceChildren(), 4000);
    return;
  }
  await refresh();
  router();
}

export function state_words() {
  if (standing.locked) {
    return ["no", "fault", "Enter the pass phrase"];
  }
  if (standing.refused > 0) {
    return ["no", "fault", `${standing.refused} not taken`];
  }
  if (standing.waiting > 0 && standing.reach === "away") {
    return ["wait", "clock", `${standing.waiting} waiting`];
  }
  if (standing.waiting > 0) {
    return ["ok", "clock", "Saving"];
  }
  return ["ok", "tick", "Saved"];
}

export function draw_state() {
  const [name, mark, words] = state_words();
  for (const place of document.querySelectorAll("#state, .state-wide")) {
    const link = standing.locked ? h("a", { href: "/enter" }, words) : name === "no" ? h("button", { type: "button", class: "plain", onclick: show_refused }, words) : words;
    place.className = `st ${name} ${place.id === "state" ? "" : "state-wide"}`;
    place.replaceChildren(icon(mark, true), h("span", { class: name === "ok" ? "from640" : "" }, link));
  }
  const band = document.getElementById("away");
  const is_away = standing.reach === "away";
  band.hidden = !is_away;
  if (is_away) {
    band.replaceChildren(icon("away"), h("span", {}, h("b", {}, "Away from the workroom. "), standing.waiting > 0 ? `${standing.waiting} ${standing.waiting === 1 ? "change is" : "changes are"} kept on this device and go by themselves when you are back; closing the page loses nothing.` : "What you measure is kept on this device and goes by itself when you are back."));
  }
}

function show_refused() {
  const first = model.out.find((o) => o.answer);
  const found = first?.change.path ?? "";
  const mark = /^piece\.@([^.]+)/.exec(found)?.[1];
  if (mark) {
    go("pieces", mark);
  } else {
    go(found.startsWith("job") || found.startsWith("customer") ? "details" : "materials");
  }
}

function left_out() {
  const plan = model.sheet?.plan;
  if (plan) {
    return entries("piece").filter((p, i) => !plan.pieces.includes(i + 1)).map((p) => p.name);
  }
  const marks = new Set((model.sheet?.faults ?? []).map((f) => /^piece\.@([^.]+)/.exec(f.path)?.[1]).filter(Boolean));
  return entries("piece").filter((p) => marks.has(p.id)).map((p) => p.name);
}

function draw_docket() {
  const plan = model.sheet?.plan;
  const waits = model.out.some((o) => !o.answer);
  const without = left_out();
  const price = plan?.price ?? null;
  const line = document.getElementById("docket-line");
  const first = plan?.buys.find((b) => !b.own);
  const note = waits ? (standing.reach === "away" ? "price when back" : "…") : without.length > 0 ? `without ${without.length === 1 ? without[0] : `${without.length} pieces`}` : "";
  line?.replaceChildren(h("b", { class: waits ? "old" : "" }, price ?? (entries("piece").length > 0 && plan ? "no price yet" : "–")), h("span", { class: "one" }, first ? `${first.amount} ${first.name}` : waits ? "" : "Add measures to see the price"), h("span", { class: "quiet one" }, note));
  const docket = document.getElementById("docket");
  docket?.replaceChildren(
    h("p", { class: "quiet small" }, plan?.tax ? `To the customer, with ${plan.tax}` : "To the customer"),
    h("p", { class: waits ? "figure-price old" : "figure-price" }, price ?? "–"),
    h("p", { class: "quiet small" }, note && note !== "…" ? note : ""),
    h("dl", {}, (plan?.buys ?? []).map((b) => [h("dt", {}, b.name), h("dd", {}, b.amount)]), plan ? [h("dt", {}, "Hours"), h("dd", {}, plan.hours)] : ""),
    ...(plan?.buys ?? []).filter((b) => b.claim && !b.own).map((b) => h("p", { class: "small claim" }, icon(b.proven ? "tick" : "clock", true), h("span", {}, h("b", {}, `${b.name}: `), b.claim, b.spare ? ` You have ${b.spare} to spare on every part.` : ""))),
    ...faults_elsewhere().map((f) => h("p", { class: "say bad" }, icon("fault", true), f)));
}

function faults_elsewhere() {
  return (model.sheet?.faults ?? []).filter((f) => !f.path.startsWith("piece.") && f.code !== "missing").map((f) => `${f.what}: ${f.remedy}`);
}

function draw_head() {
  const title = document.getElementById("job-title");
  if (!title) {
    return;
  }
  const v = (path) => value(path) ?? "";
  title.textContent = v("job.name");
  document.getElementById("job-about").textContent = [v("customer.name"), v("customer.address"), v("customer.contact"), v("job.due") && `due ${day(v("job.due"))}`, v("job.number") && `job ${v("job.number")}`].filter(Boolean).join(" · ");
  const now = STAGES.indexOf(model.sheet?.stage ?? "measured");
  for (const b of document.querySelectorAll(".progress [data-stage]")) {
    const at = STAGES.indexOf(b.dataset.stage);
    b.classList.toggle("done", at <= now);
    b.setAttribute("aria-pressed", String(at === now));
    b.onclick = () => stage(b.dataset.stage);
  }
}

/** "Fri 4 Dec", the year only when it is another. */
export function day(text) {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(text);
  if (!found) {
    return text;
  }
  const date = new Date(Number(found[1]), Number(found[2]) - 1, Number(found[3]));
  const is_other = date.getFullYear() !== new Date().getFullYear();
  return date.toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short", ...(is_other ? { year: "numeric" } : {}) }).replace(",", "");
}

export function progress() {
  return h("div", { class: "progress", role: "group", "aria-label": "how far the job is" }, STAGES.map((name) => h("button", { type: "button", "data-stage": name }, name.charAt(0).toUpperCase() + name.slice(1))));
}

export function start_shell() {
  listen(() => {
    draw_state();
  });
  document.getElementById("undo")?.addEventListener("click", undo);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-step]");
    if (link && ["details", "materials", "pieces"].includes(link.dataset.step) && !event.ctrlKey && !event.metaKey) {
      event.preventDefault();
      forget_listeners();
      go(link.dataset.step);
    }
  });
}

