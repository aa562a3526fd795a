/**
 * The jobs of this browser: what was typed, kept, ticked, decided and noted, in the browser's own storage.
 *
 * One object a job, as calculators/_job/job.schema.json has it. It is written at each change, entry by
 * entry inside one transaction, so that two tabs never undo each other's work. Where the browser keeps
 * nothing (some private windows), the job lasts as long as the tab, and `keeps()` says so.
 *
 * @typedef {{text: string, when: string, from?: string, label?: string, who?: string, instrument?: string, corrected?: string}} Reading
 * @typedef {{id: string, made: string, changed: string, about: object, readings: Object<string, Reading>,
 *   ticks: Object<string, Object<string, {words: string, when: string, of?: number}>>, clocks: Object<string, number>,
 *   decisions: object[], parts: object[], tags: object[], notes: object[], checks: object[],
 *   photographs: object[], gone: Object<string, string>, card?: object}} Job
 */
import { openDB } from "./idb.js";

const CURRENT = "current";
const EXPORTED = "exported";
const UNSAVED = "bench-unsaved"; // a change on its way into storage, should the page be cut short before it is there
const now = () => new Date().toISOString();
const newId = () =>
  [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
const others = "BroadcastChannel" in globalThis ? new BroadcastChannel("bench-job") : undefined;
/** @type {import("./idb.js").IDBPDatabase | undefined} */
let db;
/** @type {Job} */
let job = blank();
let pending = 0; // changes on their way into storage
let notKept = ""; // why the last change could not be stored


/** @returns {Job} */
function blank() {
  const when = now();
  const lists = Object.fromEntries(["decisions", "parts", "tags", "notes", "checks", "photographs"].map((n) => [n, []]));
  return { id: newId(), made: when, changed: when, about: {}, readings: {}, ticks: {}, clocks: {}, ...lists, gone: {} };
}

async function open() {
  try {
    db = await openDB("bench", 1, {
      upgrade(fresh, before) {
        if (before < 1) {
          fresh.createObjectStore("jobs", { keyPath: "id" });
          fresh.createObjectStore("photographs"); // Blobs, by their entry's id
          fresh.createObjectStore("desk"); // which job is in hand, when an export was last made
        }
      },
      blocking: () => db.close(), // a newer edition in another tab needs the storage
    });
    job = (await current(db.transaction(["jobs", "desk"]))) ?? job;
    await takeUpCutShort();
  } catch {
    db = undefined; // no storage: the job lasts as long as the tab
    try {
      job = JSON.parse(sessionStorage.getItem("bench-job")) ?? job;
    } catch {}
  }
}

/** A page that went in the very moment of a change left that change here. */
async function takeUpCutShort() {
  try {
    const cutShort = JSON.parse(localStorage.getItem(UNSAVED));
    if (cutShort && (cutShort.id !== job.id || cutShort.changed > job.changed)) {
      await db.put("jobs", cutShort);
      await db.put("desk", cutShort.id, CURRENT);
      job = cutShort;
    }
  } catch {} // what stands there is not ours, or cannot be read: the stored job is whole all the same
  remember(undefined);
}

/** Lay a job where a page that is cut short leaves it; undefined clears the place. */
function remember(whole) {
  try {
    if (whole) localStorage.setItem(UNSAVED, JSON.stringify(whole));
    else localStorage.removeItem(UNSAVED);
  } catch {} // full or forbidden: the storage proper is tried next
}

/** @returns {Promise<Job | undefined>} */
async function current(transaction) {
  const id = await transaction.objectStore("desk").get(CURRENT);
  return id && transaction.objectStore("jobs").get(id);
}

const opened = open();

/** Resolves to the job in hand once it has been read. @returns {Promise<Job>} */
export const theJob = async () => (await opened, job);

/** @returns {Promise<boolean>} false where what is typed is forgotten with the tab */
export const keeps = async () => (await opened, Boolean(db));

/** @returns {string} why the last change is not stored; empty where it is */
export const whyNotKept = () => notKept;

/** What other calculators on this page must hear of; no paths means: all may be different. */
function tell(paths, here) {
  dispatchEvent(new CustomEvent("bench-job", { detail: { job, paths, here } }));
}

others?.addEventListener("message", async ({ data }) => {
  if (!db) return;
  if (!data || data.includes("card")) lent.clear();
  const { id } = job;
  const transaction = db.transaction(["jobs", "desk"]);
  const inHand = await transaction.objectStore("desk").get(CURRENT);
  const stored = inHand && (await transaction.objectStore("jobs").get(inHand));
  // one that was begun in another tab and holds nothing yet is not stored
  job = stored ?? (inHand && inHand !== id ? { ...blank(), id: inHand } : job);
  tell(job.id === id ? data : null, null);
});

/**
 * Change the job: `change` alters a state in place, once the one in hand and once the newest stored one.
 *
 * @param {(job: Job) => string[]} change returns the paths that it changed
 * @param {Element | null} here who changes it, and need not be told
 */
async function alter(change, here = null) {
  await opened;
  const inHand = job;
  let paths = change(inHand); // at once for whoever reads on, then for good
  if (!paths.length) return;
  pending += 1;
  try {
    if (db) {
      inHand.changed = now();
      remember(inHand);
      const transaction = db.transaction(["jobs", "desk"], "readwrite");
      // a job that was never stored gives way to one that another tab has begun meanwhile
      const newest = (await transaction.objectStore("jobs").get(inHand.id)) ?? (await current(transaction)) ?? inHand;
      if (newest !== inHand) paths = [...new Set([...paths, ...change(newest)])];
      newest.changed = now();
      await transaction.objectStore("jobs").put(newest);
      await transaction.objectStore("desk").put(newest.id, CURRENT);
      await transaction.done;
      if (pending === 1) remember(undefined);
      // else a later change is in ours already, and comes itself; another tab's may have put a job without ours in hand
      if (pending === 1 && (job === inHand || job.id === newest.id)) job = newest;
    } else sessionStorage.setItem("bench-job", JSON.stringify(job));
    notKept = "";
  } catch (error) {
    notKept =
      error?.name === "QuotaExceededError"
        ? "The storage of this browser is full. What was saved before is safe; make room or export, then type on."
        : `This browser did not save the last change (${error?.name ?? error}). What was saved before is safe.`;
  }
  pending -= 1;
  others?.postMessage(paths);
  tell(paths, here);
}

/**
 * Keep readings, each with who works now and with the instrument of its kind on the bench; an undefined one is taken out.
 *
 * @param {Object<string, {text: string, kind?: string, from?: string, label?: string} | undefined>} readings
 */
export const keepReadings = (readings, here) =>
  alter((job) =>
    Object.entries(readings).flatMap(([path, reading]) => {
      const known = job.readings[path];
      if (known?.text === reading?.text) return [];
      const { kind, ...kept } = reading ?? {};
      const who = job.about.fitter?.trim();
      const instrument = job.readings[`instrument.${kind}`]?.text.trim();
      if (reading) job.readings[path] = { ...kept, when: now(), ...(who && { who }), ...(instrument && { instrument }) };
      else (delete job.readings[path], (job.gone[`readings ${path}`] = now()));
      return [path];
    }), here);

/** @type {Map<string, Object<string, {text: string}>>} by calculator: what it worked out from the example's entries */
const lent = new Map();

/** Results that rest on the example's entries: for the other calculators of this tab, and no reading of the job. */
export function lend(from, readings, here) {
  const before = lent.get(from) ?? {};
  const paths = Object.keys({ ...before, ...readings }).filter((path) => before[path]?.text !== readings[path]?.text);
  if (Object.keys(readings).length) lent.set(from, readings);
  else lent.delete(from);
  if (paths.length) tell(paths, here);
}

/** @returns {Object<string, {text: string}>} what calculators lend, by path; a reading of the job goes before it */
export const lentReadings = () => Object.assign({}, ...lent.values());

/**
 * Keep what a calculator worked out; it lends nothing any more.
 *
 * @param {boolean} anew the reader has typed in it: its results go before what was typed elsewhere
 */
export function keepWorkedOut(from, readings, anew, here) {
  lent.delete(from); // in silence: the readings take its place
  const free = (path) => !(path in job.readings) || anew || job.readings[path].from === from;
  return keepReadings(Object.fromEntries(Object.entries(readings).filter(([path]) => free(path))), here);
}

/**
 * Tick a step for the words it has now, or take the tick back.
 *
 * @param {Map<string, string>} steps all steps of the walk and their words, so that the sheet can say "7 of 12"
 */
export const tick = (walk, step, steps, done, here) =>
  alter((job) => {
    const ticks = (job.ticks[walk] ??= {});
    if (done) ticks[step] = { words: steps.get(step), when: now() };
    else (delete ticks[step], (job.gone[`ticks ${walk} ${step}`] = now()));
    for (const [key, one] of Object.entries(ticks))
      if (steps.get(key) === one.words) one.of = steps.size;
      else delete one.of; // of a plan that has changed since
    return [`ticks ${walk}`];
  }, here);

/** Take all ticks of a walk back. */
export const untick = (walk, here) =>
  alter((job) => {
    for (const step of Object.keys(job.ticks[walk] ?? {})) job.gone[`ticks ${walk} ${step}`] = now();
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

/** Write one text of the sheet: `about.owner`, `notes.<id>.text`, or who read something: `readings <path> who`. */
export const write = (at, text, here) =>
  alter((job) => {
    const [, path, what] = at.match(/^readings (.+) (who|instrument)$/) ?? [];
    const [list, id, key] = at.split(".");
    if (what) {
      const reading = job.readings[path];
      if (!reading) return [];
      reading[what] = text;
      reading.corrected = now(); // when it was read stays as it was
    } else if (list === "about") ((job.about[id] = text), (job.about_when = now()));
    else {
      const entry = job[list].find((one) => one.id === id);
      if (!entry) return [];
      entry[key] = text;
      entry.when = now();
    }
    return [at];
  }, here);

/** Take out a reading; the unit chosen for a column stays as long as another row is read in it. */
async function takeOut(path, here) {
  const { readings } = await theJob();
  const column = path.replace(/\.\d+$/, "");
  const inColumn = (other) => other !== path && other.startsWith(`${column}.`) && /^\d+$/.test(other.slice(column.length + 1));
  const alone = !Object.keys(readings).some(inColumn);
  await keepReadings({ [path]: undefined, ...(alone && { [`${column}.unit`]: undefined }) }, here);
}

/** Add an entry to a list of the sheet. */
export const add = (list, entry = {}, here = null) => {
  const whole = { id: newId(), when: now(), ...entry };
  return alter((job) => (job[list].some(({ id }) => id === whole.id) ? [list] : (job[list].push(whole), [list])), here);
};

/** Put entries on a list of the sheet, each in the place of the one with its id. */
export const put = (list, entries, here = null) =>
  alter((job) => {
    const ids = new Set(entries.map(({ id }) => id));
    const when = now();
    if (ids.size) job[list] = [...job[list].filter(({ id }) => !ids.has(id)), ...entries.map((entry) => ({ ...entry, when }))];
    return ids.size ? [list] : [];
  }, here);

/** Take out an entry of a list, or a reading. */
export const remove = (list, id, here) =>
  list === "readings"
    ? takeOut(id, here)
    : alter((job) => {
        job[list] = job[list].filter((entry) => entry.id !== id);
        job.gone[`${list} ${id}`] = now();
        return [list];
      }, here);

/** Choose the engine card of this job. */
export const chooseCard = (card, here) => (
  lent.clear(), alter((job) => ((job.card = { ...card, when: now() }), ["card"]), here)
);

/** @returns {Promise<boolean>} whether the card of the job in hand is the reader's own, and no other job of this browser has it */
export async function holdsTheOnlyCopy() {
  const { card, id } = await theJob();
  const same = (other) => JSON.stringify(other.card?.data) === JSON.stringify(card.data);
  return Boolean(card?.data) && !(await allJobs()).some((other) => other.id !== id && same(other));
}

/** @returns {Promise<Job[]>} all jobs of this browser, the last changed one first */
export async function allJobs() {
  await opened;
  const stored = db ? await db.getAll("jobs") : [];
  const all = stored.some(({ id }) => id === job.id) ? stored : [job, ...stored];
  return all.sort((one, other) => (one.changed < other.changed ? 1 : -1));
}

async function takeUp(next) {
  job = next;
  lent.clear();
  if (db) await db.put("desk", next.id, CURRENT);
  else sessionStorage.setItem("bench-job", JSON.stringify(job));
  others?.postMessage(null);
  tell(null, null);
}

/** Lay the job in hand aside and begin another. */
export const beginJob = async () => (await opened, takeUp(blank()));

/** Take up another job. */
export async function takeUpJob(id) {
  const next = (await allJobs()).find((one) => one.id === id);
  if (next) await takeUp(next);
}

/** Throw the job in hand away, with its photographs. */
export async function throwAway() {
  await opened;
  if (db) {
    const transaction = db.transaction(["jobs", "photographs"], "readwrite");
    for (const { id } of job.photographs) await transaction.objectStore("photographs").delete(id);
    await transaction.objectStore("jobs").delete(job.id);
    await transaction.done;
  } else sessionStorage.removeItem("bench-job");
  await takeUp((await allJobs()).find(({ id }) => id !== job.id) ?? blank());
}

/** Put whole jobs, as merged, into the storage, and take up the first. @param {Map<string, Blob>} photographs */
export async function storeJobs(jobs, photographs) {
  await opened;
  const whole = jobs.map((one) => ({ ...blank(), ...one }));
  if (db) {
    const transaction = db.transaction(["jobs", "photographs"], "readwrite");
    for (const one of whole) await transaction.objectStore("jobs").put(one);
    for (const [id, blob] of photographs) await transaction.objectStore("photographs").put(blob, id);
    await transaction.done;
  }
  await takeUp(whole[0]);
}

/** Keep a photograph: its bytes first, then its line on the sheet. */
export async function addPhotograph(blob, facts) {
  await opened;
  if (!db) throw new Error("this browser keeps no photographs");
  const id = newId();
  await db.put("photographs", blob, id);
  await add("photographs", { id, ...facts });
}

/** @returns {Promise<Blob | undefined>} */
export const photograph = async (id) => (await opened, db?.get("photographs", id));

/** @returns {Promise<string | undefined>} when an export was last made */
export const lastExport = async () => (await opened, db?.get("desk", EXPORTED));
export const noteExport = async () => (await opened, db?.put("desk", now(), EXPORTED));

/** Ask the browser not to clear this storage on its own. @returns {Promise<boolean | undefined>} undefined: cannot ask */
export async function askToPersist() {
  const { storage } = navigator;
  if (!storage?.persist) return undefined;
  return (await storage.persisted()) || storage.persist();
}
