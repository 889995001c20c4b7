// A job as this page shows it: what the workroom said last, with what was changed here on top.

import { fresh, give_up, keep, listen, local, read, store_sheet, waiting } from "./keep.js";

export const model = { key: "", id: null, sheet: null, values: null, kinds: null, common: [], uses: [], places: [], sorts: [], out: [] };

const listeners = new Set();
/** Told whenever a value, a fault, a price or a state changes; forgotten with the screen. */
export function on_change(act) {
  listeners.add(act);
  act();
}
export function forget_listeners() {
  listeners.clear();
}
function changed() {
  for (const act of [...listeners]) {
    act();
  }
}

export function entries(list) {
  return model.values?.[list] ?? [];
}
export function entry(list, mark) {
  return entries(list).find((e) => e.id === mark);
}

function step(here, key, list) {
  if (key.startsWith("@")) {
    return (here ?? []).find?.((e) => e.id === key.slice(1));
  }
  return here?.[key];
}

/** The value at a place such as `piece.@p1.width`. */
export function value(path) {
  return path.split(".").reduce((here, key) => step(here, key), model.values);
}

function put_into(values, path, to) {
  const keys = path.split(".");
  const last = keys.pop();
  let here = values;
  for (const key of keys) {
    let next = step(here, key);
    if (next === undefined) {
      if (key.startsWith("@")) {
        return;
      }
      next = here[key] = {};
    }
    here = next;
  }
  if (to === null || to === "" || to === undefined) {
    delete here[last];
  } else {
    here[last] = to;
  }
}

function apply(values, change) {
  const all = (values[change.list] ??= []);
  const at = all.findIndex?.((e) => e.id === change.mark) ?? -1;
  if (change.act === "add" && all.some((e) => e.id === change.values.id)) {
    return;
  }
  if (change.act === "put") {
    put_into(values, change.path, change.value);
  } else if (change.act === "add") {
    all.push(structuredClone(change.values));
  } else if (change.act === "move" && at >= 0) {
    if (change.what === "remove") {
      all.splice(at, 1);
    } else if (["copy", "mirror"].includes(change.what) && all.some((e) => e.id === change.fresh)) {
      return;
    } else if (change.what === "copy") {
      const copy = structuredClone(all[at]);
      all.splice(at + 1, 0, { ...copy, id: change.fresh, name: free_name(change.list, copy.name) });
    } else if (change.what === "mirror") {
      all.splice(at + 1, 0, { id: change.fresh, name: `${all[at].name}, mirror image`, mirror_of: all[at].name });
    } else {
      const other = change.what === "up" ? at - 1 : at + 1;
      if (all[other]) {
        [all[at], all[other]] = [all[other], all[at]];
      }
    }
  }
}

function combine() {
  model.values = structuredClone(model.sheet.values);
  for (const one of model.out.filter((o) => !o.answer)) {
    apply(model.values, one.change);
  }
}

async function make(change) {
  apply(model.values, change);
  if (change.act === "put" && change.path.endsWith(".name")) {
    rename(change);
  }
  changed();
  await keep(model.key, change);
  // What came from the workroom meanwhile may not have known of it.
  await load_kept();
}

// Pieces follow a material that is called otherwise, as they do in the workroom.
function rename(change) {
  const list = change.path.split(".")[0];
  if (!["cloth", "foam", "board"].includes(list) || !change.value || !change.was) {
    return;
  }
  const named = (key) => (list === "cloth" ? key === "cloth" || key.endsWith("_cloth") : key === list);
  const follow = (inner) => {
    for (const [key, now] of Object.entries(inner)) {
      if (named(key) && now === change.was) {
        inner[key] = change.value;
      } else if (now && typeof now === "object") {
        follow(now);
      }
    }
  };
  entries("piece").forEach(follow);
}

function same(a, b) {
  const plain = (v) => (v === null || v === undefined ? "" : typeof v === "object" ? JSON.stringify(v) : String(v).trim());
  return plain(a) === plain(b);
}

/** Sets a value here at once; it is kept and sent by itself. */
export function set(path, to) {
  const was = structuredClone(value(path) ?? null);
  if (same(was, to)) {
    return Promise.resolve();
  }
  const before = model.out.findLast((o) => o.answer?.state === "differs" && o.change.path === path);
  const on = before ? before.answer.theirs : was;
  return (before ? give_up(before.seq) : Promise.resolve()).then(() => make({ act: "put", path, value: to === "" ? null : to, was: on }));
}

export function free_name(list, stem) {
  const taken = new Set(entries(list).map((e) => e.name));
  for (let n = 1; ; n += 1) {
    const name = n === 1 ? stem : `${stem} ${n}`;
    if (!taken.has(name)) {
      return name;
    }
  }
}

