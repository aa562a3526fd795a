/**
 * The worker that holds Python for as long as the page lives.
 *
 * In: {id, calculator, card, typed, prefix, rows}. Out: {ready: true} once, then for each
 * request {id, answer} or {id, failed} (what went wrong, for the console).
 */
import { loadPyodide } from "./python/pyodide.mjs";

const cards = new Map();

/** @param {string} name of an engine card @returns {Promise<{name: string, data: object}>} */
function card(name) {
  if (!cards.has(name)) {
    const address = new URL(`../engines/${encodeURIComponent(name)}.json`, import.meta.url);
    const loading = fetch(address).then((response) => {
      if (!response.ok) throw new Error(`engine card ${name}: ${response.status}`);
      return response.json();
    });
    loading.catch(() => cards.delete(name));
    cards.set(name, loading.then((data) => ({ name, data })));
  }
  return cards.get(name);
}

/** loadPyodide hangs for ever on a file it cannot have; here, any such file ends the start. */
const missing = new Promise((_, reject) => {
  const fetchAnything = self.fetch;
  self.fetch = async (...request) => {
    try {
      const response = await fetchAnything(...request);
      if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
      return response;
    } catch (error) {
      reject(error);
      throw error;
    }
  };
});
missing.catch(() => {});

async function start() {
  const loading = loadPyodide({
    indexURL: new URL("./python/", import.meta.url).href,
    packages: ["calculators"],
  });
  const pyodide = await Promise.race([loading, missing]);
  const answer = pyodide.runPython("from calculators._page import answer_message; answer_message");
  postMessage({ ready: true });
  return answer;
}

const starting = start();
starting.catch((error) => postMessage({ dead: String(error) }));

self.onmessage = async ({ data: { id, card: cardName, ...asked } }) => {
  try {
    const answer = await starting;
    const message = JSON.stringify({ ...asked, card: cardName ? await card(cardName) : null });
    postMessage({ id, answer: JSON.parse(answer(message)) });
  } catch (error) {
    postMessage({ id, failed: String(error) });
  }
};
