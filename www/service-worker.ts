/** Keeps the whole page on the device: works offline after the first visit, updates when the page says so. */

const worker = self as unknown as ServiceWorkerGlobalScope;

const CACHE = `meltmargin-${BUILD_ID}`;

worker.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll([...BUILD_FILES])));
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) {
        if (name.startsWith("meltmargin-") && name !== CACHE) await caches.delete(name);
      }
      await worker.clients.claim();
    })(),
  );
});

// A new version waits until the page, with the person's consent, sends this.
worker.addEventListener("message", ({ data }) => {
  if (data === "take-over") void worker.skipWaiting();
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || new URL(request.url).origin !== worker.location.origin) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(CACHE);
      // The page is kept by the name of its folder, and may be asked for by its own.
      const { pathname } = new URL(request.url);
      const byName = pathname === new URL("index.html", worker.registration.scope).pathname;
      const kept = await cache.match(byName ? worker.registration.scope : request, { ignoreSearch: true });
      return kept ?? fetch(request);
    })(),
  );
});