/** One more entry; its mark. */
export async function add(list, values) {
  const mark = fresh(list[0]);
  await make({ act: "add", list, values: { id: mark, ...values } });
  return mark;
}

export async function move(list, mark, what) {
  const copy = fresh(list[0]);
  await make({ act: "move", list, mark, what, fresh: copy });
  return copy;
}

export const lines = (list, mark, text) => make({ act: "lines", list, mark, lines: text });
export const stage = (to) => {
  model.sheet.stage = to;
  return make({ act: "stage", value: to });
};

/** Faults at a place or within it. */
export function faults(path) {
  return (model.sheet?.faults ?? []).filter((f) => (f.path === path || f.path.startsWith(`${path}.`)) && !is_filled(f));
}

/** Whether what was missing when the workroom looked has been filled in since. */
function is_filled(fault) {
  const now = fault.code === "missing" ? value(fault.path) : undefined;
  return now !== undefined && now !== null && now !== "";
}

/** How the value at a place stands: waiting, refused or differing, if anything. */
export function state(path) {
  return model.out.findLast((o) => o.change.act === "put" && o.change.path === path);
}

export async function choose(one, take_mine) {
  await give_up(one.seq);
  if (take_mine) {
    await make({ act: "put", path: one.change.path, value: one.change.value, was: one.answer.theirs });
  } else {
    put_into(model.values, one.change.path, one.answer.theirs);
  }
  model.out = await waiting(model.key);
  changed();
}

export async function refresh() {
  if (!model.id) {
    return;
  }
  const sheet = await read(`/job/${model.id}/sheet`);
  if (sheet) {
    await store_sheet(model.key, sheet);
    await load_kept();
  }
}

async function load_kept() {
  // What waits is read before the sheet: what was sent in between stands in one or in both.
  const out = await waiting(model.key);
  const kept = await local.get("job", model.key);
  if (!kept) {
    return false;
  }
  model.sheet = kept.sheet;
  model.id = kept.id ?? null;
  model.out = out;
  combine();
  changed();
  return true;
}

async function load_kinds() {
  const kept = await local.get("misc", "kinds");
  const use = (all) => {
    model.kinds = new Map(all.kinds.map((k) => [k.name, k]));
    model.common = all.common;
    model.uses = all.uses ?? [];
    model.places = all.places ?? [];
    model.sorts = all.sorts ?? [];
  };
  if (kept) {
    use(kept);
  }
  const newest = read("/kinds").then(async (all) => {
    if (all) {
      use(all);
      await local.put("misc", all, "kinds");
    }
  });
  if (!kept) {
    await newest;
  }
}

/** Loads a job: what is kept here at once, then what the workroom says. Whether there is such a job. */
export async function load(key) {
  Object.assign(model, { key, id: /^\d+$/.test(key) ? Number(key) : null, sheet: null, values: null, out: [] });
  await load_kinds();
  const had = await load_kept();
  if (model.id) {
    if (had) {
      refresh();
    } else {
      await refresh();
    }
  }
  return Boolean(model.sheet && model.kinds);
}

/** A job begun here; its key until the workroom gives it a number. */
export async function begin(name) {
  const start = (await read("/start")) ?? (await local.get("misc", "start"));
  if (!start) {
    return null;
  }
  const key = fresh("k");
  const values = structuredClone(start);
  values.job.name = name;
  const sheet = { id: null, name, stage: "measured", revision: 0, values, faults: [], pictures: {}, photos: [], plan: null, over: true };
  await local.put("job", { key, id: null, begun: { name }, sheet, seen: Date.now() });
  return key;
}

export function follow() {
  listen(async (event) => {
    if (event.kind === "numbered" && event.key === model.key) {
      model.id = event.id;
      model.key = String(event.id);
      history.replaceState(null, "", location.pathname.replace(`/job/${event.key}`, `/job/${event.id}`));
      connect();
    }
    if (event.kind === "answered" && event.key === model.key) {
      await load_kept();
    }
    if (event.kind === "photo" && event.key === model.key) {
      await refresh();
    }
    changed();
  });
  let source = null;
  const connect = () => {
    source?.close();
    if (!model.id) {
      return;
    }
    source = new EventSource(`/job/${model.id}/live`);
    source.addEventListener("standing", (event) => {
      const said = JSON.parse(event.data);
      const newer = said.revision > (model.sheet?.revision ?? 0);
      const found = said.over && said.revision === model.sheet?.revision && !model.sheet.over;
      if (newer || found) {
        refresh();
      }
    });
  };
  connect();
}
