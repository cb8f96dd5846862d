// Keeps the field pages of one garden at hand. Data and lines are the page's own business: they
// live in IndexedDB, so that this script can be replaced at any time without touching them.

const CACHE = SETTINGS.prefix + SETTINGS.version;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    // "manual": a redirect to the sign-in page fails the installation instead of being kept as the page.
    const shell = new Request(SETTINGS.shell, { redirect: "manual", cache: "reload", credentials: "same-origin" });
    await cache.addAll([shell, ...SETTINGS.assets.map((url) => new Request(url, { cache: "reload" }))]);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    const old = names.filter((name) => name.startsWith(SETTINGS.prefix) && name !== CACHE);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const url = new URL(event.request.url);
  if (url.origin !== self.location.origin) return;
  const isShell = event.request.mode === "navigate" && url.pathname === SETTINGS.shell;
  if (isShell) {
    event.respondWith(answer(SETTINGS.shell, event.request));
  } else if (SETTINGS.assets.includes(url.pathname)) {
    event.respondWith(answer(url.pathname, event.request));
  }
});

async function answer(path, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}
