/**
 * The worker that holds Python for as long as the tab lives.
 *
 * Its name says how to start: "snapshot" (memory after all imports, the fast way) or "stock".
 * In: {id, card, …} as calculators/browser.py takes it; the card by its name, or as the job has it. Out: {heard: true} now and then while
 * something comes from the server; {fetched: true} when all is downloaded;
 * {ready, way, milliseconds, bytes, memory} once; then for each question {id, answer, taken, memory} or {id, failed}: what it took in ms, and what Python has then;
 * {dead} when there is no going on.
 */
import { loadPyodide } from "./python/pyodide.mjs";
import cards from "./cards.js";
import { writeOut } from "./memory.js";
import release from "./release.js";

const WAY = self.name;
const PYTHON = new URL("./python/", import.meta.url);
const EMPTY_ZIP = new Uint8Array([80, 75, 5, 6, ...Array(18).fill(0)]);
const { info, runtime, plain, snapshot, later } = release.python;
const began = performance.now();
let bytes = 0;

/** Files that loadPyodide is given instead of fetching them, by address. @type {Map<string, () => Response>} */
const held = new Map();

const TELL = 1000; // ms between two words that something came
let told = began;

/** A response whose bytes are heard of as they come. @param {Response} response */
function heard(response) {
  const listening = new TransformStream({
    transform(chunk, controller) {
      if (performance.now() - told > TELL) {
        told = performance.now();
        postMessage({ heard: true });
      }
      controller.enqueue(chunk);
    },
  });
  const { status, statusText, headers } = response;
  return response.body ? new Response(response.body.pipeThrough(listening), { status, statusText, headers }) : response;
}

import(new URL("pyodide.asm.js", PYTHON).href).catch(() => {}); // parsed while all else comes; loadPyodide asks for it last

const fetchAnything = self.fetch;

/** loadPyodide hangs for ever on a file it cannot have; here, any such file ends the start. */
const missing = new Promise((_, reject) => {
  self.fetch = async (address, options) => {
    const given = held.get(address instanceof Request ? address.url : String(address));
    if (given) return given();
    try {
      const response = await fetchAnything(address, options);
      if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
      return heard(response);
    } catch (error) {
      reject(error);
      throw error;
    }
  };
});
missing.catch(() => {});

/**
 * Fetch one part, checked against its hash, and inflate it to exactly its length; behind it may be room for more.
 * @param {{ file: string, integrity: string, length: number, room?: number }} fetched
 */
async function part({ file, integrity, length, room = length }) {
  const response = await fetch(new URL(file, PYTHON), { integrity });
  const whole = new Uint8Array(room);
  let at = 0;
  const counted = new TransformStream({
    transform(chunk, controller) {
      bytes += chunk.byteLength;
      controller.enqueue(chunk);
    },
  });
  if (!response.body) throw new Error(`${file}: nothing came`);
  const reader = response.body.pipeThrough(counted).pipeThrough(new DecompressionStream("gzip")).getReader();
  for (let chunk = await reader.read(); !chunk.done; chunk = await reader.read()) {
    whole.set(chunk.value, at); // throws when there is more than there should be
    at += chunk.value.length;
  }
  if (at !== length) throw new Error(`${file}: ${at} of ${length} bytes`);
  return whole;
}

/** @param {Response} response */
const isBrotli = (response) => response.ok && response.headers.get("Content-Encoding") === "br";

/** @param {BufferSource} content */
async function integrityOf(content) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-384", content)); // there wherever Brotli is
  return `sha384-${btoa(String.fromCharCode(...digest))}`;
}

/**
 * The wasm as it is, where the host sends it by Brotli, which is smaller than as we pack it, or where it was kept so.
 * What is asked for with its hash is heard of when all of it has come; here its head decides.
 *
 * @returns {Promise<Uint8Array<ArrayBuffer>>}
 */
