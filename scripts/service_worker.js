/**
 * The service worker: keeps whole editions of the book for use without a network.
 *
 * scripts/service_worker.py puts `workbox` and `EDITION` before this text. An edition is one build
 * of the site. Its pages are kept all or none; the Python that the calculators need, which is
 * large, is kept when a page asks. A page gets files of its own edition and of no other, also
 * while a newer edition is at work. A page talks to this worker by {bench: deed} with a port for
 * the answer; this worker asks a page by {bench: "edition"}.
 */
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const { scope } = worker.registration;
const NETWORK_PATIENCE = 10_000; // ms; a page that we do not keep, on a network that does not answer
const PAGE_PATIENCE = 1_000; // ms; a page that does not say which edition it is

/** @param {string} kind @param {string | null} name */
const cacheName = (kind, name) => `bench ${kind} ${name} ${scope}`;
/** @param {string} path */
const absolute = (path) => new URL(path, scope).href;

const pagesCache = cacheName("pages", EDITION.edition);
const pythonCache = cacheName("python", EDITION.release);
const pages = new workbox.precaching.PrecacheController({ cacheName: pagesCache });
pages.strategy.matchOptions = { ignoreVary: true }; // the bytes were checked; how they were sent does not matter
pages.addToCacheList(EDITION.pages);

const pythonFiles = new Map(EDITION.python.map((file) => [absolute(file.url), file]));
const python = new workbox.strategies.CacheFirst({
  cacheName: pythonCache,
  matchOptions: { ignoreVary: true },
  plugins: [
    {
      handlerWillStart: async ({ request: { url } }) => {
        const file = pythonFiles.get(url);
        if (file) await adopt(file);
      },
      requestWillFetch: async ({ request: { url } }) => new Request(url, { integrity: pythonFiles.get(url)?.integrity }),
    },
  ],
});

/** @type {Map<string, string | null>} client's id to its edition; null for one that came from the network */
const editions = new Map();
/** @type {Promise<void> | undefined} */
let keeping;

worker.addEventListener("install", (event) => pages.install(event));

worker.addEventListener("activate", (event) => {
  pages.activate(event);
  event.waitUntil(worker.clients.claim()); // safe: each page is still answered by its own edition
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(scope) || request.headers.has("range")) return;
  event.respondWith(request.mode === "navigate" ? page(event) : file(event));
});

worker.addEventListener("message", (event) => {
  /** @type {Object<string, (event: ExtendableMessageEvent) => Promise<any>>} */
  const deeds = { state, keep, inherit, tidy, "take over": () => worker.skipWaiting() };
  const deed = deeds[event.data?.bench];
  const [port] = event.ports;
  if (!deed) return;
  event.waitUntil(
    deed(event).then(
      (answer) => port?.postMessage({ answer }),
      (error) => port?.postMessage({ failed: String(error) }),
    ),
  );
});

/** A page that a reader goes to: of this edition if it has one, else from the network. @param {FetchEvent} event */
async function page(event) {
  const address = plain(event.request.url);
  if (pages.getCacheKeyForURL(address)) {
    try {
      const response = await kept(event, address);
      remember(event.resultingClientId, EDITION.edition);
      return response;
    } catch {
      // lost from the cache, and replaced on the server: there, page and files are of one edition again
    }
  } else if (pages.getCacheKeyForURL(`${address}/`)) {
    return Response.redirect(`${address}/${new URL(event.request.url).search}`);
  }
  remember(event.resultingClientId, null);
  try {
    return await soon(fetch(event.request), NETWORK_PATIENCE);
  } catch {
    remember(event.resultingClientId, EDITION.edition);
    const { body, headers } = await kept(event, absolute("404.html"));
    return new Response(body, { status: 404, headers });
  }
}

/** Anything that a page or its worker asks for. @param {FetchEvent} event */
async function file(event) {
  const { request } = event;
  const address = plain(request.url);
  if (pythonFiles.has(address)) return python.handle({ event, request: new Request(address) });
  const ours = Boolean(pages.getCacheKeyForURL(address));
  if (ours && address.startsWith(absolute(`assets/${EDITION.release}/`))) return kept(event, address);

  const edition = await editionOf(event);
  if (edition === EDITION.edition) return ours ? kept(event, address) : fetch(request);
  if (edition === undefined) return Response.error(); // nobody knows whose it is: the page is fetched anew instead
  return (await fromOthers(edition, address)) ?? fetch(request);
}

