/** Takes the place of a service worker that is no longer wanted: drops what it kept, and goes. */
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));

worker.addEventListener("install", () => worker.skipWaiting());

worker.addEventListener("activate", (event) => event.waitUntil(leave()));

async function leave() {
  const { scope } = worker.registration;
  const ours = (await caches.keys()).filter((name) => name.startsWith("bench ") && name.endsWith(` ${scope}`));
  await Promise.all(ours.map((name) => caches.delete(name)));
  await worker.registration.unregister();
  const pages = await worker.clients.matchAll({ type: "window" });
  await Promise.all(pages.map((page) => page.navigate(page.url)));
}
