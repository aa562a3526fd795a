/**
 * The job in hand: what was typed, kept and ticked, in this browser's own storage.
 *
 * One object a job, written at each change, path by path inside one transaction, so that two tabs
 * never undo each other's work. Where the browser keeps nothing (some private windows), the job lasts
 * as long as the tab, and `keeps()` says so.
 *
 * @typedef {{text: string, unit?: string, when: string, from?: string}} Reading
 * @typedef {{words: string, when: string}} Tick
 * @typedef {{format: 1, id: string, name: string, made: string, changed: string,
 *   readings: Object<string, Reading>, ticks: Object<string, Object<string, Tick>>,
 *   clocks: Object<string, number>}} Job
 */
import { openDB } from "./idb.js";

const FORMAT = 1;
const CURRENT = "current";
const others = "BroadcastChannel" in globalThis ? new BroadcastChannel("bench-job") : undefined;
/** @type {import("./idb.js").IDBPDatabase | undefined} */
let db;
/** @type {Job} */
let job = blank();
let pending = 0; // changes on their way into storage

/** @returns {Job} */
function blank() {
  const now = new Date().toISOString();
  const id = [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return { format: FORMAT, id, name: "", made: now, changed: now, readings: {}, ticks: {}, clocks: {} };
}

async function open() {
  try {
    db = await openDB("bench", 1, {
      upgrade(fresh) {
        fresh.createObjectStore("jobs", { keyPath: "id" });
        fresh.createObjectStore("desk");
      },
    });
    job = (await current(db.transaction(["jobs", "desk"]))) ?? job;
  } catch {
    db = undefined; // no storage: the job lasts as long as the tab
    try {
      job = JSON.parse(sessionStorage.getItem("bench-job")) ?? job;
    } catch {}
  }
}

/** @returns {Promise<Job | undefined>} */
async function current(transaction) {
  const id = await transaction.objectStore("desk").get(CURRENT);
  return id && transaction.objectStore("jobs").get(id);
}

const opened = open();

/** Resolves to the job once it has been read. @returns {Promise<Job>} */
export const theJob = async () => (await opened, job);

/** @returns {Promise<boolean>} false where what is typed is forgotten with the tab */
export const keeps = async () => (await opened, Boolean(db));

/** What other tabs and other calculators on this page must hear of. */
function tell(paths, here) {
  dispatchEvent(new CustomEvent("bench-job", { detail: { job, paths, here } }));
}

others?.addEventListener("message", async ({ data }) => {
  if (!db) return;
  job = (await current(db.transaction(["jobs", "desk"]))) ?? blank();
  tell(data, null);
});

/**
 * Change the job: `change` gets the newest state, also of other tabs, and alters it in place.
 *
 * @param {(job: Job) => string[]} change returns the reading paths that it changed
 * @param {Element | null} here who changes it, and need not be told
 */
export async function alter(change, here = null) {
  await opened;
  let paths = change(job); // at once for whoever reads on, then for good
  if (!paths.length) return;
  pending += 1;
  try {
    if (db) {
      const transaction = db.transaction(["jobs", "desk"], "readwrite");
      const newest = (await current(transaction)) ?? job;
      paths = [...new Set([...paths, ...change(newest)])];
      newest.changed = new Date().toISOString();
      await transaction.objectStore("jobs").put(newest);
      await transaction.objectStore("desk").put(newest.id, CURRENT);
      await transaction.done;
      if (pending === 1) job = newest; // else a later change is already in ours, and comes with its own
    } else sessionStorage.setItem("bench-job", JSON.stringify(job));
  } catch (error) {
    dispatchEvent(new CustomEvent("bench-not-kept", { detail: String(error?.message ?? error) }));
  }
  pending -= 1;
  others?.postMessage(paths);
  tell(paths, here);
}

/**
 * Keep readings; an undefined one is taken out.
 *
 * @param {Object<string, {text: string, unit?: string, from?: string} | undefined>} readings
 */
export const keepReadings = (readings, here) =>
  alter((job) => {
    const when = new Date().toISOString();
    return Object.entries(readings).flatMap(([path, reading]) => {
      const known = job.readings[path];
      if (known?.text === reading?.text && known?.unit === reading?.unit) return [];
      if (reading) job.readings[path] = { ...reading, when };
      else delete job.readings[path];
      return [path];
    });
  }, here);

/** Tick a step for the words it has now, or take the tick back. */
export const tick = (walk, step, words, done, here) =>
  alter((job) => {
    const ticks = (job.ticks[walk] ??= {});
    if (done) ticks[step] = { words, when: new Date().toISOString() };
    else delete ticks[step];
    return [`ticks ${walk}`];
  }, here);

/** Take all ticks of a walk back. */
export const untick = (walk, here) =>
  alter((job) => {
    delete job.ticks[walk];
    return [`ticks ${walk}`];
  }, here);

/** Start (a time in ms) or take away (undefined) the clock of a step. */
export const setClock = (name, until) =>
  alter((job) => {
    if (until) job.clocks[name] = until;
    else delete job.clocks[name];
    return [`clock ${name}`];
  });
