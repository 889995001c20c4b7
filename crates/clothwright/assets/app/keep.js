// What was measured is kept on this device first, and sent in order; each change has a name of its own,
// so that the workroom takes it once however often it is sent.

const BASE = "clothwright";
const PAUSE = 250;
const LONGEST_WAIT = 6000;

let opening = null;

function open() {
  opening ??= new Promise((done, fail) => {
    const ask = indexedDB.open(BASE, 1);
    ask.onupgradeneeded = () => {
      const base = ask.result;
      base.createObjectStore("job", { keyPath: "key" });
      base.createObjectStore("out", { keyPath: "seq", autoIncrement: true });
      base.createObjectStore("photo", { keyPath: "name" });
      base.createObjectStore("misc");
    };
    ask.onsuccess = () => done(ask.result);
    ask.onerror = () => fail(ask.error);
  });
  return opening;
}

function asked(request) {
  return new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
}

async function within(store, mode, act) {
  const base = await open();
  const transaction = base.transaction(store, mode);
  const kept = new Promise((done, fail) => {
    transaction.oncomplete = done;
    transaction.onerror = transaction.onabort = () => fail(transaction.error);
  });
  const result = await act(transaction.objectStore(store));
  await kept;
  return result;
}

export const local = {
  get: (store, key) => within(store, "readonly", (s) => asked(s.get(key))),
  all: (store) => within(store, "readonly", (s) => asked(s.getAll())),
  put: (store, value, key) => within(store, "readwrite", (s) => asked(s.put(value, key))),
  remove: (store, key) => within(store, "readwrite", (s) => asked(s.delete(key))),
};

/** A name or mark that nothing else has. */
export function fresh(letter) {
  const bytes = crypto.getRandomValues(new Uint8Array(9));
  return letter + [...bytes].map((b) => (b % 36).toString(36)).join("");
}

// How things stand: told to whoever listens.
export const standing = { reach: "unknown", waiting: 0, refused: 0, locked: false };
const listeners = new Set();
export function listen(to) {
  listeners.add(to);
  return () => listeners.delete(to);
}
function tell(event) {
  for (const to of [...listeners]) {
    to(event);
  }
}

async function count() {
  const out = await local.all("out");
  const photos = await local.all("photo");
  standing.waiting = out.filter((o) => !o.answer).length + photos.length;
  standing.refused = out.filter((o) => o.answer).length;
  tell({ kind: "standing" });
}

let token = null;

async function ask(path, options) {
  let answer;
  try {
    answer = await fetch(path, { ...options, credentials: "same-origin" });
  } catch {
    standing.reach = "away";
    throw new Error("away");
  }
  if (answer.url.endsWith("/enter")) {
    standing.locked = true;
    throw new Error("locked");
  }
  standing.locked = false;
  standing.reach = "here";
  return answer;
}

/** Asks the workroom for data; `null` if it cannot be reached or has none. */
export async function read(path) {
  try {
    const answer = await ask(path, {});
    tell({ kind: "standing" });
    return answer.ok ? await answer.json() : null;
  } catch {
    tell({ kind: "standing" });
    return null;
  }
}

async function send(path, body, again = true) {
  token ??= (await (await ask("/token", {})).json()).token;
  const is_form = body instanceof FormData || body instanceof URLSearchParams;
  const headers = { "X-Token": token, ...(is_form ? {} : { "Content-Type": "application/json" }) };
  const answer = await ask(path, { method: "POST", headers, body: is_form ? body : JSON.stringify(body) });
  if (answer.status === 403 && again) {
    token = null;
    return send(path, body, false);
  }
  return answer;
}

/** Sends something that is not kept if the workroom cannot be reached; whether it was taken. */
export async function order(path, body) {
  try {
    return (await send(path, body ?? {})).ok;
  } catch {
    return false;
  }
}

// Changes of one place that were not sent yet are one change.
export async function keep(job, change) {
  const out = await local.all("out");
  const last = out.findLast((o) => o.job === job);
  const joins = last && !last.sent && !last.answer && change.act === "put" && last.change.act === "put" && last.change.path === change.path;
  if (joins) {
    last.change.value = change.value;
    await local.put("out", last);
  } else {
    await local.put("out", { job, change: { name: fresh("c"), ...change }, at: Date.now(), sent: false });
  }
  await count();
  soon();
}

export async function keep_photo(job, piece, words, blob) {
  await local.put("photo", { name: fresh("f"), job, piece, words, at: Date.now(), blob });
  await count();
  soon();
}

export async function waiting(job) {
  return (await local.all("out")).filter((o) => o.job === job);
}

