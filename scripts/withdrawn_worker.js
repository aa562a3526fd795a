/** Takes the place of a service worker that is no longer wanted: drops what it kept, and goes. */
self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => event.waitUntil(leave()));

async function leave() {
  const { scope } = self.registration;
  const ours = (await caches.keys()).filter((name) => name.startsWith("bench ") && name.endsWith(` ${scope}`));
  await Promise.all(ours.map((name) => caches.delete(name)));
  await self.registration.unregister();
  const pages = await self.clients.matchAll({ type: "window" });
  await Promise.all(pages.map((page) => page.navigate(page.url)));
}
