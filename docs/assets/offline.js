/**
 * Keeps the book on this device, and says truly how far that has come.
 *
 * The service worker (sw.js) does the keeping; nothing on the site needs it. Pages are kept when the
 * reader stays, Python when it was started anyway, and nothing unasked where bytes cost money: see
 * "Without a network" in DEVELOPERS.md. <bench-offline> is the line that says so.
 */
import { button, find, findAll, make } from "./elements.js";
import { ask, edition, pause, tellEdition, watch } from "./new-edition.js";
import { history } from "./python.js";

const STAYS = 5_000; // ms: who leaves sooner has nothing kept
const LOOK_AGAIN = 400; // ms, while keeping goes on
const PATIENCE = 5_000; // ms, with a service worker that says nothing

const NO_ADDRESS = "This address cannot be saved for offline use";
const NO_BROWSER = "This browser cannot save the book for offline use";
const SAVE = "Save for offline use";

const root = new URL("../../", import.meta.url).href;

/** These crash on a page with both a service worker and a module worker, and must do without the first. */
const crashes = /\bOS 16_4(_\d)?\b|\bVersion\/16\.4(\.\d+)? .*Safari\//.test(navigator.userAgent);
const offered = isSecureContext && "serviceWorker" in navigator && "caches" in globalThis;
const able = offered && !crashes;
const cameBack = able && Boolean(navigator.serviceWorker.controller);

/** @type {ServiceWorkerRegistration | undefined} */
let registration;
/** @typedef {{ have: number, all: number }} Held bytes */
/** @type {{python: boolean} | undefined} what is being kept just now */
let saving;
let setback = ""; // why keeping ended before its time
let shown = { words: "", offer: "" };

class BenchOffline extends HTMLElement {
  connectedCallback() {
    // instant navigation without a service worker may bring a page of another edition: that one is loaded whole
    if ((this.getAttribute("edition") ?? "") !== edition) return location.reload();
    this.replaceChildren(make("span"), button("", saveAsked));
    this.show();
    look();
  }

  show() {
    const offer = find(this, "button");
    find(this, "span").textContent = shown.words;
    offer.textContent = shown.offer;
    offer.hidden = !shown.offer;
  }
}

/** @param {string} words @param {string} [offer] */
function say(words, offer = "") {
  shown = { words, offer };
  for (const line of findAll(document, "bench-offline", BenchOffline)) line.show();
}

/** @returns {boolean | undefined} whether bytes cost money here; undefined where the browser does not tell */
function isMetered() {
  const { connection } = navigator;
  if (!connection) return undefined;
  const { saveData, effectiveType, type } = connection;
  return saveData || ["cellular", "bluetooth", "wimax"].includes(type ?? "") || (effectiveType ?? "4g") !== "4g";
}

const isPythonUsed = () => history.state !== "not started";
const mayKeepPages = () => isPythonUsed() || isMetered() !== true;
const mayKeepPython = () => isPythonUsed() || (cameBack && isMetered() === false);
const stock = () => history.way === "stock";

/** Look into the caches and say what is there. @returns {Promise<{pages: boolean, python: boolean}>} */
async function tell() {
  const worker = registration?.active ?? registration?.installing;
  const found = worker && (await Promise.race([ask(worker, "state", { stock: stock() }), pause(PATIENCE)]));
  /** @param {Held} held */
  const complete = ({ have, all }) => have === all;
  const pages = Boolean(found && registration?.active && complete(found.pages));
  const python = pages && complete(found.python);
  if (python) say("Saved for offline use");
  else if (saving) say(`Saving for offline use: ${percent(found)} %`);
  else if (pages) {
    const size = Math.ceil((found.python.all - found.python.have) / 1e6);
    say(`Pages saved for offline use, calculators not${setback}`, `Save the calculators too, ${size} MB`);
  } else say(`Not saved on this device${setback}`, SAVE);
  return { pages, python };
}

