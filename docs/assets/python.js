/**
 * The one Python of this tab, shared by every question on every page.
 *
 * It starts from the snapshot; when that fails, the stock way. When it dies later, what waits for its answer is
 * asked once more, of one that was started the stock way; a question that brings down two is given up.
 */
import release from "./release.js";

const START_LIMIT = 15_000; // ms after the download
const SILENCE_LIMIT = { snapshot: 30_000, stock: 60_000 }; // ms without a byte; the stock way also works in silence

/** @type {Worker | undefined} */
let worker;
/** @type {Map<number, {question: Asked, again?: boolean, resolve: (answer: Said) => void, reject: (error: Error) => void}>} */
const waiting = new Map();
let lastId = 0;
let limit = 0;

/** What happened so far, for the diagnostics page and the measurements. @type {PythonHistory} */
export const history = { state: "not started", way: "", milliseconds: 0, bytes: 0, memory: 0, taken: 0, rehearsed: 0, setbacks: [] };

/** @param {Partial<PythonHistory>} news */
function record(news) {
  Object.assign(history, news);
  dispatchEvent(new CustomEvent("bench-python", { detail: history }));
}

/** @returns {boolean} true once Python can answer */
export const isUp = () => history.state === "ready";

/** Start Python, unless it runs already. */
export function startPython() {
  if (!worker) begin(release.python.snapshot ? "snapshot" : "stock"); // stock where whoever writes is watching
}

/** @param {"snapshot" | "stock"} way */
function begin(way) {
  record({ state: "starting", way });
  const mine = new Worker(new URL("./python-worker.js", import.meta.url), { type: "module", name: way });
  worker = mine;
  /** @param {number} time @param {string} reason */
  const within = (time, reason) => (clearTimeout(limit), (limit = setTimeout(() => fail(reason), time)));
  const silence = () => within(SILENCE_LIMIT[way], "its download stood still");
  silence();
  mine.onmessage = ({ data }) => {
    if (mine !== worker) return;
    if (data.heard) {
      if (!isUp()) silence();
    } else if (data.fetched) within(START_LIMIT, "it did not start in time");
    else if (data.dead) fail(data.dead);
    else if (data.ready) {
      clearTimeout(limit);
      const { milliseconds, bytes, memory } = data;
      record({ state: "ready", milliseconds, bytes, memory });
    } else settle(data);
  };
  mine.onerror = (event) => {
    event.preventDefault();
    if (mine === worker) fail(event.message || "the worker did not load");
  };
  for (const [id, { question }] of waiting) mine.postMessage({ id, ...question });
}

/** @param {{ id: number, answer?: Said, failed?: string, taken?: number, memory?: number }} said */
function settle({ id, answer, failed, taken = 0, memory = history.memory }) {
  Object.assign(history, { taken, memory });
  const asked = waiting.get(id);
  waiting.delete(id);
  if (failed) asked?.reject(new Error(failed));
  else asked?.resolve(answer);
}

/** End a worker that is of no more use, and go on with another where something waits for it. @param {string} reason */
function fail(reason) {
  clearTimeout(limit);
  worker?.terminate();
  worker = undefined;
  const { way } = history;
  const wasUp = isUp();
  history.setbacks.push(`${way}: ${reason}`);
  if (!wasUp && way === "snapshot") return begin("stock");
  const asked = Array.from(waiting);
  for (const [id, one] of asked) {
    if (wasUp && !one.again) {
      one.again = true;
      continue;
    }
    waiting.delete(id);
    one.reject(new Error(reason));
  }
  if (waiting.size) begin("stock"); // what brought one down that holds only what is needed is asked of one that holds all
  else record({ state: wasUp && !asked.length ? "not started" : "stopped" });
}

const REHEARSALS = 40; // after so many answers the browser has its fast code for the wasm
const PAUSE = 20; // ms between two of them

/** Wait a little, and then until the page has nothing else to do. */
const idle = () =>
  new Promise((on) => setTimeout(() => ("requestIdleCallback" in globalThis ? requestIdleCallback(on) : on(undefined)), PAUSE));

/**
 * Let an idle Python answer a page's own question a few times, so that the first keystrokes are not the slow ones.
 *
 * @param {() => Asked | false} question asked for anew each time; false ends it
 */
export async function rehearse(question) {
  await new Promise((up) => {
    if (isUp()) up(undefined);
    else addEventListener("bench-python", () => isUp() && up(undefined));
  });
  while (history.rehearsed < REHEARSALS) {
    await idle();
    if (waiting.size) continue;
    const asked = question();
    if (!asked || !isUp()) return;
    await ask(asked).catch(() => {});
    history.rehearsed += 1;
  }
}

/**
 * Ask Python one thing.
 *
 * @param {Asked} question as calculators/browser.py takes it
 * @returns {Promise<Said>}
 */
export function ask(question) {
  startPython();
  const id = ++lastId;
  return new Promise((resolve, reject) => {
    waiting.set(id, { question, resolve, reject });
    worker?.postMessage({ id, ...question });
  });
}
