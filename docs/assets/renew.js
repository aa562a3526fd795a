/** What calculators kept in the job is worked out anew where something under it is another since, on whichever page. */
import { keepReadings, theJob } from "./job.js";
import { ask } from "./python.js";
import release from "./release.js";

const SOON = 300; // ms after the last word from another tab

/** @type {Promise<void> | undefined} shared by all who ask meanwhile */
let running;
let again = false;

/** @type {Object<string, string>} by the name of each calculator that could not follow: the title of the one with no answer */
let behind = {};

/** @returns {string | undefined} the title of the calculator with no answer to its entries, on which this one's results wait */
export const stuckAt = (name) => behind[name];

/** @returns {boolean} whether some calculator waits for another's entries to be put right */
export const isBehind = () => Object.keys(behind).length > 0;

/** Let all that the job keeps follow; "bench-stuck" tells when another calculator cannot. */
export function renew() {
  again = Boolean(running);
  return (running ??= untilSettled().finally(() => (running = undefined)));
}

async function untilSettled() {
  const before = JSON.stringify(behind);
  do {
    again = false;
    behind = await once();
  } while (again);
  if (JSON.stringify(behind) !== before) dispatchEvent(new Event("bench-stuck"));
}

let wait = 0;
addEventListener("bench-job", ({ detail }) => {
  if (detail.here !== null) return; // a calculator of this page: those beside it follow by themselves
  if (!document.querySelector("bench-calculator, bench-job")) return; // a page that is only read starts no Python
  clearTimeout(wait);
  wait = setTimeout(renew, SOON);
});

/** @returns {Promise<Object<string, string>>} what is behind now */
async function once() {
  const { id, card, ...job } = await theJob();
  const readings = { ...job.readings }; // as they are now: the answer takes a while
  if (!Object.values(readings).some(({ from }) => from)) return {};
  try {
    const { renewed, stuck } = await ask({ want: "renew", card: card?.data ? card : (card?.name ?? release.card), readings });
    const now = await theJob();
    if (now.id !== id) return {};
    const stands = ([path]) => now.readings[path]?.when === readings[path]?.when; // else typed, or taken out, meanwhile
    await keepReadings(Object.fromEntries(Object.entries(renewed).filter(stands)));
    return stuck;
  } catch (error) {
    console.warn(error); // what is kept stands as it was
    return {};
  }
}
