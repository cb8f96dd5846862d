// On a phone that has the field pages, a peg's address opens the row there, network or not.

const target = new URL(self.location.href).searchParams.get("to") ?? "";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const known = /^\/garden\/\d+\/field\/$/.test(target);
  if (!known || event.request.mode !== "navigate" || url.searchParams.has("card")) return;
  const code = url.pathname.split("/").filter(Boolean).pop() ?? "";
  event.respondWith(Response.redirect(`${target}#row=${code}`, 302));
});