async function wasmOf() {
  try {
    const address = new URL(plain.file, PYTHON);
    const [kept, packed] = await Promise.all([address, new URL(runtime.file, PYTHON)].map((each) => self.caches?.match(each)));
    const asks = !kept && !packed && isBrotli(await fetchAnything(import.meta.url)); // which is at hand, and tells how the host sends
    const response = kept ?? (asks && heard(await fetchAnything(address)));
    if (response && (kept || isBrotli(response))) {
      const whole = new Uint8Array(await response.arrayBuffer());
      if ((await integrityOf(whole)) !== plain.integrity) throw new Error(`${plain.file} is another`);
      bytes += Number(response.headers.get("Content-Length") ?? whole.length);
      return whole;
    }
    if (response) await response.body?.cancel();
  } catch {
    // there is the packed one
  }
  return part(runtime);
}

async function startFromSnapshot() {
  const [memory, wasm] = await Promise.all([part(snapshot), wasmOf()]);
  writeOut(memory, wasm, release.python);
  postMessage({ fetched: true });
  /** @param {string} mime */
  const type = (mime) => ({ headers: { "Content-Type": mime } });
  held.set(new URL("pyodide.asm.wasm", PYTHON).href, () => new Response(wasm, type("application/wasm")));
  held.set(new URL("python_stdlib.zip", PYTHON).href, () => new Response(EMPTY_ZIP, type("application/zip")));
  return loadPyodide({
    indexURL: PYTHON.href,
    lockFileContents: JSON.stringify({ info, packages: {} }),
    _loadSnapshot: memory,
  });
}

async function start() {
  const loading =
    WAY === "snapshot" ? startFromSnapshot() : loadPyodide({ indexURL: PYTHON.href, packages: ["calculators"] });
  const pyodide = await Promise.race([loading, missing]);
  held.clear();
  const [answer, tidy, come] = pyodide.pyimport("calculators.browser_start").start();
  const memory = () => pyodide._module.HEAPU8.length;
  postMessage({ ready: true, way: WAY, milliseconds: Math.round(performance.now() - began), bytes, memory: memory() });
  /** @param {string} name @param {Uint8Array} code */
  const take = (name, code) => come(name, pyodide.toPy(code));
  return { answer, tidy, take, memory };
}

/** The parts of the code that came or are on their way, by name. @type {Map<string, Promise<Uint8Array>>} */
const coming = new Map();

/** Fetch a part of the code, once; one that fails is fetched again when it is asked for again. @param {string} name */
function bring(name) {
  const found = coming.get(name) ?? part(later[name]);
  coming.set(name, found);
  found.catch(() => coming.delete(name));
  return found;
}

/** The parts that Python has. @type {Set<string>} */
const given = new Set();

/** @param {Awaited<ReturnType<typeof start>>} python @param {string} name */
async function give(python, name) {
  if (given.has(name)) return;
  python.take(name, await bring(name));
  given.add(name);
}

/**
 * Answer, and bring what that needs.
 *
 * @param {Awaited<ReturnType<typeof start>>} python
 * @param {string} question
 * @param {string[]} rooms whose code it needs for certain
 */
async function answered(python, question, rooms) {
  for (const name of rooms) await give(python, name); // or it would begin, and begin again
  for (;;) {
    const text = python.answer(question);
    if (!text.startsWith("\0")) return text;
    await give(python, text.slice(1));
  }
}

const starting = start();
starting.catch((error) => postMessage({ dead: String(error?.message ?? error) }));

self.onmessage = async ({ data: { id, card, ...asked } }) => {
  /** @type {{ name: string }[]} */
  const questions = (WAY === "snapshot" && asked.questions) || [];
  const rooms = [...new Set(questions.map(({ name }) => name.split(".")[0]))].filter((name) => name in later);
  if (rooms.length) for (const name of ["job", ...rooms]) bring(name); // beside all else that is on its way
  let python;
  try {
    python = await starting;
  } catch {
    return; // the page has been told, and asks another worker
  }
  try {
    const name = card?.name ?? card;
    const known = card?.data ? { name, data: card.data, own: true } : name in cards ? { name, data: cards[name] } : null;
    const question = JSON.stringify({ ...asked, card: known });
    const begun = performance.now();
    const text = await answered(python, question, rooms);
    postMessage({ id, answer: JSON.parse(text), taken: performance.now() - begun, memory: python.memory() });
  } catch (error) {
    if (error instanceof WebAssembly.RuntimeError) return postMessage({ dead: String(error.message) });
    postMessage({ id, failed: error instanceof Error ? error.message : String(error) });
  }
  python.tidy();
};
