/** What calculators kept in the job is worked out anew where something under it was changed since, on whichever page. */
import { keepReadings, theJob } from "./job.js";
import { ask } from "./python.js";
import release from "./release.js";

/** @returns {Promise<Object<string, string>>} by the name of each calculator that could not follow, the title of the one that has no answer to its entries */
export async function renew() {
  const { readings, card } = await theJob();
  if (!Object.values(readings).some(({ from }) => from)) return {};
  const chosen = card?.data ? card : (card?.name ?? release.card);
  try {
    const { renewed, stuck } = await ask({ want: "renew", card: chosen, since: card?.when ?? "", readings });
    await keepReadings(renewed);
    return stuck;
  } catch (error) {
    console.warn(error); // Python has stopped, and the page says so
    return {};
  }
}
