/**
 * Below a box: what was typed there goes onto the reader's own engine card, which is silent about it or says otherwise.
 *
 * Which values those are, and what card comes of it, is worked out by Python. The reading stays where it was typed.
 */
import { button, find, findAll, make } from "./elements.js";
import { chooseCard, keepReadings, theJob } from "./job.js";
import { inReadersWay } from "./locale.js";
import { ask } from "./python.js";

const REST = 800; // ms after the last key, so that half a number is not offered
const NOT_KNOWN = "not known";
const FAILED = "That did not work. The card is as it was.";
const LEFT = "bench-left"; // what is to stay as it is, in this tab

/** @typedef {{path: string, text: string, typed: string, stands: string, source: string, inherited: boolean}} Offer */
/** @typedef {{says: string, of?: string, wrong?: boolean, deeds?: [string, () => Promise<void>][]}} Shown words below a box, and what can be done there, with which value */
/**
 * @typedef {object} Done what was done with a value
 * @property {string} of the value, so that another one is offered anew
 * @property {string} when the card was last changed
 * @property {Offer} offered
 * @property {string} [source] with which it went onto the card
 * @property {{text: string, source: string}} [former] what the card said before
 * @property {string[]} [sources] where it may be from
 * @property {Reading} [taken] what was typed, where the card's was taken instead
 * @property {string} [failed] why it did not go onto the card
 */
/** @typedef {{question: HTMLElement, name: string, key: string}} Place the box of a question, by its name there and by its reading in the job */

/** @type {Map<string, Done>} by the job and the path of the reading */
const done = new Map();
/** @type {Set<string>} what was said aloud */
const told = new Set();
/** @type {WeakMap<HTMLElement, number>} by question: what waits until its typing rests */
const waiting = new WeakMap();
/** @type {Place | undefined} the box below which the focus goes */
let lands;

/** @type {Set<string>} what stays as it is */
const left = new Set();
try {
  for (const both of JSON.parse(sessionStorage.getItem(LEFT) ?? "[]")) left.add(both);
} catch {} // forbidden, or no text of ours
/** @type {Set<string>} by key: where a deed is under way */
const busy = new Set();

/** Do one thing at a time below a box: a second tap is none. @param {Place} place @param {() => Promise<void>} deed */
async function once({ key }, deed) {
  if (busy.has(key)) return;
  busy.add(key);
  try {
    await deed();
  } finally {
    busy.delete(key);
  }
}

/** @param {HTMLElement} box */
const controlOf = (box) => /** @type {Control} */ (find(box, "[data-path]"));

/** @returns {string} what stands in a box, with its unit @param {HTMLElement} box */
function valueOf(box) {
  const [unit] = findAll(box, "select.q-unit", HTMLSelectElement);
  const text = controlOf(box).value.trim();
  return text && `${text} ${unit?.value ?? ""}`.trim();
}

/** @returns {string} what a box is called @param {HTMLElement} box */
const labelOf = (box) => (box.querySelector("label")?.firstChild?.textContent ?? "").trim();

/** @param {Place} place @returns {HTMLElement} as it stands now: an answer may have replaced it */
const boxOf = ({ question, name }) => find(question, `[data-box="${CSS.escape(name)}"]`);

/**
 * Show below each box of a question what its card could take; below the one that is being typed in, once that rests.
 *
 * @param {HTMLElement} question
 * @param {Object<string, Offer>} offers by the name of the box
 */
export async function offer(question, offers) {
  clearTimeout(waiting.get(question));
  listen(question);
  const active = document.activeElement;
  const held = active?.matches("[data-path], [data-part], [data-unit-of]") ? active.closest(".q-box") : null;
  const { id, card } = await theJob();
  for (const box of findAll(question, ".q-box[data-box]", HTMLElement)) {
    const place = { question, name: box.dataset.box ?? "", key: `${id} ${controlOf(box).dataset.path}` };
    const offered = card?.data && offers[place.name];
    if (offered && box === held && !box.querySelector(".q-keep")) waiting.set(question, setTimeout(() => rested(place, offered), REST));
    else show(place, card, offered);
  }
  question.dispatchEvent(new Event("bench-offered"));
}

/** @param {Place} place @param {Offer} offered */
async function rested(place, offered) {
  if (!place.question.isConnected) return;
  const { card } = await theJob();
  show(place, card, offered);
  say(place, offered.text, sayOf(offered) || `${offered.typed} can go onto the card.`);
}

/** A place for what is said aloud, there before anything is said. @param {HTMLElement} question */
function listen(question) {
  const form = find(question, ".q-form");
  if (form.querySelector(".q-keep-aloud")) return;
  const aloud = make("p", { className: "bench-aloud q-keep-aloud" });
  aloud.setAttribute("role", "status");
  form.append(aloud);
}

/** Say something of a box aloud, once. @param {Place} place @param {string} of @param {string} words */
function say(place, of, words) {
  const mark = `${place.key} ${of} ${words}`;
  if (told.has(mark)) return;
  told.add(mark);
  find(place.question, ".q-keep-aloud").textContent = `${labelOf(boxOf(place))}: ${words}`;
}

/** @param {Place} place @param {Card | undefined} card @param {Offer} [offered] */
function show(place, card, offered) {
  const box = boxOf(place);
  const was = done.get(place.key);
  if (was && (was.of !== valueOf(box) || was.when !== card?.when)) done.delete(place.key);
  const did = done.get(place.key);
  put(place, box, did ? asDone(place, did) : offered && asOffered(place, offered));
  const first = box.querySelector(".q-keep button") ?? box.querySelector(".q-keep p");
  if (!first || lands?.question !== place.question || lands.name !== place.name) return;
  lands = undefined;
  first.focus({ preventScroll: true });
}

