/**
 * The steps of a procedure one by one, full-screen: the caution first, then the drawing, the number, the deed.
 *
 * Done can be pressed once each caution of the step was read. A step that holds a walk opens into its nuts and
 * comes back; one that lacks readings opens their sheet and comes back.
 */
import cards from "./cards.js";
import { button, find, findAll, make } from "./elements.js";
import { theJob } from "./job.js";
import { closesOnBack, copyOf, speaker, stayAwake, stepKeys } from "./full-screen.js";
import release from "./release.js";

const LEFT_OUT = ".bench-done, .admonition, .bench-figure, .q-alone, .headerlink";
const VALUES = "data.card-value, data.answer-value";
const WIDEST = 140; // vw for the longest word at one character: no word of a number is broken

/** @returns {DocumentFragment} what a step says beside its deed @param {Element} step */
function restOf(step) {
  const copy = /** @type {Element} */ (step.cloneNode(true));
  for (const one of copy.querySelectorAll(LEFT_OUT)) one.remove();
  copy.querySelector("strong")?.remove();
  for (const one of copy.querySelectorAll("[id]")) one.removeAttribute("id");
  for (const one of copy.querySelectorAll("p")) if (!one.textContent?.trim() && !one.children.length) one.remove();
  const rest = document.createDocumentFragment();
  rest.append(...copy.childNodes);
  return rest;
}

let { card } = await theJob(); // so that a figure stands there at once, and is spoken with its step
addEventListener("bench-job", ({ detail }) => ({ card } = detail.job));

/** @returns {{text: string, whose: string}} the figure that the hands need, and whose it is @param {Element} step */
function numberOf(step) {
  const question = step.querySelector("bench-question");
  if (question) return { text: question.querySelector(".q-headline")?.textContent ?? "", whose: question.querySelector(".q-whose")?.textContent ?? "" };
  const value = findAll(step, VALUES, HTMLElement).find((one) => /\d/.test(one.textContent ?? "") && !one.closest(".admonition"));
  if (!value) return { text: "", whose: "" };
  if (value.matches(".answer-value")) return { text: value.textContent ?? "", whose: value.dataset.state === "example" ? "Example" : "" };
  return { text: value.textContent ?? "", whose: `Engine card: ${card?.data?.name ?? cards[card?.name ?? release.card].name}` };
}

/**
 * What is led through.
 *
 * @typedef {{steps: () => Element[], deed: (step: Element) => string, isDone: (index: number) => boolean,
 *   done: (index: number) => unknown, head: () => number, heads: () => number, isHeadDone: (head: number) => boolean,
 *   choose: (head: number) => Promise<void>, readonly tag: string, opener: () => HTMLElement | null}} Led
 */

