/**
 * The answer in sight while typing: a strip above the phone's keyboard with the headline, where the headline is not.
 *
 * A tap on it goes to the whole answer, another back to the box.
 */
import { button, find } from "./elements.js";

/** @type {HTMLButtonElement | undefined} */
let strip;
/** @type {HTMLElement | null} the box that the reader came from */
let box = null;
/** @type {Element | null} its question */
let asked = null;

/** @returns {HTMLElement | null} that box as it stands now: Python's first answer replaces all boxes */
const boxNow = () => (box?.isConnected ? box : document.getElementById(box?.id ?? ""));
/** @returns {HTMLElement | null} */
const headlineNow = () => asked?.querySelector(".q-headline") ?? null;

/** @param {Element} element */
const seen = (element) => {
  const { top, bottom } = element.getBoundingClientRect();
  const header = document.querySelector(".md-header")?.getBoundingClientRect().bottom ?? 0;
  return bottom > header && top < (visualViewport?.height ?? innerHeight);
};

function toAndFro() {
  const headline = headlineNow();
  if (headline && document.activeElement === headline) return boxNow()?.focus();
  asked?.scrollIntoView({ block: "start" });
  headline?.focus();
}

function make() {
  strip = button("", toAndFro, { className: "q-strip" });
  strip.addEventListener("mousedown", (event) => event.preventDefault()); // the box keeps the keyboard until the tap
  document.body.append(strip);
  return strip;
}

/** Keep the strip where the eye and the thumb are: at the lower edge of what the keyboard leaves. */
function place() {
  if (!strip || strip.hidden || !visualViewport) return;
  const below = innerHeight - visualViewport.height - visualViewport.offsetTop;
  strip.style.setProperty("bottom", `${Math.max(0, below)}px`);
}

/** Show the headline of a question whose box has the focus, or say that it is out of sight no longer. */
export function follow() {
  const at = document.activeElement;
  const question = at instanceof HTMLElement ? at.closest("bench-question") : null;
  const isBox = Boolean(question && at?.matches("[data-path], [data-part], [data-unit-of]") && !at.closest("dialog[open]")); // a sheet has it at its top
  if (isBox) [box, asked] = [/** @type {HTMLElement} */ (at), question];
  const headline = headlineNow();
  const back = Boolean(headline && at === headline && boxNow());
  const wanted = back || (isBox && headline && !seen(headline));
  if (!wanted || !question || !headline) {
    if (strip) strip.hidden = true;
    return;
  }
  const shown = strip ?? make();
  const whose = question.dataset.state === "yours" ? "" : find(question, ".q-whose").textContent;
  const words = back ? "Back to the box" : headline.textContent.trim() || whose;
  if (shown.textContent !== words) shown.textContent = words;
  shown.dataset.state = question.dataset.state;
  shown.hidden = false;
  place();
}

for (const sign of ["focusin", "focusout", "scroll"]) addEventListener(sign, () => requestAnimationFrame(follow), { passive: true });
for (const sign of ["resize", "scroll"]) visualViewport?.addEventListener(sign, follow);
