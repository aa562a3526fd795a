/**
 * What the search can say at once, above the pages that it finds: the reader's own figure, else the example's, and
 * the page that uses it first. The theme's search is left alone; its box is only listened to.
 *
 * @typedef {[called: string, path: string, example: string]} Figure
 * @typedef {{says: string, asked: string[], figures: Figure[], address: string, page: string}} Found
 */
import { isBegun, standing } from "./desk.js";
import { find, findAll, make } from "./elements.js";
import found from "./found.js";
import { theJob } from "./job.js";
import { inReadersWay } from "./locale.js";
import { ask, startPython } from "./python.js";

const ROOT = new URL("../../", import.meta.url);
const AT_ONCE = 2; // answers; the pages below want to be seen as well
const BEGINNING = 2; // letters of the last word, still being typed, that may stand for it
const WAITING = "…"; // never the example's figure in the reader's place
const WHOSE = { yours: "yours", card: "your card", usual: "usual", example: "EXAMPLE", "": "" };
const NONE = "no figure of yours yet";

const box = find(document, ".md-search__input", HTMLInputElement);
const place = make("div", { className: "bench-found" });
place.setAttribute("aria-live", "polite");
find(document, ".md-search__output").prepend(place);

/** @param {string} text @returns {string[]} its words, one for one and many */
const words = (text) => (text.toLowerCase().match(/\p{L}+/gu) ?? []).map((word) => word.replace(/(?<=\w{3})(?<!s)s$/, ""));
const table = found.map((/** @type {Found} */ one) => ({ ...one, ways: one.asked.map(words) }));

/** @param {string} text @returns {(Found & {ways: string[][]})[]} what answers it, by as many words as any does */
function answering(text) {
  const typed = words(text);
  const last = typed.at(-1) ?? "";
  /** @param {string} word */
  const isTyped = (word) => typed.includes(word) || (last.length >= BEGINNING && word.startsWith(last));
  const ranked = table.map((one) => ({ one, by: Math.max(0, ...one.ways.filter((way) => way.every(isTyped)).map(({ length }) => length)) }));
  const most = Math.max(1, ...ranked.map(({ by }) => by));
  return ranked.filter(({ by }) => by === most).map(({ one }) => one).slice(0, AT_ONCE);
}

let shown = ""; // what is said now, and for which job
let turn = 0;

/** @param {boolean} [anew] */
async function show(anew) {
  const answers = answering(box.value);
  const said = answers.map(({ says }) => says).join();
  if (said === shown && !anew) return;
  shown = said;
  const mine = ++turn;
  const own = isBegun(await theJob());
  if (mine !== turn) return;
  place.replaceChildren(...answers.map((one) => block(one, own)));
  inReadersWay(place);
  if (!own || !answers.length) return;
  const paths = [...new Set(answers.flatMap(({ figures }) => figures.map(([, path]) => path)))];
  const told = await ask({ want: "figures", ...(await standing()), paths }).catch((error) => void console.warn(error));
  if (mine !== turn) return;
  for (const figure of findAll(place, ".bench-found-figure", HTMLElement)) {
    const { text, whose } = told?.figures[figure.dataset.path ?? ""] ?? { text: "see the page", whose: "" }; // Python does not run here
    write(figure, text || NONE, WHOSE[/** @type {keyof typeof WHOSE} */ (whose)]);
  }
  inReadersWay(place);
}

/** @param {Found} answer @param {boolean} own */
function block({ says, figures, address, page }, own) {
  const lines = figures.map(([called, path, example]) => {
    const figure = make("span", { className: "bench-found-figure" });
    figure.dataset.path = path;
    write(figure, own ? WAITING : example);
    return make("li", {}, make("span", { className: "bench-found-called" }, called), figure);
  });
  const link = make("a", { href: new URL(address, ROOT).href, onclick: follow }, page);
  const title = make("p", {}, says, ...(own ? [] : [" ", make("em", {}, WHOSE.example)]));
  return make("div", { className: "bench-found-one" }, title, make("ul", {}, ...lines), link);
}

/** @param {HTMLElement} figure @param {string} text @param {string} [whose] */
const write = (figure, text, whose) => figure.replaceChildren(make("strong", {}, text), ...(whose ? [" ", make("em", {}, whose)] : []));

/**
 * Follow a link once the search is shut: on a phone the theme holds the page where it was until then.
 * @param {PointerEvent} event
 */
function follow(event) {
  const open = find(document, "#__search", HTMLInputElement);
  if (!open.checked || event.metaKey || event.ctrlKey) return;
  event.preventDefault();
  event.stopPropagation();
  open.click();
  const link = /** @type {HTMLAnchorElement} */ (event.currentTarget);
  const go = () => (document.body.hasAttribute("data-md-scrolllock") ? requestAnimationFrame(go) : link.click());
  go();
}

/** The theme's keys: down from the box through what is found, up again; Tab leaves the search. @param {KeyboardEvent} event */
function step(event) {
  const stops = [box, ...findAll(place, "a", HTMLAnchorElement), ...findAll(document, ".md-search-result a", HTMLAnchorElement).slice(0, 1)];
  const at = stops.indexOf(/** @type {HTMLAnchorElement} */ (document.activeElement));
  const to = stops[at + (event.key === "ArrowDown" ? 1 : -1)];
  if (!place.firstChild || at < 0 || at > place.childElementCount || !to || !["ArrowDown", "ArrowUp"].includes(event.key)) return;
  event.preventDefault();
  event.stopPropagation();
  to.focus();
}

for (const sign of ["input", "keyup", "focus"]) box.addEventListener(sign, () => void show());
for (const one of [box, place]) one.addEventListener("keydown", step);
box.form?.addEventListener("reset", () => setTimeout(show));
addEventListener("bench-job", () => shown && show(true));
theJob().then((job) => isBegun(job) && startPython());
show();
