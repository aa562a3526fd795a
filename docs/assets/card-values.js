/**
 * Figures that a page quotes from the engine card: the build fills in the site's own card, and here
 * they become those of the card that the job has.
 *
 * How a fact is printed is Python's to say; what it said is kept for the next page, so that Python is
 * seldom started for a page that is only read.
 */
import { findAll } from "./elements.js";
import { theJob } from "./job.js";
import { ask } from "./python.js";
import release from "./release.js";

const KEPT = "bench-card-texts";
const WAITING = "…"; // never another engine's figure
const OURS = "demonstration engine"; // as pages call the engine of the card that they are built with
const built = new WeakMap(); // what the build wrote, by element or text
/** @type {{of: string, texts: Object<string, string>} | undefined} of the card last asked for */
let known;

/** @returns {string} what the texts of a card hang on; empty for the card that the pages are built with @param {Card | undefined} card */
function nameOf(card) {
  if (!card || (!card.data && card.name === release.card)) return "";
  return `${release.name} ${card.name} ${card.data ? card.when : ""}`;
}

/** @param {Card} card @param {string} of */
async function textsOf(card, of) {
  if (known?.of === of) return known.texts;
  try {
    known = JSON.parse(localStorage.getItem(KEPT) ?? "null") ?? undefined;
  } catch {}
  if (known?.of === of) return known.texts;
  const { texts } = await ask({ want: "card-texts", card });
  known = { of, texts };
  try {
    localStorage.setItem(KEPT, JSON.stringify(known));
  } catch {}
  return texts;
}

/** Write into each quoted figure what `text` gives for its path. @param {(path: string, value: HTMLDataElement) => string} text */
function write(text) {
  for (const value of findAll(document, "data.card-value", HTMLDataElement)) {
    if (!built.has(value)) built.set(value, value.textContent);
    const words = text(value.value, value);
    if (value.textContent !== words) value.textContent = words;
  }
}

/** Say beside each quoted figure whose it is. @param {boolean} ours */
function writeWhose(ours) {
  for (const value of document.querySelectorAll("data.card-value")) {
    const texts = document.createTreeWalker(value.closest("p, li, td") ?? value, NodeFilter.SHOW_TEXT);
    for (let text; (text = /** @type {Text | null} */ (texts.nextNode())); ) {
      if (!built.has(text) && text.data.includes(OURS)) built.set(text, text.data);
      const words = built.get(text);
      if (words) text.data = ours ? words : words.replaceAll(OURS, "card’s engine");
    }
  }
}

/** @param {boolean} always */
async function show(always) {
  if (!always && !document.querySelector("data.card-value")) return;
  const { card } = await theJob();
  const of = nameOf(card);
  writeWhose(!of);
  if (!card || !of) return write((path, value) => built.get(value));
  if (known?.of !== of) write(() => WAITING);
  try {
    const texts = await textsOf(card, of);
    if (nameOf((await theJob()).card) === of) write((path) => texts[path] ?? "not on this card");
  } catch (error) {
    console.warn(error);
    write(() => "see the engine card"); // Python does not run here; no figure is better than another engine's
  }
}

addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.includes("card")) && show(true));
if ("document$" in globalThis) document$.subscribe(() => show(false)); // the theme's: also each page that it puts in place
else show(false);
