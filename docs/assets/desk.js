/**
 * The questions and quoted answers of this page, asked together: one pass of Python over what the job holds.
 *
 * While nothing is typed and no card is chosen, the page stands as it was built. An answer that a newer
 * keystroke has overtaken is dropped.
 *
 * @typedef {{name: string, opened: string[], rows: Object<string, number>, whole: boolean}} Wanted
 * @typedef {HTMLElement & {wanted: () => Wanted, show: (changes: object) => void, stopped: () => void}} Shown
 */
import { theJob } from "./job.js";
import { ask, isUp } from "./python.js";
import release from "./release.js";

const STARTING = "Starting. Type on: what you typed is answered when this is up.";
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
  ask_all();
}

/** @param {Shown} element */
export const leave = (element) => shown.delete(element);

/** @returns {HTMLElement[]} the places where this page quotes answers */
const quotes = () => [...document.querySelectorAll("data.answer-value")];

/** @returns {boolean} whether the job holds something of the reader's that this page may show */
const isBegun = ({ card, readings, ticks }) => Boolean(card) || Object.keys({ ...readings, ...ticks }).length > 0;

/** @returns {Promise<object>} what every answer of this page rests on: readings, card, and whether the example may speak */
export async function standing() {
  const { card, readings } = await theJob();
  return {
    card: card?.data ? { name: card.name, data: card.data } : (card?.name ?? release.card),
    example: !card || (!card.data && card.name === release.card),
    readings,
  };
}

/** While Python is on its way, no answer of the example's or of before stands beside what the reader has typed. */
function wait(element) {
  if (element.hasAttribute("data-waiting")) return;
  element.setAttribute("data-waiting", "");
  for (const headline of element.querySelectorAll(".q-headline, .q-glance-headline")) headline.textContent = ""; // it can have the focus
  for (const said of element.querySelectorAll(".q-whose")) said.textContent = STARTING;
}

/** Ask for all that this page shows, once what was asked before is answered. */
export async function ask_all() {
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
        if (element.isConnected) element.show(answer.questions[element.getAttribute("name")]);
      }
      quote(places, answer.quotes);
    } catch (error) {
      console.warn(error);
      for (const element of elements) element.stopped();
    }
  } while (again);
  asked = false;
}

/** Write into each quoted place the reader's own answer, or that there is none yet. */
function quote(places, answers) {
  for (const place of places) {
    if (!built.has(place)) built.set(place, place.textContent);
    const { text, whose } = answers[place.value];
    place.textContent = text || "not yet worked out";
    place.dataset.state = whose;
  }
}

/** No answer rests on ticks and clocks; a new one would take the steps away from under whoever follows them. */
const RESTS_ON = (path) => !/^(ticks|clock) /.test(path);
addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.some(RESTS_ON)) && ask_all());
document$.subscribe(() => ask_all()); // the theme's: each page that is shown, also without a reload
