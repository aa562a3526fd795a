/** What must be in place before the theme's own script runs. */

/**
 * The theme's instant navigation knows the pages by the sitemap, and takes their addresses from it as
 * they stand there. Here they are made to fit where the site is really served: any host, port or folder.
 */
{
  const { src } = /** @type {HTMLScriptElement} */ (document.currentScript);
  const root = new URL("../../", src).href;
  const parse = DOMParser.prototype.parseFromString;
  DOMParser.prototype.parseFromString = function (text, type) {
    const parsed = parse.call(this, text, type);
    if (type === "text/html") return parsed;
    const places = [...parsed.querySelectorAll("urlset > url > loc")];
    const shortest = Math.min(...places.map((place) => place.textContent.length));
    for (const place of places) place.textContent = root + place.textContent.slice(shortest);
    return parsed;
  };
}

/**
 * The theme fetches the index of the search, and starts the worker that searches it, on every first page. Here
 * both wait until the reader heads for the search: the index weighs more than a page.
 */
{
  /** @type {Promise<void>} */
  const searching = new Promise((resolve) => {
    if (new URLSearchParams(location.search).has("q")) resolve();
    /** @param {Event} event */
    const isSearch = ({ target }) =>
      target instanceof Element && target.closest("[for=__search], #__search, .md-search") && resolve();
    for (const sign of ["focusin", "input", "change", "pointerover", "touchstart"])
      addEventListener(sign, isSearch, { passive: true, capture: true });
    addEventListener("keydown", ({ key }) => ["f", "s", "/"].includes(key) && resolve()); // the theme's keys for it
  });
  const { open, send } = XMLHttpRequest.prototype;
  const waiting = new WeakSet();
  XMLHttpRequest.prototype.open = function (/** @type {any[]} */ ...given) {
    if (String(given[1]).endsWith("/search/search_index.json")) waiting.add(this);
    return Reflect.apply(open, this, given);
  };
  XMLHttpRequest.prototype.send = function (body) {
    if (waiting.has(this)) searching.then(() => send.call(this, body));
    else send.call(this, body);
  };
  class LateWorker extends EventTarget {
    /** @type {Promise<Worker>} */
    #worker;
    /** @param {typeof Worker} kind @param {string | URL} address */
    constructor(kind, address) {
      super();
      this.#worker = searching.then(() => {
        const worker = new kind(address);
        worker.onmessage = ({ data }) => this.dispatchEvent(new MessageEvent("message", { data }));
        return worker;
      });
    }
    /** @param {unknown} message */
    postMessage(message) {
      this.#worker.then((worker) => worker.postMessage(message));
    }
  }
  globalThis.Worker = new Proxy(Worker, {
    construct: (kind, given) => (String(given[0]).includes("/workers/search.") ? new LateWorker(kind, given[0]) : Reflect.construct(kind, given)),
  });
}

/** A way back that only closes a sheet over the page (sheet.js) is no news for the theme: it would fetch that page anew. */
addEventListener("popstate", (event) => {
  if (!dispatchEvent(new CustomEvent("bench-back", { cancelable: true }))) event.stopImmediatePropagation();
});

/** A button of a question that is pressed, a step that is ticked before the question's own script has come, is so again, once, when it has. */
{
  const early = new WeakSet();
  /** @param {string} what @param {(control: HTMLElement) => void} deed */
  const again = (what, deed) => (/** @type {Event} */ { target }) => {
    const control = target instanceof Element && target.closest(`bench-question:not(:defined) :is(${what})`);
    if (!(control instanceof HTMLElement) || early.has(control)) return;
    early.add(control);
    customElements.whenDefined("bench-question").then(() => deed(control));
  };
  addEventListener("click", again("button", (control) => control.click()));
  addEventListener("change", again("input", (control) => control.dispatchEvent(new Event("change", { bubbles: true }))));
}
