/** The jobs of the shop, in their fold on the job sheet: this browser's, and those that others wrote to the shop's folder. */
import { button, make } from "./elements.js";
import { lastTick, theJob, allJobs } from "./job.js";
import { nameOf } from "./job-file.js";
import { writtenTime } from "./locale.js";
import { canKeep, choose, leave, ofOthers, standing } from "./shop-folder.js";

const PLACE = /^(\S+)\/(\S+)\/ steps(?: head_(\d+))?$/; // a page's path and the head: the name of its ticks, as steps.js gives it
/** @type {Object<string, string>} folders of pages whose stage has another name */
const STAGES = { heads: "Head work", run: "First run", handover: "Handover" };
const DAY = 24 * 3600_000; // ms

/** @param {string} words */
const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** @returns {string} the step that was ticked last, and its stage @param {Job} job */
export function stageOf({ ticks }) {
  const places = Object.entries(ticks).filter(([where, done]) => PLACE.test(where) && Object.keys(done).length);
  const last = places.sort(([, one], [, other]) => (lastTick(one) < lastTick(other) ? 1 : -1))[0];
  if (!last) return "Nothing ticked yet";
  const [, folder, page, head] = last[0].match(PLACE) ?? [];
  const done = Object.keys(last[1]).length;
  const of = Object.values(last[1])[0].of;
  return `${STAGES[folder] ?? capital(folder)}: ${page.replaceAll("-", " ")}${head ? `, head ${head}` : ""}, ${done}${of ? ` of ${of}` : ""} done`;
}

/** @returns {string} @param {string} when */
function ageOf(when) {
  const days = Math.floor((Date.now() - Date.parse(when)) / DAY);
  return days < 1 ? "today" : days === 1 ? "yesterday" : `${days} days ago`;
}

/**
 * Fill the fold.
 *
 * @param {HTMLElement} place
 * @param {{takeUp: (id: string) => Promise<unknown>, look: (file: File) => Promise<unknown>, exportAll: () => Promise<unknown>}} sheet what the job sheet does
 */
export async function fill(place, sheet) {
  const inHand = (await theJob()).id;
  const rows = (await allJobs()).map((job) => {
    const { owner, vehicle } = job.about;
    const whose = [owner, job.about.name && vehicle].filter(Boolean).join(" · ");
    const deed = job.id === inHand ? make("strong", {}, "In hand") : button("Take it up", () => sheet.takeUp(job.id), { ariaLabel: `Take up ${nameOf(job)}` });
    const facts = [whose, stageOf(job), `begun ${writtenTime(job.made, false)}, changed ${ageOf(job.changed)}`].filter(Boolean);
    return make("li", {}, make("strong", {}, nameOf(job)), ...facts.map((words) => make("span", {}, words)), deed);
  });
  const list = make("ul", { className: "bench-jobs" }, ...rows);
  place.replaceChildren(list, ...(await folderParts(() => fill(place, sheet), sheet)));
}

/** @returns {Promise<Node[]>} @param {() => Promise<unknown>} again @param {Parameters<typeof fill>[1]} sheet */
async function folderParts(again, { look, exportAll }) {
  const buttons = make("p", { className: "bench-buttons" });
  if (!canKeep()) {
    buttons.append(button("Export all, with photographs", exportAll));
    return [make("p", {}, "This browser cannot write to a folder by itself. Put the export onto the shop’s disk at the end of the day."), buttons];
  }
  const status = make("p", {});
  status.setAttribute("role", "status");
  const deed = (/** @type {() => Promise<unknown>} */ one) => async () => {
    try {
      await one();
      await again();
    } catch (error) {
      if (error.name !== "AbortError") status.textContent = `That did not work: ${error.message}`; // else the reader shut the choice
    }
  };
  const kept = await standing();
  if (!kept) {
    buttons.append(button("Keep all jobs in a folder", deed(() => choose(false))));
    return [make("p", {}, "Choose a folder, on the shop’s disk for instance. Each change of each job is written there at once, without the photographs. Other devices write files of their own beside it."), status, buttons];
  }
  status.textContent = kept.setback || (kept.asks ? `The browser asks again before it writes to ${kept.name}.` : `Each change is written to the folder ${kept.name}.`);
  if (kept.asks || kept.setback) buttons.append(button(`Go on writing to ${kept.name}`, deed(() => choose(false))));
  buttons.append(button("Choose another folder", deed(() => choose(true))), button("Stop writing to it", deed(leave)));
  const others = kept.asks ? [] : await ofOthers().catch(() => []);
  const files = others.map((file) => {
    const name = file.name.replace(/-[0-9a-f]{8,32}-[0-9a-f]{6}\.json$/, "").replaceAll("-", " ");
    return make("li", {}, make("strong", {}, capital(name)), make("span", {}, `by another device, ${ageOf(new Date(file.lastModified).toISOString())}`), button("Look at it", () => look(file), { ariaLabel: `Look at ${name}, by another device` }));
  });
  return [status, buttons, ...(files.length ? [make("p", {}, "What other devices wrote there:"), make("ul", { className: "bench-jobs" }, ...files)] : [])];
}
