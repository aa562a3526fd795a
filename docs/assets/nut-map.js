/**
 * A stud map that is touched: a nut ticks itself in its pass, as its box in the list beside it does.
 *
 * What is out of the order, or would take a tick back, is asked for first.
 *
 * @typedef {{walk: () => HTMLElement, now: () => HTMLInputElement | undefined, tick: (box: HTMLInputElement, done: boolean) => unknown}} Turned
 *   `now` is the step that comes next
 */
import { button, find, findAll, make } from "./elements.js";
import { written } from "./locale.js";

/** @type {WeakMap<SVGSVGElement, () => void>} */
const shown = new WeakMap();

/** Show on a map what is ticked; from the first time on it can be touched. @param {SVGSVGElement} map @param {Turned} turned */
export function showNuts(map, turned) {
  if (!shown.has(map)) shown.set(map, enliven(map, turned));
  shown.get(map)?.();
}

/** @param {SVGSVGElement} map @param {Turned} turned @returns {() => void} shows what is ticked */
function enliven(map, { walk, now, tick }) {
  const marks = findAll(map, "g[data-nut]", SVGGElement);
  const said = make("p", { className: "bench-nuts-said" });
  said.setAttribute("role", "status");
  const asked = make("p", { className: "q-buttons bench-nuts-asked", hidden: true });
  map.after(said, asked);
  map.setAttribute("role", "group");
  for (const mark of marks) {
    for (const text of mark.querySelectorAll("text")) text.setAttribute("aria-hidden", "true"); // the button's name says it
    const knob = knobOf(mark);
    knob.setAttribute("role", "button");
    knob.setAttribute("tabindex", "0");
    const press = () => pressed(mark);
    mark.addEventListener("click", press);
    mark.addEventListener("keydown", (event) => {
      if (event.repeat || (event.key !== "Enter" && event.key !== " ")) return;
      event.preventDefault();
      press();
    });
  }

  /** @returns {SVGElement} what of a nut is touched @param {SVGGElement} mark */
  function knobOf(mark) {
    return find(mark, ".reach", SVGElement);
  }

  /** @type {HTMLInputElement | undefined} */
  let askedOver; // what came next when something was asked
  const boxes = () => findAll(walk(), "[data-step]", HTMLInputElement);
  /** @param {Element} box */
  const stageOf = (box) => box.closest(".bench-stage");
  /** @param {Element} box */
  const passOf = (box) => (stageOf(box)?.getAttribute("aria-label") ?? "").split(":")[0].replaceAll(" · ", ", ").toLowerCase();
  /** @param {string} words */
  const begun = (words) => words.charAt(0).toUpperCase() + words.slice(1);

  /** @returns {HTMLInputElement | undefined} what a nut ticks: its box in the pass in hand @param {SVGGElement} mark */
  function boxOf(mark) {
    const all = boxes();
    const own = all.filter(({ dataset }) => dataset.nut === mark.dataset.nut);
    const next = now();
    if (!next) return own.at(-1);
    return own.find((box) => stageOf(box) === stageOf(next)) ?? own.find((box) => all.indexOf(box) > all.indexOf(next)) ?? own.at(-1);
  }

  /** @param {HTMLInputElement} box */
  const nameOf = ({ dataset }) => dataset.nut || `‘${written(dataset.large ?? "")}’`;

  function show() {
    const next = now();
    if (!asked.hidden && next !== askedOver) return settle(); // the order went on meanwhile
    if (!asked.hidden) return;
    for (const mark of marks) {
      const box = boxOf(mark);
      mark.classList.toggle("done", Boolean(box?.checked));
      mark.classList.toggle("next", Boolean(box) && box === next);
      for (const circle of mark.querySelectorAll(".stud")) circle.classList.toggle("first", Boolean(box) && box === next);
      const state = box?.checked ? "done" : box === next ? "to do, next" : "to do";
      knobOf(mark).setAttribute("aria-label", box ? `${mark.dataset.called}, ${passOf(box)}, ${state}` : `${mark.dataset.called}: not in this list`);
    }
    const words = next ? `${begun(passOf(next))}: ${nameOf(next)} is next.` : "All are ticked.";
    if (said.textContent !== words) said.textContent = words;
  }

  /** @param {SVGGElement} mark */
  function pressed(mark) {
    const box = boxOf(mark);
    if (!box) return;
    const next = now();
    if (box.checked) ask(mark, `${nameOf(box)} is ticked in ${passOf(box)}.`, `Take the tick of ${nameOf(box)} back`, () => tick(box, false));
    else if (next && box !== next)
      ask(mark, `The order has ${nameOf(next)} next. Tick ${nameOf(box)} all the same?`, `Tick ${nameOf(box)}`, () => tick(box, true));
    else settle(() => tick(box, true));
  }

  /** @param {() => unknown} [deed] */
  function settle(deed) {
    asked.hidden = true;
    asked.replaceChildren();
    deed?.();
    show();
  }

  /** @param {SVGGElement} mark @param {string} words @param {string} yes @param {() => unknown} deed */
  function ask(mark, words, yes, deed) {
    said.textContent = words;
    const end = (/** @type {(() => unknown) | undefined} */ deed) => () => (settle(deed), knobOf(mark).focus());
    asked.replaceChildren(button(yes, end(deed)), button("Leave it", end(undefined)));
    asked.hidden = false;
    askedOver = now();
    asked.querySelector("button")?.focus({ preventScroll: true });
  }

  return show;
}