/** What was not taken is given up. */
export async function give_up(seq) {
  await local.remove("out", seq);
  await count();
}

let timer = null;
let wait = 1000;
function soon(after = PAUSE) {
  clearTimeout(timer);
  timer = setTimeout(push, after);
}

let pushing = false;
async function push() {
  if (pushing) {
    soon();
    return;
  }
  pushing = true;
  try {
    const alone = navigator.locks ? (act) => navigator.locks.request("clothwright-send", act) : (act) => act();
    await alone(push_all);
    wait = 1000;
  } catch {
    wait = Math.min(wait * 1.7, LONGEST_WAIT);
    soon(wait);
  } finally {
    pushing = false;
    await count();
  }
}

async function push_all() {
  for (;;) {
    const out = (await local.all("out")).filter((o) => !o.answer);
    if (out.length === 0) {
      break;
    }
    const job = out[0].job;
    const id = await number_of(job);
    if (String(id) === job) {
      await push_job(job, id, out.filter((o) => o.job === job).slice(0, 50));
    }
  }
  for (const photo of await local.all("photo")) {
    const id = await number_of(photo.job);
    await push_photo({ ...photo, job: String(id) }, id);
  }
}

/** The number of a job; one begun away gets it now, and what waits for it is kept under it. */
async function number_of(key) {
  if (/^\d+$/.test(key)) {
    return Number(key);
  }
  let id = await local.get("misc", `number of ${key}`);
  if (!id) {
    const job = await local.get("job", key);
    const answer = await send("/jobs/begin", { mark: key, name: job?.begun.name ?? "Job" });
    if (!answer.ok) {
      throw new Error(await answer.text());
    }
    id = (await answer.json()).id;
    await local.put("misc", id, `number of ${key}`);
    if (job) {
      await local.put("job", { ...job, key: String(id), id });
      await local.remove("job", key);
    }
  }
  for (const store of ["out", "photo"]) {
    for (const one of (await local.all(store)).filter((o) => o.job === key)) {
      await local.put(store, { ...one, job: String(id) });
    }
  }
  tell({ kind: "numbered", key, id });
  return id;
}

async function push_job(key, id, batch) {
  for (const one of batch.filter((o) => !o.sent)) {
    one.sent = true;
    await local.put("out", one);
  }
  const marks = batch.map((o) => /^piece\.@([^.]+)/.exec(o.change.path ?? "")?.[1] ?? o.change.values?.id ?? o.change.fresh).filter(Boolean);
  const answer = await send(`/job/${id}/changes`, { changes: batch.map((o) => o.change), pictures: [...new Set(marks)] });
  if (answer.status >= 500 || answer.status === 403) {
    throw new Error("later");
  }
  if (!answer.ok) {
    const why = await answer.text();
    for (const one of batch) {
      await local.put("out", { ...one, answer: { state: "refused", why } });
    }
    tell({ kind: "answered", key, answers: [] });
    return;
  }
  const told = await answer.json();
  // The sheet first: whoever no longer finds a change waiting finds it in the sheet.
  await store_sheet(key, told.sheet);
  for (const one of told.answers) {
    const mine = batch.find((o) => o.change.name === one.name);
    if (one.state === "taken") {
      await local.remove("out", mine.seq);
    } else {
      await local.put("out", { ...mine, answer: one });
    }
  }
  tell({ kind: "answered", key, answers: told.answers });
}

/** Keeps what the workroom says of a job; pictures it does not send stay as they are. */
export async function store_sheet(key, sheet) {
  const before = await local.get("job", key);
  // An answer that was asked for earlier may come later: it says less.
  if (before?.sheet && sheet.revision < before.sheet.revision) {
    return;
  }
  sheet.pictures = { ...(before?.sheet?.pictures ?? {}), ...sheet.pictures };
  await local.put("job", { ...(before ?? {}), key, id: sheet.id, sheet, seen: Date.now() });
}

async function push_photo(photo, id) {
  const form = new FormData();
  form.append("name", photo.name);
  form.append("piece", photo.piece);
  form.append("words", photo.words);
  form.append("photo", photo.blob);
  const answer = await send(`/job/${id}/photo`, form);
  if (answer.status >= 500 || answer.status === 403) {
    throw new Error("later");
  }
  await local.remove("photo", photo.name);
  tell({ kind: "photo", key: photo.job, refused: !answer.ok });
}

export function start() {
  window.addEventListener("online", () => soon(0));
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) {
      soon(0);
    }
  });
  navigator.storage?.persist?.();
  count().then(() => soon(0));
}