/** Lead through the steps of the page. @param {Led} page */
export function followSteps(page) {
  const dialog = make("dialog", { className: "bench-follow bench-led" });
  dialog.setAttribute("aria-label", find(document, "h1").firstChild?.textContent?.trim() ?? "");
  const stage = make("p", { className: "bench-follow-stage" });
  const body = make("div", { className: "bench-led-body" });
  const asks = make("div", { className: "bench-led-asks" }); // what this step wants before it is done
  const next = make("button", { className: "bench-follow-next", type: "button" }, "Done");
  const back = button("Back", () => go(at - 1));
  const stop = button("Stop here", () => dialog.close());
  const speak = button("Speak");
  dialog.append(stage, body, asks, next, make("div", { className: "bench-follow-row" }, back, stop, speak));
  const gone = new AbortController();
  const { signal } = gone;
  const last = () => page.steps().length;
  const read = new Set(); // cautions, by head, step and place
  let at = 0; // after the last step: all is done
  let caution = -1; // the one to be read, or none
  let aside = false; // a form or a walk is in front
  let leaves = false; // for another page
  const here = location.pathname;
  const watching = new MutationObserver(() => {
    if (aside) return;
    show();
    if (!dialog.contains(document.activeElement)) primary().focus({ preventScroll: true }); // its button was replaced
  });

  /** Go to a step; what must be read before it comes first. @param {number} to */
  function go(to) {
    at = to;
    show();
    body.scrollTop = 0;
    if (document.activeElement !== back) primary().focus({ preventScroll: true });
    say();
  }

  const primary = () => findAll(dialog, ".bench-led-read, .bench-led-now", HTMLButtonElement)[0] ?? next;
  /** @param {number} place */
  const key = (place) => `${page.head()} ${at} ${place}`;

  /** @returns {number} the step that comes after this one; the number of steps where none is left */
  function following() {
    const left = page.steps().map((_, index) => index).filter((index) => !page.isDone(index));
    return left.find((index) => index > at) ?? left.find((index) => index !== at) ?? (left.length ? at : last());
  }

  function show() {
    watching.disconnect();
    const step = page.steps()[at];
    const ofHead = page.heads() > 1 ? ` · Head ${page.head()}` : "";
    stage.textContent = `${page.tag}${ofHead} · ${step ? `step ${at + 1} of ${last()}` : "all steps done"}`;
    back.disabled = at === 0;
    const cautions = step ? [...step.querySelectorAll(".admonition")] : [];
    caution = cautions.findIndex((_, place) => !read.has(key(place)));
    next.disabled = caution >= 0;
    next.textContent = step ? (page.isDone(at) ? "Done, go on" : "Done") : "Close";
    asks.replaceChildren();
    if (caution >= 0) showCaution(step, cautions[caution]);
    else if (step) showStep(step, cautions);
    else showEnd();
    if (step) watching.observe(step, { subtree: true, childList: true, characterData: true });
  }

  const text = (/** @type {Node[]} */ ...parts) => make("div", { className: "bench-led-words md-typeset", role: "status" }, ...parts);
  const paragraph = (/** @type {string} */ name, /** @type {string} */ words) => make("p", { className: `bench-led-${name}` }, words);
  const press = (/** @type {string} */ name, /** @type {string} */ words, /** @type {() => unknown} */ deed) =>
    button(words, deed, { className: name && `bench-led-${name}` });

  /** @param {Element} step @param {Element} one */
  function showCaution(step, one) {
    const copy = /** @type {Element} */ (one.cloneNode(true));
    for (const named of copy.querySelectorAll("[id]")) named.removeAttribute("id");
    const seen = press("read", "Read it", () => (read.add(key(caution)), go(at)));
    body.replaceChildren(text(paragraph("before", `Before: ${page.deed(step)}`), copy), seen);
  }

  /** @param {Element} step @param {Element[]} cautions */
  function showStep(step, cautions) {
    const drawn = step.querySelector(".bench-figure svg") ?? step.querySelector(".q-figure svg");
    const drawing = make("div", { className: "bench-led-drawing" }, ...(drawn ? [copyOf(drawn)] : []));
    const large = paragraph("large", "");
    const whose = paragraph("whose", "");
    const minded = cautions.map((one) => paragraph(`minded ${one.classList[1]}`, find(one, ".admonition-title").textContent ?? ""));
    const words = text(large, whose, paragraph("deed", page.deed(step)), restOf(step), ...minded);
    body.replaceChildren(...(drawn ? [drawing] : []), words);
    asks.replaceChildren(...deeds(step));
    const number = numberOf(step);
    [large.hidden, whose.hidden] = [!number.text, !number.whose];
    if (!number.text) return;
    const longest = Math.max(...number.text.split(/\s+/).map((word) => word.length));
    large.textContent = number.text;
    large.style.fontSize = `min(${drawn ? "10vw, 9vh" : "17vw, 14vh"}, ${Math.floor(WIDEST / longest)}vw, ${Math.floor(420 / number.text.length)}vw)`;
    whose.textContent = number.whose;
  }

  /** @returns {HTMLButtonElement[]} what a question in the step asks for: readings, then its walk @param {Element} step */
  function deeds(step) {
    const [question] = findAll(step, "bench-question", HTMLElement);
    const [change] = question ? findAll(question, ".q-change", HTMLElement) : [];
    if (!change) return [];
    const isLacking = question.dataset.state === "lacking";
    const walk = question.querySelector(`[data-walk="head_${page.head()}"]`) ?? question.querySelector("[data-walk]");
    const found = [];
    if (walk && !isLacking) {
      const boxes = findAll(walk, "[data-step]", HTMLInputElement);
      const count = boxes.filter(({ checked }) => checked).length;
      const begin = find(walk, ".bench-follow-start");
      const words = count ? `${begin.textContent} · ${count} of ${boxes.length}` : (begin.textContent ?? "");
      found.push(press(count < boxes.length ? "now" : "", words, () => openWalk(question, begin)));
    }
    found.push(press(isLacking ? "now" : "", change.textContent ?? "", () => openSheet(question, change)));
    return found;
  }

  /** @param {HTMLElement} question @param {HTMLElement} begin */
  function openWalk(question, begin) {
    aside = true;
    question.addEventListener("bench-followed", () => ((aside = false), go(at)), { once: true, signal });
    begin.click();
  }

  /** The form stands in the page: this steps aside for it, and comes back when it is closed. @param {HTMLElement} question @param {HTMLElement} change */
  function openSheet(question, change) {
    aside = true;
    dialog.close();
    const back = new AbortController();
    question.addEventListener("close", () => {
      if (question.querySelector("dialog[open]")) return;
      back.abort();
      aside = false;
      dialog.showModal();
      go(at);
    }, { signal: back.signal, capture: true });
    change.click();
  }

  function showEnd() {
    const words = text(paragraph("deed", `All ${last()} steps are done.`));
    const other = page.heads() > 1 && Array.from({ length: page.heads() }, (_, index) => index + 1).find((head) => head !== page.head() && !page.isHeadDone(head));
    const [onward] = findAll(document, ".md-footer__link--next", HTMLElement);
    if (other) asks.append(press("now", `Go on with head ${other}`, async () => (await page.choose(other), go(first()))));
    else if (onward) asks.append(press("now", `Next: ${find(onward, ".md-ellipsis").textContent?.trim()}`, () => ((leaves = true), dialog.close(), onward.click())));
    body.replaceChildren(words);
  }

  /** @returns {number} where the reader goes on: behind the last step that is done, else with one that was left out */
  function first() {
    const all = page.steps().map((_, index) => index);
    const ticked = all.findLast((index) => page.isDone(index)) ?? -1;
    return all.find((index) => index > ticked) ?? all.find((index) => !page.isDone(index)) ?? last();
  }

  next.onclick = async () => {
    if (at >= last()) return dialog.close();
    await page.done(at);
    go(following());
  };
  const say = speaker(speak, () => find(body, ".bench-led-words").innerText, signal);
  stepKeys(dialog, primary, {
    /** What is not on the screen yet is shown first. */
    forward() {
      const below = body.scrollHeight - body.clientHeight - body.scrollTop;
      if (below > 8) body.scrollBy(0, Math.min(below, body.clientHeight * 0.8));
      else primary().click();
    },
    back: () => back.disabled || go(at - 1),
  });
  dialog.addEventListener("click", ({ target }) => target instanceof Element && target.closest("a[href]") && ((leaves = true), dialog.close()));
  addEventListener("popstate", () => location.pathname === here || ((leaves = true), end()), { signal });
  dialog.addEventListener("close", () => aside || end());
  function end() {
    gone.abort();
    watching.disconnect();
    dialog.remove();
    if (leaves) return;
    leave();
    page.steps()[Math.min(at, last() - 1)]?.scrollIntoView({ behavior: "instant" });
    page.opener()?.focus({ preventScroll: true });
  }
  document.body.append(dialog);
  dialog.showModal();
  const leave = closesOnBack(dialog, signal, () => !aside);
  go(first());
  stayAwake(signal);
}
