/**
 * The questions and quoted answers of this page, asked together: one pass of Python over what the job holds.
 *
 * While nothing is typed and no card is chosen, the page stands as it was built. An answer that a newer
 * keystroke has overtaken is dropped.
 *
 * @typedef {HTMLElement & {name: string, wanted: () => Wanted, show: (answer: Answer) => void, stopped: () => void}} Shown
 */
import { findAll } from "./elements.js";
import { theJob } from "./job.js";
import { ask, isUp } from "./python.js";
import release from "./release.js";

const STARTING = "Starting. Keep typing: your entries are answered once this has started.";
/** @type {Set<Shown>} */
const shown = new Set();
/** @type {WeakMap<HTMLElement, string>} what the build wrote where an answer is quoted */
const built = new WeakMap();
let asked = false;
let again = false;
let touched = false; // the page no longer stands as it was built

/** Let a question be asked with the others of this page. @param {Shown} element */
export function join(element) {
  shown.add(element);
  askAll();
}

/** @param {Shown} element */
export const leave = (element) => shown.delete(element);

/** The places where this page quotes answers. */
const quotes = () => findAll(document, "data.answer-value", HTMLDataElement);

/** @param {Job} job @returns {boolean} whether the job holds something of the reader's that this page may show */
export const isBegun = ({ card, readings, ticks }) => Boolean(card) || Object.keys({ ...readings, ...ticks }).length > 0;

/** What every answer of this page rests on: readings, card, and whether the example may speak. */
export async function standing() {
  const { card, readings } = await theJob();
  return {
    card: card ?? release.card,
    example: !card || (!card.data && card.name === release.card),
    readings,
  };
}

/**
 * While Python is on its way, no answer of the example's or of before stands beside what the reader has typed.
 * @param {HTMLElement} element
 */
function wait(element) {
  if (element.hasAttribute("data-waiting")) return;
  element.setAttribute("data-waiting", "");
  for (const headline of element.querySelectorAll(".q-headline, .q-glance-headline")) headline.textContent = ""; // it can have the focus
  for (const said of element.querySelectorAll(".q-whose")) said.textContent = STARTING;
}

/** Ask for all that this page shows, once what was asked before is answered. */
export async function askAll() {
  if (asked) {
    again = true;
    return;
  }
  asked = true;
  do {
    again = false;
    const job = await theJob();
    const places = quotes();
    if (!(shown.size || places.length) || !(isBegun(job) || touched)) continue;
    touched = true;
    const elements = [...shown];
    if (!isUp()) for (const element of elements) wait(element);
    try {
      const answer = await ask({
        want: "questions",
        ...(await standing()),
        questions: elements.map((element) => element.wanted()),
        quotes: [...new Set(places.map(({ value }) => value))],
      });
      if (again) continue;
      for (const element of elements) {
        element.removeAttribute("data-waiting");
        if (element.isConnected) element.show(answer.questions[element.name]);
      }
      quote(places, answer.quotes);
    } catch (error) {
      console.warn(error);
      for (const element of elements) element.stopped();
    }
  } while (again);
  asked = false;
}

/**
 * Write into each quoted place the reader's own answer, or that there is none yet.
 * @param {HTMLDataElement[]} places
 * @param {Object<string, { text: string, whose: string }>} answers
 */
function quote(places, answers) {
  for (const place of places) {
    if (!built.has(place)) built.set(place, place.textContent);
    const { text, whose } = answers[place.value];
    place.textContent = text || "not yet worked out";
    place.dataset.state = whose;
  }
}

/** No answer rests on ticks and clocks; a new one would take the steps away from under whoever follows them. @param {string} path */
const restsOn = (path) => !/^(ticks|clock) /.test(path);
addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.some(restsOn)) && askAll());
document$.subscribe(() => askAll()); // the theme's: each page that is shown, also without a reload
