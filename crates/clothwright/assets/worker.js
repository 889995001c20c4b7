// Keeps the page itself on the device, so that a job can be measured with no network at all.

const KEPT = "clothwright-VERSION";
const FILES = ["/away", "/kinds", "/assets/page.css", "/assets/htmx.js", "/assets/page.js", "/assets/plan.js", "/assets/icon.svg", "/assets/archivo.woff2", "/assets/app.js", "/assets/keep.js", "/assets/model.js", "/assets/draw.js", "/assets/fields.js", "/assets/kinds.js", "/assets/figure.js", "/assets/flat.js", "/assets/pieces.js", "/assets/measure.js", "/assets/shape.js", "/assets/details.js", "/assets/materials.js", "/assets/photos.js", "/assets/shell.js"];

// What leads elsewhere, such as to the door of the workroom, is not the page.
async function keep_all() {
  const kept = await caches.open(KEPT);
  await Promise.all(FILES.map(async (file) => {
    const answer = await fetch(new Request(file, { cache: "reload" }));
    if (!answer.ok || answer.redirected) {
      throw new Error(`${file} cannot be kept`);
    }
    await kept.put(file, answer);
  }));
}

self.addEventListener("install", (event) => {
  event.waitUntil(keep_all().then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(caches.keys().then((all) => Promise.all(all.filter((name) => name !== KEPT).map((name) => caches.delete(name)))).then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const place = new URL(request.url);
  if (request.method !== "GET" || place.origin !== location.origin) {
    return;
  }
  if (request.mode === "navigate") {
    // The workroom first; without it the page that is kept here shows what it has.
    event.respondWith(fetch(request).catch(() => caches.match("/away")));
  } else if (FILES.includes(place.pathname)) {
    event.respondWith(fetch(request).catch(() => caches.match(place.pathname)));
  }
});
