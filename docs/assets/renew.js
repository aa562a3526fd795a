/** What calculators kept in the job is worked out anew where something under it is another since, on whichever page. */
import { keepReadings, theJob } from "./job.js";
import { ask } from "./python.js";
import release from "./release.js";

/** @type {Promise<Object<string, string>> | undefined} shared by all who ask meanwhile */
let running;
let again = false;

/** @returns {Promise<Object<string, string>>} by the name of each calculator that could not follow, the title of the one that has no answer to its entries */
export function renew() {
  again = Boolean(running);
  return (running ??= untilSettled().finally(() => (running = undefined)));
}

async function untilSettled() {
  let stuck;
  do {
    again = false;
    stuck = await once();
  } while (again);
  return stuck;
}

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
