/** The one Python of this tab, shared by every calculator on every page. */

/** @type {Worker | undefined} */
let worker;
/** @type {Map<number, {resolve: (answer: object) => void, reject: (error: Error) => void}>} */
const waiting = new Map();
let lastId = 0;
let up = false;

/** @returns {boolean} true once Python can answer */
export const isUp = () => up;

/** Start Python, unless it runs already. */
export function startPython() {
  if (worker) return;
  worker = new Worker(new URL("./python-worker.js", import.meta.url), { type: "module", name: "python" });
  worker.onmessage = ({ data }) => {
    if (data.ready) {
      up = true;
      return;
    }
    if (data.dead) return stop(new Error(data.dead));
    const { resolve, reject } = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.failed) reject(new Error(data.failed));
    else resolve(data.answer);
  };
  worker.onerror = (event) => stop(new Error(event.message || "the worker did not start"));
}

/** End Python and tell whoever waits; the next question starts it anew. */
function stop(error) {
  worker?.terminate();
  worker = undefined;
  up = false;
  for (const { reject } of waiting.values()) reject(error);
  waiting.clear();
}

/**
 * Ask Python one thing.
 *
 * @param {{calculator: string, card: string | null, typed: object, prefix: string, rows: object}} question
 * @returns {Promise<{lead: string, answer: string, summary: string, errors: object[], rows: object}>}
 */
export function ask(question) {
  startPython();
  const id = ++lastId;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, ...question });
  });
}
