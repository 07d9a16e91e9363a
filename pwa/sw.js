// The service worker: keeps the app's own files for use without a network, and sends what waits when the browser
// grants a moment for it (Background Sync). It holds no state: the browser ends it at will.
import { FILES, VERSION } from "./shell.js";
import { Api } from "./src/api.js";
import { open } from "./src/db.js";
import { isOthers } from "./src/outbox-rows.js";
import { Outbox } from "./src/outbox.js";

const CACHE = `hatchnote-shell-${VERSION}`;
const SHELL = new Set(FILES.map((f) => new URL(f, self.registration.scope).pathname));

self.addEventListener("install", (event) => {
  event.waitUntil(keep());
});

async function keep() {
  const cache = await caches.open(CACHE);
  // Asked anew from the server: a stale copy from the HTTP cache would be kept for as long as the version lasts.
  await cache.addAll(FILES.map((f) => new Request(f, { cache: "no-cache" })));
}

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("hatchnote-shell-") && name !== CACHE) await caches.delete(name);
      }
      await self.clients.claim();
    })(),
  );
});

// Only files of the shell are answered here. Everything else (the API, uploads, sound with its byte ranges, other
// pages) passes untouched to the network.
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin || request.headers.has("range")) return;
  if (!SHELL.has(url.pathname)) return;
  event.respondWith(
    caches.open(CACHE).then(async (cache) => (await cache.match(url.pathname, { ignoreSearch: true })) ?? fetch(request)),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});

self.addEventListener("sync", (event) => {
  if (event.tag === "outbox") event.waitUntil(sendWaiting());
});

async function sendWaiting() {
  const db = await open();
  try {
    const api = new Api();
    await api.whoAmI();
    const outbox = new Outbox(db, api);
    await outbox.kick();
    // Rejecting makes the browser try again later.
    if ((await outbox.rows()).some((r) => r.state === "waiting" && !isOthers(r, api.me.id))) throw new Error("not everything is sent yet");
  } finally {
    db.close();
  }
}