/**
 * From this edition's cache; what is missing there is fetched, checked and put back.
 * @param {ExtendableEvent} event
 * @param {string} address
 */
function kept(event, address) {
  const cacheKey = pages.getCacheKeyForURL(address) ?? address;
  const params = { cacheKey, integrity: pages.getIntegrityForCacheKey(cacheKey) };
  return pages.strategy.handle({ event, request: new Request(address, { cache: "no-cache" }), params });
}

/** From an older edition, kept because a page of it is still open. @param {string | null} edition @param {string} address */
async function fromOthers(edition, address) {
  const names = (await ourCaches()).filter(
    (name) => name === cacheName("pages", edition) || (name.startsWith("bench python ") && name !== pythonCache),
  );
  for (const name of names) {
    const found = await caches.match(address, { cacheName: name, ignoreSearch: true, ignoreVary: true });
    if (found) return found;
  }
  return undefined;
}

/** @returns {Promise<string | null | undefined>} null: of the network; undefined: nobody can tell @param {FetchEvent} event */
async function editionOf({ clientId, request }) {
  if (editions.has(clientId)) return editions.get(clientId);
  const client = await worker.clients.get(clientId);
  if (client?.type !== "window") return EDITION.edition;
  const told = await soon(editionToldBy(client), PAGE_PATIENCE).catch(() => undefined);
  if (told) {
    remember(clientId, told.edition);
    return told.edition;
  }
  const alone = (await ourCaches()).every((name) => name === pagesCache || !name.startsWith("bench pages "));
  return alone || request.destination ? EDITION.edition : undefined;
}

/** @param {string} clientId @param {string | null} edition */
function remember(clientId, edition) {
  if (clientId) editions.set(clientId, edition); // some browsers do not say which page a navigation leads to
}

/** @param {Client} client */
function editionToldBy(client) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    client.postMessage({ bench: "edition" }, [port2]);
  });
}

/** What is really in the caches, in bytes. @param {ExtendableMessageEvent} event */
async function state({ data }) {
  const count = (/** @type {KeptFile[]} */ files) => files.reduce((sum, { size }) => sum + size, 0);
  const [pagesHeld, pythonHeld] = [await held(pagesCache, EDITION.pages), await held(pythonCache, EDITION.python)];
  const needed = await neededOf(pythonHeld, data.stock);
  return {
    edition: EDITION.edition,
    pages: { have: count([...pagesHeld]), all: count(EDITION.pages) },
    python: { have: count(needed.filter((file) => pythonHeld.has(file))), all: count(needed) },
    keeping: Boolean(keeping),
  };
}

/**
 * The files that Python needs to start in this browser: those of a stock start only where it came to that; of the
 * wasm the one that is kept, else as it is if the host sends it by Brotli, else as it is packed.
 * @param {Set<KeptFile>} pythonHeld
 * @param {boolean} stock
 */
async function neededOf(pythonHeld, stock) {
  const all = stock || [...pythonHeld].some((file) => file.stock);
  const either = EDITION.python.filter(({ brotli }) => brotli !== undefined);
  const { brotli } = either.find((file) => pythonHeld.has(file)) ?? { brotli: await sentByBrotli(either) };
  return EDITION.python.filter((file) => (all || !file.stock) && (file.brotli ?? brotli) === brotli);
}

/** Whether the host sends so what it may: a script says it without a byte, then it is asked. @param {KeptFile[]} files */
async function sentByBrotli(files) {
  const isBrotli = (/** @type {Response | undefined} */ response) => response?.headers.get("Content-Encoding") === "br";
  const script = absolute(`assets/${EDITION.release}/python-worker.js`);
  const kept = await caches.match(pages.getCacheKeyForURL(script) ?? script, { cacheName: pagesCache, ignoreVary: true });
  const file = files.find(({ brotli }) => brotli);
  if (!file || !isBrotli(kept)) return false;
  return isBrotli(await fetch(absolute(file.url), { method: "HEAD" }).catch(() => undefined));
}

