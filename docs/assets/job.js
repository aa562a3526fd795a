/**
 * The jobs of this browser: what was typed, kept, ticked, decided and noted, in the browser's own storage.
 *
 * One object a job, as calculators/job/job.schema.json has it. A reading is a number with the unit that stood
 * beside it when it was typed; nothing that is chosen later changes it. At each change the job of this tab is
 * merged with the stored one, entry by entry inside one transaction, so that two tabs never undo each other's
 * work, and what the storage once refused goes in with the next write that it takes. Where the browser keeps
 * nothing (some private windows), the job lasts as long as the tab, and `keeps()` says so.
 */
import { openDB } from "./idb.js";
import { canonical, editOf, isLater, laidAside, lastEdit, merged, withUnits } from "./merge-jobs.js";

const CURRENT = "current";
const EXPORTED = "exported";
const UNSAVED = "bench-unsaved"; // changes on their way into storage, should the page be cut short before they are there
const LAST = "bench-last-edit"; // of this browser: a tab may not know yet what another has typed
const LONGEST = 2000; // characters of a reading, as the schema has it
const THROWN = "thrown";
const FORGOTTEN = 24 * 3600_000; // ms for which the bytes of a photograph that was taken out, or a job thrown away, is still there
const now = () => new Date().toISOString();
const newId = () =>
  [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
const others = "BroadcastChannel" in globalThis ? new BroadcastChannel("bench-job") : undefined;
/** @type {import("./idb.js").IDBPDatabase | undefined} */
let db;
/** @type {Job} */
let job = blank();
const first = job.id; // begun by no one: gives way to a job that another tab has begun meanwhile
const place = `${UNSAVED} ${first}`; // this tab's own
/** @type {Map<string, Job>} by id: those with changes that are not in the storage yet */
const unstored = new Map();
/** @type {Map<string, string>} by path: what the reader calls it */
const onTheWay = new Map();
/** @type {typeof onTheWay} */
const tooLong = new Map();
let edits = 0;
let refused = ""; // why the last change could not be stored

/** @returns {Job} */
function blank() {
  const when = now();
  const lists = { decisions: [], parts: [], tags: [], notes: [], checks: [], photographs: [] };
  return { id: newId(), made: when, changed: when, about: {}, readings: {}, ticks: {}, clocks: {}, ...lists, gone: {} };
}

/** @returns {Job} one that was kept, perhaps by an older edition @param {Partial<Job>} kept */
const whole = (kept) => withUnits({ ...blank(), ...kept });

const connected = () =>
  openDB("bench", 1, {
    upgrade(fresh, before) {
      if (before < 1) {
        fresh.createObjectStore("jobs", { keyPath: "id" });
        fresh.createObjectStore("photographs"); // Blobs, by their entry's id
        fresh.createObjectStore("desk"); // which job is in hand, when an export was last made
      }
    },
    blocking: () => db?.close(), // a newer edition in another tab needs the storage
    /** Deleted behind this tab's back, which still shows its job: the next entry writes all of it. */
    async terminated() {
      db = await connected().catch(() => db);
    },
  });

async function open() {
  try {
    db = await connected();
    const transaction = db.transaction(["jobs", "desk"]);
    const inHand = await transaction.objectStore("desk").get(CURRENT);
    if (inHand) job = whole((await transaction.objectStore("jobs").get(inHand)) ?? { id: inHand });
  } catch {
    db = undefined; // no storage: the job lasts as long as the tab
    try {
      const [kept] = await sound(sessionStorage.getItem("bench-job"));
      job = kept ? whole(kept) : job;
    } catch {}
    return;
  }
  await takeUpCutShort().catch(console.warn); // it stays where it is
  forgetPhotographs();
  forgetThrown().catch(console.warn); // another time
}

/** @returns {Promise<Kept[]>} what of a text is jobs as the schema has them @param {string | null} text */
async function sound(text) {
  let data;
  try {
    data = JSON.parse(text ?? "");
  } catch {} // no text of ours
  if (!data) return [];
  const { soundJobs } = await import("./sound-jobs.js");
  return soundJobs([data].flat()).jobs;
}

/** The places of tabs that were cut short. */
const leftByTabs = () => Object.keys(localStorage).filter((key) => key.startsWith(UNSAVED));

/** Tabs that went in the very moment of a change left it, each in a place of its own. */
async function takeUpCutShort() {
  const left = new Map();
  try {
    for (const key of leftByTabs()) left.set(key, localStorage.getItem(key));
  } catch {} // forbidden: nothing can have been left there
  const found = new Map(); // by id: what was left of a job, and by a tab that had none yet
  for (const [key, text] of left)
    for (const one of (await sound(text)).map(whole))
      found.set(one.id, { cut: found.has(one.id) ? merged(found.get(one.id).cut, one) : one, first: key.endsWith(one.id) });
  if (found.size) {
    const known = new Set(await db?.getAllKeys("jobs"));
    for (const { cut, first: ofNoJob } of found.values()) {
      const here = cut.id === job.id || (!known.has(cut.id) && (ofNoJob || !known.size));
      if (here && !known.has(job.id) && job.id === first) job = cut;
      else if (here) job = merged(job, { ...cut, id: job.id });
      unstored.set(here ? job.id : cut.id, here ? job : cut);
      for (const path of Object.keys(cut.readings)) onTheWay.set(path, path);
    }
    await store();
    if (unstored.size) return; // the storage is still full: they stay where they are
    others?.postMessage(undefined);
  }
  try {
    for (const [key, text] of left) if (localStorage.getItem(key) === text) localStorage.removeItem(key);
  } catch {}
}

/** Lay what is not stored yet where a page that is cut short leaves it. */
function remember() {
  try {
    if (unstored.size) localStorage.setItem(place, JSON.stringify([...unstored.values()]));
    else localStorage.removeItem(place);
  } catch {} // full or forbidden: the storage proper is tried next
}

/** @returns {Promise<Job[]>} what cut-short tabs left of a job @param {string} id */
async function leftOf(id) {
  try {
    const left = await Promise.all(leftByTabs().map((key) => sound(localStorage.getItem(key))));
    return left.flat().filter((one) => one.id === id).map(whole);
  } catch {
    return []; // forbidden: nothing can have been left there
  }
}

/** Throw away what cut-short tabs left of a job. @param {string} id */
function forget(id) {
  try {
    for (const key of leftByTabs()) {
      const left = [JSON.parse(localStorage.getItem(key) ?? "null")].flat().filter((one) => one?.id !== id);
      if (left.length) localStorage.setItem(key, JSON.stringify(left));
      else localStorage.removeItem(key);
    }
  } catch {} // no text of ours, or forbidden
}

/** @returns {Stamp} of an edit made now: later than all that this job and this browser know of, whatever the clock says @param {Job} job */
function stampFor(job) {
  const when = now();
  let last = lastEdit(job);
  try {
    const [id, here] = localStorage.getItem(LAST)?.split(" ") ?? [];
    if (id === job.id && Date.parse(here) && (!last || isLater(here, last))) last = here;
  } catch {}
  const next = last && !isLater(when, last) ? new Date(Date.parse(last) + 1).toISOString() : "";
  try {
    localStorage.setItem(LAST, `${job.id} ${next || when}`);
  } catch {}
  return next ? { when, order: next } : { when };
}

/** @returns {Promise<Job | undefined>} @param {any} transaction */
async function current(transaction) {
  const id = await transaction.objectStore("desk").get(CURRENT);
  return id && transaction.objectStore("jobs").get(id);
}

const opened = open();

/** Resolves to the job in hand once it has been read. @returns {Promise<Job>} */
export const theJob = async () => (await opened, job);

/** @returns {Promise<boolean>} false where what is typed is forgotten with the tab */
export const keeps = async () => (await opened, Boolean(db));

/** @returns {string} which entries are not kept, and why; empty where all are */
export function whyNotKept() {
  const long = tooLong.size ? `Not kept, because longer than ${LONGEST} characters: ${names(tooLong)}.` : "";
  return [refused && `${refused} Not kept yet: ${names(onTheWay)}.`, long].filter(Boolean).join(" ");
}

/** @param {Map<string, string>} paths */
const names = (paths) => [...new Set(paths.values())].join(", ");

/**
 * What the questions on this page must hear of; no paths means: all may be different.
 * @param {string[] | null} paths
 * @param {Element | null} here
 */
function tell(paths, here) {
  dispatchEvent(new CustomEvent("bench-job", { detail: { job, paths, here } }));
}

others?.addEventListener("message", async ({ data }) => {
  if (!db) return;
  const { id } = job;
  const transaction = db.transaction(["jobs", "desk"]);
  const inHand = await transaction.objectStore("desk").get(CURRENT);
  const stored = inHand && (await transaction.objectStore("jobs").get(inHand));
  if (stored) meet(whole(stored));
  // one that was begun in another tab and holds nothing yet is not stored
  else if (inHand && inHand !== job.id) job = { ...blank(), id: inHand };
  tell(job.id === id ? data : null, null);
});

/** Take up what the storage holds of the job in hand, or another job; nothing that is not stored yet is lost. @param {Job} stored */
function meet(stored) {
  const mine = job;
  if (stored.id === mine.id) job = merged(stored, mine);
  else if (mine.id === first && unstored.has(first)) {
    job = merged(stored, { ...mine, id: stored.id });
    unstored.delete(first);
    unstored.set(job.id, job);
  } else {
    const waiting = unstored.get(stored.id);
    job = waiting ? merged(stored, waiting) : stored;
  }
  if (unstored.has(job.id)) unstored.set(job.id, job);
}

/**
 * Change the job: `change` alters it in place, entry by entry; no entry itself is ever altered.
 *
 * @param {(job: Job, stamp: Stamp) => string[]} change returns the paths that it changed
 * @param {Element | null} [here] who changes it, and need not be told
 * @param {Object<string, string | undefined>} called by path: what the reader calls it
 */
async function alter(change, here = null, called = {}) {
  await opened;
  const paths = change(job, stampFor(job)); // at once for whoever reads on, then for good
  if (!paths.length) return void dispatchEvent(new Event("bench-kept")); // nothing, or too long to be kept
  job.changed = now();
  unstored.set(job.id, job);
  for (const path of paths) onTheWay.set(path, called[path] ?? path);
  await store();
  others?.postMessage(paths);
  tell(paths, here);
}

/** Write all that is not in the storage yet. */
async function store() {
  const edit = ++edits;
  try {
    if (db) {
      remember();
      const transaction = db.transaction(["jobs", "desk"], "readwrite");
      transaction.done.catch(() => {}); // what went wrong is told by whatever waits for it
      const jobs = transaction.objectStore("jobs");
      for (const [id, mine] of Array.from(unstored)) {
        const stored = (await jobs.get(id)) ?? (id === first ? await current(transaction) : undefined);
        let next = mine;
        if (id === job.id) {
          if (stored) meet(whole(stored));
          next = job;
        } else if (stored) {
          next = merged(whole(stored), { ...mine, id: stored.id });
          if (next.id === job.id) job = merged(job, next);
        }
        await jobs.put(next);
      }
      await transaction.objectStore("desk").put(job.id, CURRENT);
      await transaction.done;
    } else sessionStorage.setItem("bench-job", JSON.stringify(job));
    if (edit === edits) {
      unstored.clear(); // else a later change is on its way, and says so itself
      onTheWay.clear();
      if (db) remember();
    }
    refused = "";
  } catch (error) {
    const name = error instanceof Error ? error.name : String(error);
    refused =
      name === "QuotaExceededError"
        ? "The storage of this browser is full. What was saved before is safe; make room or export, then type on: unsaved entries are saved with your next entry."
        : `This browser did not save the last change (${name}). What was saved before is safe.`;
  }
}

/**
 * Enter something into a map of the job; without it, take out what is there. @param {object | null | undefined | 0 | false} [entry]
 * @param {Job} job
 * @param {Stamp} stamp
 * @param {Object<string, any>} map
 * @param {string} kind
 * @param {string} key
 */
function enter(job, stamp, map, kind, key, entry) {
  const name = `${kind} ${key}`;
  if (entry) {
    map[key] = { ...entry, ...stamp };
    delete job.gone[name];
  } else {
    delete map[key];
    job.gone[name] = editOf(stamp);
  }
}

/** @returns {string} when a walk was last ticked @param {Object<string, Tick>} ticks */
export const lastTick = (ticks) => Object.values(ticks).reduce((latest, { when }) => (when > latest ? when : latest), "");

/**
 * Keep readings, each with its unit, with who works now and with the instrument of its kind on the bench; an
 * undefined one is taken out.
 *
 * @param {Object<string, {text: string, unit?: string, kind?: string, called?: string} | undefined>} readings
 *   `unit` stood beside the box, `called` is what the reader calls it
 * @param {Element | null} here
 */
export function keepReadings(readings, here) {
  const called = Object.fromEntries(Object.entries(readings).map(([path, reading]) => [path, reading?.called]));
  return alter((job, stamp) =>
    Object.entries(readings).flatMap(([path, reading]) => {
      const known = job.readings[path];
      tooLong.delete(path);
      if (reading && reading.text.length > LONGEST) return (tooLong.set(path, called[path] ?? path), []);
      if (known?.text === reading?.text && known?.unit === reading?.unit) return [];
      const { text = "", kind, unit } = reading ?? {};
      const who = job.about.fitter?.trim();
      const instrument = job.readings[`instrument.${kind}`]?.text.trim();
      const kept = reading && { text, ...(unit && { unit }), ...(who && { who }), ...(instrument && { instrument }) };
      enter(job, stamp, job.readings, "readings", path, kept);
      return [path];
    }), here, called);
}

/**
 * Tick a step for the words it has now, or take the tick back.
 *
 * @param {Map<string, string>} steps all steps of the walk and their words, so that the sheet can say "7 of 12"
 * @param {string} walk
 * @param {string} step
 * @param {boolean} done
 * @param {Element | null} here
 */
export const tick = (walk, step, steps, done, here) =>
  alter((job, stamp) => {
    const ticks = (job.ticks[walk] ??= {});
    enter(job, stamp, ticks, `ticks ${walk}`, step, done && { words: steps.get(step) ?? "", of: steps.size });
    for (const [key, { of, ...one }] of Object.entries(ticks)) {
      const count = steps.get(key) === one.words ? steps.size : undefined; // of a plan that has changed since
      if (of !== count) ticks[key] = { ...one, ...(count && { of: count }), order: editOf(stamp) };
    }
    return [`ticks ${walk}`];
  }, here);

/** Take all ticks of a walk back. @param {string} walk @param {Element | null} here */
export const untick = (walk, here) =>
  alter((job, stamp) => {
    for (const step of Object.keys(job.ticks[walk] ?? {})) enter(job, stamp, job.ticks[walk], `ticks ${walk}`, step);
    delete job.ticks[walk];
    return [`ticks ${walk}`];
  }, here);

/** Start (a time in ms) or take away (undefined) the clock of a step. @param {string} name @param {number | undefined} until */
export const setClock = (name, until) =>
  alter((job, stamp) => {
    enter(job, stamp, job.clocks, "clocks", name, until && { until });
    return [`clock ${name}`];
  });

/**
 * Write one text of the sheet: `about.owner`, `notes.<id>.text`, or who read something: `readings <path> who`.
 *
 * @param {string} called what the reader calls it
 * @param {string} at
 * @param {string} text
 * @param {Element | null} here
 */
export const write = (at, text, here, called) =>
  alter((job, stamp) => {
    const [, path, what] = at.match(/^readings (.+) (who|instrument)$/) ?? [];
    const [kind, id, key] = at.split(".");
    const list = /** @type {Listed} */ (kind);
    if (what) {
      const reading = job.readings[path];
      if (!reading) return [];
      // when it was read stays as it was
      job.readings[path] = { ...reading, [what]: text, corrected: stamp.when, order: editOf(stamp) };
    } else if (kind === "about") {
      job.about[id] = text;
      job.about_orders = { ...job.about_orders, [id]: editOf(stamp) };
    } else {
      const index = job[list].findIndex((one) => one.id === id);
      if (index < 0) return [];
      const { order, ...entry } = job[list][index];
      job[list][index] = { ...entry, [key]: text, ...stamp };
    }
    return [at];
  }, here, { [at]: called });

/** Add an entry to a list of the sheet. @param {Listed} list @param {Object<string, any>} [entry] @param {Element | null} [here] */
export const add = (list, entry = {}, here = null) => {
  const id = entry.id ?? newId();
  return alter((job, stamp) => {
    if (!job[list].some((one) => one.id === id)) job[list].push({ ...stamp, ...entry, id });
    return [list];
  }, here);
};

/** Put entries on a list of the sheet, each in the place of the one with its id. */
export const put = (/** @type {Listed} */ list, /** @type {Entry[]} */ entries, /** @type {Element | null} */ here = null) =>
  alter((job, stamp) => {
    const ids = new Set(entries.map(({ id }) => id));
    if (ids.size) job[list] = [...job[list].filter(({ id }) => !ids.has(id)), ...entries.map((entry) => ({ ...entry, ...stamp }))];
    for (const id of ids) delete job.gone[`${list} ${id}`];
    return ids.size ? [list] : [];
  }, here);

/** Tick that a tagged part is back in its own place, or take the tick back. @param {string} id @param {boolean} back @param {Element} here */
export const tickBack = (id, back, here) =>
  alter((job, stamp) => {
    const index = job.tags.findIndex((one) => one.id === id);
    if (index < 0) return [];
    const { back: before, ...tag } = job.tags[index];
    job.tags[index] = { ...tag, ...(back && { back: stamp.when }), order: editOf(stamp) };
    return ["tags"];
  }, here, { tags: "Back in its own place" });

/**
 * Take out an entry of a list, or a reading.
 *
 * @param {Listed | "readings"} list
 * @returns {Promise<() => Promise<void>>} puts it back, as long as its job is in hand
 * @param {string} id
 * @param {Element | null} here
 */
export async function remove(list, id, here) {
  const { id: of, ...before } = await theJob();
  const reading = list === "readings" ? before.readings[id] : undefined;
  const entry = list === "readings" ? undefined : before[list].find((one) => one.id === id);
  const name = `${list} ${id}`;
  await alter((job, stamp) => {
    if (list === "readings") delete job.readings[id];
    else job[list] = job[list].filter((one) => one.id !== id);
    job.gone[name] = editOf(stamp);
    return [list === "readings" ? id : list];
  }, here);
  return () =>
    alter((job, stamp) => {
      if (job.id !== of || !(name in job.gone)) return [];
      const order = editOf(stamp);
      if (reading) job.readings[id] = { ...reading, order };
      else if (entry && list !== "readings") job[list].push({ ...entry, order });
      else return [];
      delete job.gone[name];
      return [list === "readings" ? id : list];
    });
}

/**
 * Choose the engine card of this job; one of the reader's own that gives way to it is laid aside.
 * @param {Card} card
 * @param {Element | null} [here]
 * @param {Card | null} [over] what it was made of; where another stands by now, nothing is done
 * @returns {Promise<boolean>} whether it is chosen
 */
export async function chooseCard(card, here = null, over) {
  let isChosen = false;
  await alter((job, stamp) => {
    isChosen = over === undefined || canonical(over) === canonical(job.card ?? null);
    if (!isChosen) return [];
    const chosen = { ...card, ...stamp };
    const aside = laidAside(chosen, job);
    if (aside.length) job.cards_aside = aside;
    else delete job.cards_aside;
    job.card = chosen;
    return ["card"];
  }, here);
  return isChosen;
}

/** @returns {Promise<Job[]>} all jobs of this browser, the last changed one first */
export async function allJobs() {
  await opened;
  const stored = new Map((db ? await db.getAll("jobs") : []).map((one) => [one.id, whole(one)]));
  for (const mine of [...unstored.values(), job]) {
    const known = stored.get(mine.id);
    stored.set(mine.id, known ? merged(known, mine) : mine);
  }
  return [...stored.values()].sort((one, other) => (one.changed < other.changed ? 1 : -1));
}

/** @param {Job} next */
async function takeUp(next) {
  job = next;
  tooLong.clear();
  try {
    if (db) await db.put("desk", next.id, CURRENT);
    else sessionStorage.setItem("bench-job", JSON.stringify(job));
  } catch {} // full: it is in hand in this tab, and is put there with the next entry
  others?.postMessage(null);
  tell(null, null);
}

/** Lay the job in hand aside and begin another. */
export const beginJob = async () => (await opened, takeUp(blank()));

/** Take up another job. @param {string} id */
export async function takeUpJob(id) {
  const next = (await allJobs()).find((one) => one.id === id);
  if (next) await takeUp(next);
}

/** @typedef {{job: Job, when: string}} Thrown a job, and when it was thrown away */

/** Throw the job in hand away, with whatever a cut-short tab left of it; for a day it can be taken back. @param {boolean} [forGood] where there is no room for it */
export async function throwAway(forGood = false) {
  const { id } = await theJob();
  if (db) {
    const cut = await leftOf(id);
    const transaction = db.transaction(["jobs", "desk", "photographs"], "readwrite");
    transaction.done.catch(() => {});
    const thrown = cut.reduce(merged, copyOf(id, await transaction.objectStore("jobs").get(id)) ?? job);
    const aside = (await thrownIn(transaction)).filter((one) => one.job.id !== id);
    await transaction.objectStore("jobs").delete(id);
    if (forGood) await forgetPicturesOf([thrown], aside, transaction);
    else if (lastEdit(thrown)) await transaction.objectStore("desk").put([...aside, { job: thrown, when: now() }], THROWN);
    await transaction.done;
  } else sessionStorage.removeItem("bench-job");
  unstored.delete(id);
  forget(id);
  await takeUp((await allJobs()).find((one) => one.id !== id) ?? blank());
  await forgetThrown().catch(console.warn);
}

/** @returns {Promise<Thrown[]>} @param {any} transaction */
const thrownIn = async (transaction) => (await transaction.objectStore("desk").get(THROWN)) ?? [];

/** @param {Thrown} one */
const isOver = ({ when }) => Date.now() - Date.parse(when) > FORGOTTEN;

/** @returns {Promise<Thrown[]>} the jobs that can still be taken back */
export const thrownJobs = async () => (await opened, db ? (await thrownIn(db.transaction("desk"))).filter((one) => !isOver(one)) : []);

/** Take a job back that was thrown away; the one in hand is laid aside, as when another is begun. @param {string} id */
export async function takeBack(id) {
  if (!db) return;
  const transaction = db.transaction(["jobs", "desk"], "readwrite");
  transaction.done.catch(() => {});
  const all = await thrownIn(transaction);
  const found = all.find((one) => one.job.id === id);
  if (!found) return; // another tab was quicker
  const here = await transaction.objectStore("jobs").get(id);
  const back = here ? merged(whole(here), whole(found.job)) : whole(found.job);
  await transaction.objectStore("jobs").put(back);
  await transaction.objectStore("desk").put(all.filter((one) => one !== found), THROWN);
  await transaction.done;
  await takeUp(copyOf(id, back) ?? back);
}

/** Jobs that were thrown away a day ago go for good, with the bytes of their photographs. @param {string} [id] this one at once */
export async function forgetThrown(id) {
  if (!db || !(id || (await thrownIn(db.transaction("desk"))).some(isOver))) return;
  const transaction = db.transaction(["jobs", "desk", "photographs"], "readwrite");
  transaction.done.catch(() => {});
  const all = await thrownIn(transaction);
  const over = all.filter((one) => isOver(one) || one.job.id === id);
  if (over.length) {
    const left = all.filter((one) => !over.includes(one));
    await transaction.objectStore("desk").put(left, THROWN);
    await forgetPicturesOf(over.map(({ job }) => job), left, transaction);
  }
  await transaction.done;
  if (over.length) others?.postMessage(null);
}

/** The bytes that no other job has go, also of photographs that were taken out before. @param {Job[]} jobs @param {Thrown[]} left @param {any} transaction */
async function forgetPicturesOf(jobs, left, transaction) {
  const kept = new Set([...(await transaction.objectStore("jobs").getAll()), ...left.map(({ job }) => job)].flatMap(picturesOf));
  for (const picture of jobs.flatMap(picturesOf))
    if (!kept.has(picture)) await transaction.objectStore("photographs").delete(picture);
}

/** Which photographs were taken out of a job, and when. */
const takenOut = ({ gone = {} }) =>
  Object.entries(gone).flatMap(([name, when]) => (name.startsWith("photographs ") ? [{ id: name.slice("photographs ".length), when }] : []));

/** The ids of a job's photographs, and of those that were taken out of it: one may be put back. @param {Job} job */
const picturesOf = (job) => [...(job.photographs ?? []), ...takenOut(job)].map(({ id }) => id);

/** The bytes of photographs that were taken out a day ago go; until then one can be put back. */
async function forgetPhotographs() {
  if (!db) return;
  try {
    const jobs = await db.getAll("jobs");
    const listed = new Set(jobs.flatMap(({ photographs = [] }) => photographs.map((/** @type {Entry} */ { id }) => id)));
    for (const { id, when } of jobs.flatMap(takenOut))
      if (!listed.has(id) && Date.now() - Date.parse(when) > FORGOTTEN) await db.delete("photographs", id);
  } catch {} // another time
}

/**
 * @returns {Job | undefined} what this tab knows of a job: the stored one, and what is not stored yet
 * @param {string} id
 * @param {Job | undefined} stored
 */
function copyOf(id, stored) {
  const mine = unstored.get(id) ?? (!db && id === job.id ? job : undefined);
  return stored && mine ? merged(whole(stored), mine) : (mine ?? (stored && whole(stored)));
}

/** @returns {Promise<Job | undefined>} what is kept here of a job @param {string} id */
export const keptJob = async (id) => (await opened, copyOf(id, await db?.get("jobs", id)));

/** @returns {string} a job as it stands; the same text as long as nothing of it is another @param {Job | undefined} job */
export const asItStands = (job) => canonical(job ?? null);

/**
 * Take copies of jobs in, each merged with what is kept of it at that moment, and take up the first.
 *
 * @param {Job[]} theirs
 * @param {Map<string, Blob>} photographs
 * @param {Map<string, string>} seen by id: how each of mine stood when the reader saw what would happen
 * @returns {Promise<boolean>} false where one is another since: then nothing was done
 */
export async function takeIn(theirs, photographs, seen) {
  await opened;
  const results = [];
  const transaction = db?.transaction(["jobs", "photographs", "desk"], "readwrite");
  transaction?.done.catch(() => {});
  for (const copy of db ? theirs : theirs.slice(0, 1)) {
    const known = copyOf(copy.id, await transaction?.objectStore("jobs").get(copy.id));
    if (asItStands(known) !== seen.get(copy.id)) return (transaction?.abort(), false);
    results.push(known ? merged(known, whole(copy)) : whole(copy));
    await transaction?.objectStore("jobs").put(results.at(-1));
  }
  if (transaction) {
    for (const [id, blob] of photographs) await transaction.objectStore("photographs").put(blob, id);
    await transaction.objectStore("desk").put(results[0].id, CURRENT);
    await transaction.done;
  }
  for (const one of results) {
    const waiting = unstored.get(one.id);
    if (waiting) unstored.set(one.id, merged(one, waiting));
  }
  await takeUp(unstored.get(results[0].id) ?? results[0]);
  return true;
}

/** Keep a photograph: its bytes first, then its line on the sheet. @returns {Promise<string>} its id @param {Blob} blob @param {Object<string, any>} facts */
export async function addPhotograph(blob, facts) {
  await opened;
  if (!db) throw new Error("this browser keeps no photographs");
  const id = newId();
  await db.put("photographs", blob, id);
  await add("photographs", { id, ...facts });
  return id;
}

/** @returns {Promise<Blob | undefined>} @param {string} id */
export const photograph = async (id) => (await opened, db?.get("photographs", id));

/** What this browser keeps beside the jobs. @returns {Promise<any>} @param {string} key */
export const fromDesk = async (key) => (await opened, db?.get("desk", key));
/** @param {string} key @param {unknown} value undefined takes it away */
export const toDesk = async (key, value) => (await opened, value === undefined ? db?.delete("desk", key) : db?.put("desk", value, key));

/** @returns {Promise<string | undefined>} when an export was last made */
export const lastExport = () => fromDesk(EXPORTED);
export const noteExport = () => toDesk(EXPORTED, now());

/** Ask the browser not to clear this storage on its own. @returns {Promise<boolean | undefined>} undefined: cannot ask */
export async function askToPersist() {
  const { storage } = navigator;
  if (!storage?.persist) return undefined;
  return (await storage.persisted()) || storage.persist();
}