/** @param {{ pages: Held, python: Held } | undefined} found */
function percent(found) {
  if (!found) return 0;
  const parts = saving?.python ? [found.pages, found.python] : [found.pages];
  /** @param {keyof Held} key */
  const sum = (key) => parts.reduce((total, part) => total + part[key], 0);
  return Math.floor((99 * sum("have")) / sum("all")); // the last one is for the worker to be at work
}

/** See what is kept, and keep what may be kept unasked. */
async function look() {
  if (!able) return say(crashes ? NO_BROWSER : NO_ADDRESS);
  try {
    registration ??= await navigator.serviceWorker.getRegistration(root);
    const has = await tell();
    if (registration) watch(registration, prepare);
    if (has.pages) ask(registration?.active, "tidy").catch(() => {});
    const more = () => (has.pages ? !has.python && mayKeepPython() : mayKeepPages());
    if (setback || !more()) return;
    await settled;
    if (more()) await save(mayKeepPython());
  } catch {
    say(NO_ADDRESS); // some private windows, and browsers told to keep nothing
  }
}

function saveAsked() {
  navigator.storage?.persist?.().catch(() => {}); // asks the browser not to drop it; it may still
  save(true).catch(() => say(NO_ADDRESS));
}

/** Keep the pages, and Python if wanted; meanwhile the line follows what the caches really hold. @param {boolean} python */
async function save(python) {
  if (saving) return;
  saving = { python };
  setback = "";
  /** @type {Error | undefined} */
  let refusal;
  const done = keep(python)
    .catch((error) => (refusal = error))
    .then(() => true);
  try {
    do await tell();
    while (!(await Promise.race([done, pause(LOOK_AGAIN)])));
  } finally {
    saving = undefined;
  }
  if (refusal?.name === "SecurityError") throw refusal;
  if (refusal) setback = ": saving did not finish";
  await tell();
}

/** @param {boolean} python */
async function keep(python) {
  registration ??= await navigator.serviceWorker.register(`${root}sw.js`, { scope: root });
  watch(registration, prepare);
  await ask(await active(registration), "keep", { python, stock: stock() });
}

/** The worker once it is at work; on a first visit that is when all pages are kept. */
function active(/** @type {ServiceWorkerRegistration} */ registered) {
  const worker = registered.active ?? registered.installing ?? registered.waiting;
  return new Promise((resolve, reject) => {
    const check = () => {
      if (worker?.state === "activated") resolve(worker);
      if (worker && worker.state !== "redundant") return;
      registration = undefined; // the next try registers anew
      reject(new Error("the edition could not be kept whole"));
    };
    worker?.addEventListener("statechange", check);
    check();
  });
}

/** Who could calculate offline with the old edition shall do so with the new one from its first moment. @param {ServiceWorker} worker */
async function prepare(worker) {
  const { python } = await ask(registration?.active, "state");
  if (python.have !== python.all) return;
  await ask(worker, "inherit");
  if (isMetered() !== true) await ask(worker, "keep", { python: true, stock: stock() });
}

/** Resolved when the page is loaded and quiet: Python is up if it was wanted, or the reader has stayed. */
const settled = new Promise((resolve) => {
  const calm = () => ("requestIdleCallback" in globalThis ? requestIdleCallback(resolve, { timeout: 2_000 }) : resolve(undefined));
  const begin = () => {
    const pythonDone = () => ["ready", "stopped"].includes(history.state) && calm();
    addEventListener("bench-python", pythonDone);
    pythonDone();
    setTimeout(calm, STAYS);
  };
  if (document.readyState === "complete") begin();
  else addEventListener("load", begin);
});

if (able) {
  tellEdition();
  addEventListener("bench-python", () => history.state === "ready" && look());
} else if (offered) {
  navigator.serviceWorker.getRegistration(root).then((old) => old?.unregister());
}
customElements.define("bench-offline", BenchOffline);