/**
 * A file of the wrong length counts for nothing, and is dropped so that it is fetched anew.
 *
 * @returns {Promise<Set<KeptFile>>} those of the files that are in the cache, whole
 * @param {string} name
 * @param {KeptFile[]} files
 */
async function held(name, files) {
  if (!(await caches.has(name))) return new Set();
  const cache = await caches.open(name);
  const whole = await Promise.all(
    files.map(async ({ url, size }) => {
      const key = pages.getCacheKeyForURL(absolute(url)) ?? absolute(url);
      const response = await cache.match(key, { ignoreVary: true });
      if (response && (await response.blob()).size === size) return true;
      if (response) await cache.delete(key, { ignoreVary: true });
      return false;
    }),
  );
  return new Set(files.filter((_, index) => whole[index]));
}

/** Fetch what is missing: of the pages always, of Python when wanted. @param {ExtendableMessageEvent} event */
async function keep(event) {
  while (keeping) await keeping.catch(() => {});
  keeping = keepAll(event).finally(() => (keeping = undefined));
  await keeping;
}

/** @param {ExtendableMessageEvent} event */
async function keepAll(event) {
  const pagesHeld = await held(pagesCache, EDITION.pages);
  for (const file of EDITION.pages.filter((file) => !pagesHeld.has(file))) await kept(event, absolute(file.url));
  if (!event.data.python) return;
  const pythonHeld = await held(pythonCache, EDITION.python);
  for (const file of (await neededOf(pythonHeld, event.data.stock)).filter((file) => !pythonHeld.has(file))) {
    const [response, done] = python.handleAll({ event, request: new Request(absolute(file.url)) });
    await response;
    await done;
  }
}

/** Take over all that costs no bytes. */
async function inherit() {
  for (const file of EDITION.python) if (!file.stock) await adopt(file);
}

/** Take a file of Python over from an older release, where the same bytes stand under another name. @param {KeptFile} file */
async function adopt({ url, integrity }) {
  const mine = await caches.open(pythonCache);
  if (await mine.match(absolute(url), { ignoreVary: true })) return;
  const name = url.slice(url.lastIndexOf("/"));
  for (const other of (await ourCaches()).filter((cache) => cache.startsWith("bench python ") && cache !== pythonCache)) {
    const cache = await caches.open(other);
    for (const key of (await cache.keys()).filter((request) => request.url.endsWith(name))) {
      const found = await cache.match(key, { ignoreVary: true });
      if (!found) continue;
      const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", await found.clone().arrayBuffer()));
      if (`sha256-${btoa(String.fromCharCode(...digest))}` === integrity) return mine.put(absolute(url), found);
    }
  }
}

/**
 * Drop the caches that no open page needs; when a page does not answer, none is dropped. Older Python
 * stays until ours is whole, for what can be taken over from it.
 */
async function tidy() {
  if (worker.registration.installing || worker.registration.waiting) return;
  const all = await worker.clients.matchAll({ includeUncontrolled: true, type: "window" });
  const open = all.filter(({ url }) => url.startsWith(scope));
  const told = await Promise.all(open.map((client) => soon(editionToldBy(client), PAGE_PATIENCE)));
  const needed = new Set([pagesCache, pythonCache]);
  for (const { edition, release } of told) {
    needed.add(cacheName("pages", edition));
    needed.add(cacheName("python", release));
  }
  const pythonHeld = await held(pythonCache, EDITION.python);
  const hungry = (await neededOf(pythonHeld, false)).some((file) => !pythonHeld.has(file));
  for (const name of await ourCaches())
    if (!needed.has(name) && !(hungry && name.startsWith("bench python "))) await caches.delete(name);
}

async function ourCaches() {
  return (await caches.keys()).filter((name) => name.startsWith("bench ") && name.endsWith(` ${scope}`));
}

/** The address without question and mark, and with a folder for its index.html. @param {string} address */
function plain(address) {
  const url = new URL(address);
  url.search = url.hash = "";
  return url.href.replace(/\/index\.html$/, "/");
}

/** @param {Promise<any>} promise @param {number} patience */
function soon(promise, patience) {
  return new Promise((resolve, reject) => {
    promise.then(resolve, reject);
    setTimeout(() => reject(new Error("no answer in time")), patience);
  });
}