/** Put words and buttons below a box, or take them away; what stands there already keeps the focus. @param {Place} place @param {HTMLElement} box @param {Shown} [shown] */
function put(place, box, shown) {
  const before = box.querySelector(".q-keep");
  if (!shown) return before?.remove();
  const { says, of: value, wrong, deeds = [] } = shown;
  const of = [value, says, ...deeds.map(([words]) => words)].join("\n");
  if (before?.dataset.of === of) return;
  const keep = make("div", { className: "q-keep" });
  keep.dataset.of = of;
  keep.setAttribute("role", "group");
  keep.setAttribute("aria-label", `${labelOf(box)} on the engine card`);
  if (says) keep.append(make("p", { className: wrong ? "q-error" : "", tabIndex: -1, textContent: says }));
  for (const [words, deed] of deeds) keep.append(button(words, () => once(place, deed)));
  before?.remove();
  box.append(keep);
  inReadersWay(keep);
}

/** @param {Offer} offered @returns {string} what the card says instead */
function sayOf({ stands, source, inherited }) {
  if (inherited) return `The card has only the example’s ${stands}.`;
  return stands && `The card says ${stands}${source ? ` (${source})` : ""}.`;
}

/** @param {Place} place @param {Offer} offered @returns {Shown} */
function asOffered(place, offered) {
  const { typed, text, stands, inherited } = offered;
  const keep = () => onto(place, offered, NOT_KNOWN);
  if (!stands || inherited) return { says: sayOf(offered), of: text, deeds: [["Keep on the card", keep]] };
  const both = `${place.key} ${text} ${stands}`;
  if (left.has(both)) return { says: `This job has ${typed}; the card says ${stands}.` };
  const leave = async () => {
    left.add(both);
    try {
      sessionStorage.setItem(LEFT, JSON.stringify([...left]));
    } catch {} // forbidden: it stays so until the page is left
    lands = place;
    show(place, (await theJob()).card, offered);
  };
  return { says: sayOf(offered), deeds: [[`Put ${typed} on it`, keep], [`Use its ${stands}`, () => take(place, offered)], ["Leave both", leave]] };
}

/** @param {Place} place @param {Done} did @returns {Shown} */
function asDone(place, { offered, source = "", former, sources = [], taken, failed }) {
  if (failed) return { says: failed, wrong: true };
  if (taken) return { says: `${offered.stands}, as the card says, and not ${offered.typed}.`, deeds: [["Undo", () => takeBack(place, taken)]] };
  /** @type {[string, () => Promise<void>][]} */
  const undo = [["Undo", () => back(place, offered, former)]];
  if (source !== NOT_KNOWN) return { says: `On the card: ${offered.typed}, ${source}.`, deeds: undo };
  const from = sources.filter((one) => one !== NOT_KNOWN);
  return {
    says: `On the card: ${offered.typed}. Its source is not known; if you know it:`,
    deeds: [...from.map((one) => /** @type {[string, () => Promise<void>]} */ ([one, () => onto(place, offered, one, former)])), ...undo],
  };
}

/** Change one fact of the job's own card, as its editor would; another's change meanwhile is in it. @param {Offer} offered @param {string} text @param {string} source */
async function changeCard({ path }, text, source) {
  for (;;) {
    const { card } = await theJob();
    if (!card?.data) throw new Error("The job has no card of its own.");
    const found = await ask({ want: "card-with", card, path, text, source });
    if (found.errors.length) return { ...found, failed: `The card cannot take it: ${found.errors[0].message}.` };
    if (await chooseCard({ name: card.name, data: found.data }, null, card)) return found;
  }
}

/** Note what was done, and show it. @param {Place} place @param {Omit<Done, "of" | "when">} did */
async function note(place, did) {
  const { card } = await theJob();
  const of = did.taken ? "" : valueOf(boxOf(place));
  done.set(place.key, { ...did, of, when: card?.when ?? "" });
  lands = place;
  if (!place.question.isConnected) return;
  if (!did.taken) show(place, card);
  say(place, card?.when ?? "", asDone(place, { ...did, of, when: "" }).says);
}

/**
 * Put a value onto the card.
 *
 * @param {Place} place
 * @param {Offer} offered
 * @param {string} source
 * @param {{text: string, source: string}} [before] what the card said before it was first put there
 */
async function onto(place, offered, source, before) {
  try {
    const { was, sources, failed } = await changeCard(offered, offered.text, source);
    await note(place, { offered, source, former: before ?? was, sources, failed });
  } catch (error) {
    console.warn(error);
    await note(place, { offered, failed: FAILED });
  }
}

/** @param {Place} place @param {Offer} offered @param {Done["former"]} former */
async function back(place, offered, former) {
  try {
    const { failed } = await changeCard(offered, former?.text ?? "", former?.source ?? "");
    if (failed) return await note(place, { offered, failed });
    done.delete(place.key);
    lands = place; // what is offered again, once Python has answered
  } catch (error) {
    console.warn(error);
    await note(place, { offered, failed: FAILED });
  }
}

/** Take the card's value: what was typed goes. @param {Place} place @param {Offer} offered */
async function take(place, offered) {
  const path = controlOf(boxOf(place)).dataset.path ?? "";
  const taken = (await theJob()).readings[path];
  await keepReadings({ [path]: undefined }, null);
  await note(place, { offered, taken }); // before Python can have answered: then the box is another, and empty
}

/** @param {Place} place @param {Reading} taken */
async function takeBack(place, { text, unit }) {
  const { path = "", instrument: kind } = controlOf(boxOf(place)).dataset;
  done.delete(place.key);
  lands = place;
  await keepReadings({ [path]: { text, unit, kind, called: labelOf(boxOf(place)) } }, null);
}
