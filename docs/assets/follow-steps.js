/**
 * The steps of a procedure one by one, full-screen: the caution first, then the drawing, the number, the deed.
 *
 * Done can be pressed once each caution of the step was read. A step that holds a walk opens into its nuts and
 * comes back; one that lacks readings opens their sheet and comes back.
 */
import { theJob } from "./job.js";
import { speaker, stayAwake, stepKeys } from "./full-screen.js";
import facts from "./facts.js";
import release from "./release.js";

const LEFT_OUT = ".bench-done, .admonition, .bench-figure, .q-alone, .headerlink";
const VALUES = "data.card-value, data.answer-value";
const WIDEST = 140; // vw for the longest word at one character: no word of a number is broken
let copies = 0;

/** A drawing of the page once more: its ids are another's. */
function copyOf(drawing) {
  const copy = `follow-${++copies}-`;
  const held = document.createElement("template");
  held.innerHTML = drawing.outerHTML
    .replace(/ id="/g, ` id="${copy}`)
    .replace(/(url\(#|href="#)/g, `$1${copy}`)
    .replace(/ aria-labelledby="([^"]*)"/g, (_, ids) => ` aria-labelledby="${ids.split(" ").map((id) => copy + id).join(" ")}"`);
  return held.content.firstElementChild;
}

/** @returns {DocumentFragment} what a step says beside its deed */
function restOf(step) {
  const copy = step.cloneNode(true);
  for (const one of copy.querySelectorAll(LEFT_OUT)) one.remove();
  copy.querySelector("strong")?.remove();
  for (const one of copy.querySelectorAll("[id]")) one.removeAttribute("id");
  for (const one of copy.querySelectorAll("p")) if (!one.textContent.trim() && !one.children.length) one.remove();
  const rest = document.createDocumentFragment();
  rest.append(...copy.childNodes);
  return rest;
}

/** @returns {Promise<{text: string, whose: string}>} the figure that the hands need, and whose it is */
async function numberOf(step) {
  const question = step.querySelector("bench-question");
  if (question) return { text: question.querySelector(".q-headline")?.textContent ?? "", whose: question.querySelector(".q-whose")?.textContent ?? "" };
  const value = [...step.querySelectorAll(VALUES)].find((one) => /\d/.test(one.textContent) && !one.closest(".admonition"));
  if (!value) return { text: "", whose: "" };
  if (value.matches(".answer-value")) return { text: value.textContent, whose: value.dataset.state === "example" ? "Example" : "" };
  const { card } = await theJob();
  return { text: value.textContent, whose: `Engine card: ${card?.data?.name ?? facts.cards[card?.name ?? release.card].name}` };
}

/**
 * Lead through the steps of the page.
 *
 * @param {{steps: () => HTMLElement[], deed: (step: Element) => string, isDone: (index: number) => boolean,
 *   done: (index: number) => Promise<void>, head: () => number, heads: () => number, isHeadDone: (head: number) => boolean,
 *   choose: (head: number) => Promise<void>, tag: string, opener: () => HTMLElement | null}} page
 */
export function followSteps(page) {
  const dialog = document.createElement("dialog");
  dialog.className = "bench-follow bench-led";
  dialog.setAttribute("aria-label", document.querySelector("h1").firstChild.textContent.trim());
  const make = (tag, kind, words = "", parent = dialog) =>
    Object.assign(parent.appendChild(document.createElement(tag)), { className: kind, textContent: words });
  const stage = make("p", "bench-follow-stage");
  const body = make("div", "bench-led-body");
  const asks = make("div", "bench-led-asks"); // what this step wants before it is done
  const next = make("button", "bench-follow-next", "Done");
  const row = make("div", "bench-follow-row");
  const back = make("button", "", "Back", row);
  const stop = make("button", "", "Stop here", row);
  const speak = make("button", "", "Speak", row);
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

  /** Go to a step; what must be read before it comes first. */
  function go(to) {
    at = to;
    show();
    body.scrollTop = 0;
    if (document.activeElement !== back) primary().focus({ preventScroll: true });
    say();
  }

  const primary = () => dialog.querySelector(".bench-led-read, .bench-led-now") ?? next;
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

  function text(...parts) {
    const words = document.createElement("div");
    words.className = "bench-led-words md-typeset";
    words.setAttribute("role", "status");
    words.append(...parts);
    return words;
  }

  const paragraph = (kind, words) => Object.assign(document.createElement("p"), { className: kind, textContent: words });

  function button(kind, words, deed) {
    const one = Object.assign(document.createElement("button"), { type: "button", className: kind, textContent: words });
    one.onclick = deed;
    return one;
  }

  function showCaution(step, one) {
    const copy = one.cloneNode(true);
    for (const named of copy.querySelectorAll("[id]")) named.removeAttribute("id");
    const seen = button("bench-led-read", "Read it", () => (read.add(key(caution)), go(at)));
    body.replaceChildren(text(paragraph("bench-led-before", `Before: ${page.deed(step)}`), copy), seen);
  }

  async function showStep(step, cautions) {
    const drawn = step.querySelector(".bench-figure svg") ?? step.querySelector(".q-figure svg");
    const drawing = document.createElement("div");
    drawing.className = "bench-led-drawing";
    if (drawn) drawing.append(copyOf(drawn));
    const large = paragraph("bench-led-large", "");
    const whose = paragraph("bench-led-whose", "");
    const minded = cautions.map((one) => paragraph(`bench-led-minded ${one.classList[1]}`, one.querySelector(".admonition-title").textContent));
    const words = text(large, whose, paragraph("bench-led-deed", page.deed(step)), restOf(step), ...minded);
    body.replaceChildren(...(drawn ? [drawing] : []), words);
    asks.replaceChildren(...deeds(step));
    large.hidden = whose.hidden = true;
    const number = await numberOf(step);
    if (!large.isConnected || !number.text) return;
    const longest = Math.max(...number.text.split(/\s+/).map((word) => word.length));
    large.textContent = number.text;
    large.style.fontSize = `min(${drawn ? "10vw, 9vh" : "17vw, 14vh"}, ${Math.floor(WIDEST / longest)}vw, ${Math.floor(420 / number.text.length)}vw)`;
    whose.textContent = number.whose;
    [large.hidden, whose.hidden] = [false, !number.whose];
  }

  /** @returns {HTMLButtonElement[]} what a question in the step asks for: readings, then its walk */
  function deeds(step) {
    const question = step.querySelector("bench-question");
    const change = question?.querySelector(".q-change");
    if (!change) return [];
    const isLacking = question.dataset.state === "lacking";
    const walk = question.querySelector(`[data-walk="head_${page.head()}"]`) ?? question.querySelector("[data-walk]");
    const found = [];
    if (walk && !isLacking) {
      const boxes = [...walk.querySelectorAll("[data-step]")];
      const count = boxes.filter(({ checked }) => checked).length;
      const begin = walk.querySelector(".bench-follow-start");
      const words = count ? `${begin.textContent} · ${count} of ${boxes.length}` : begin.textContent;
      found.push(button(count < boxes.length ? "bench-led-now" : "", words, () => openWalk(question, begin)));
    }
    found.push(button(isLacking ? "bench-led-now" : "", change.textContent, () => openSheet(question, change)));
    return found;
  }

  function openWalk(question, begin) {
    aside = true;
    question.addEventListener("bench-followed", () => ((aside = false), go(at)), { once: true, signal });
    begin.click();
  }

  /** The form stands in the page: this steps aside for it, and comes back when it is closed. */
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
    const words = text(paragraph("bench-led-deed", `All ${last()} steps are done.`));
    const other = page.heads() > 1 && Array.from({ length: page.heads() }, (_, index) => index + 1).find((head) => head !== page.head() && !page.isHeadDone(head));
    const onward = document.querySelector(".md-footer__link--next");
    if (other) asks.append(button("bench-led-now", `Go on with head ${other}`, async () => (await page.choose(other), go(first()))));
    else if (onward) asks.append(button("bench-led-now", `Next: ${onward.querySelector(".md-ellipsis").textContent.trim()}`, () => ((leaves = true), dialog.close(), onward.click())));
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
  back.onclick = () => go(at - 1);
  stop.onclick = () => dialog.close();
  const say = speaker(speak, () => body.querySelector(".bench-led-words").innerText, signal);
  stepKeys(dialog, primary, {
    /** What is not on the screen yet is shown first. */
    forward() {
      const below = body.scrollHeight - body.clientHeight - body.scrollTop;
      if (below > 8) body.scrollBy(0, Math.min(below, body.clientHeight * 0.8));
      else primary().click();
    },
    back: () => back.disabled || go(at - 1),
  });
  dialog.addEventListener("click", ({ target }) => target.closest("a[href]") && ((leaves = true), dialog.close()));
  addEventListener("popstate", () => location.pathname === here || ((leaves = true), end()), { signal });
  dialog.addEventListener("close", () => aside || end());
  function end() {
    gone.abort();
    watching.disconnect();
    dialog.remove();
    if (leaves) return;
    page.steps()[Math.min(at, last() - 1)]?.scrollIntoView({ behavior: "instant" });
    page.opener()?.focus({ preventScroll: true });
  }
  document.body.append(dialog);
  dialog.showModal();
  go(first());
  stayAwake(signal);
}
