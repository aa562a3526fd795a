/**
 * The steps of a procedure can be ticked, and the job remembers where the reader was.
 *
 * A page with a .bench-heads is gone through once for each head of the engine: each has ticks of its own.
 *
 * The button beside the page's tag leads through them full-screen, from the next one; bench-home.js says the same
 * on the home page.
 */
import { button, find, findAll, make } from "./elements.js";
import { lastTick, theJob, tick } from "./job.js";
import release from "./release.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = " steps"; // behind a page's path: the name of its ticks
const OF_HEAD = / head_(\d+)$/; // behind that, where each head has its own
let heads = 1; // of the page that is shown
let head = 1; // the one in hand
let known = Promise.resolve(); // how many heads there are, and which is in hand
/** @type {Job["ticks"]} of the job, when they were last shown */
let ticked = {};

/** The steps of the page that is shown. */
const steps = () => [...(document.querySelector("h2#steps ~ ol")?.querySelectorAll(":scope > *") ?? [])];
/** @returns {HTMLInputElement | null} the box that ticks a step @param {Element} step */
const boxOf = (step) => step.querySelector(".bench-done input");
const page = () => location.pathname.slice(ROOT.pathname.length) + PLACE;
const place = () => (heads > 1 ? `${page()} head_${head}` : page());
const words = () => new Map(steps().map((step, index) => [String(index + 1), deed(step)]));
/** @param {Element} step */
const deed = (step) => (step.querySelector("strong") ?? step).textContent.trim().replace(/[.:]$/, "");

function drawBoxes() {
  for (const [index, step] of steps().entries()) {
    if (step.querySelector(".bench-done")) continue;
    step.id = `step-${index + 1}`;
    const box = make("input", { type: "checkbox", disabled: true }); // until it is known under which head it belongs
    box.addEventListener("change", () => tick(place(), String(index + 1), words(), box.checked, box));
    step.prepend(make("label", { className: "bench-done" }, box));
    nameBox(step, index);
  }
  known = showHeads();
  const link = document.querySelector("a.bench-resume");
  if (!link || !steps().length) return;
  const follow = async () => {
    await known;
    (await import("./follow-steps.js")).followSteps(led);
  };
  link.replaceWith(button("Start", follow, { className: link.className }));
}

/** What the full-screen view needs of the page. @type {import("./follow-steps.js").Led} */
const led = {
  steps,
  deed,
  isDone: (index) => Boolean(boxOf(steps()[index])?.checked),
  done: (index) => {
    const box = boxOf(steps()[index]);
    if (box) box.checked = true; // at once, for whoever asks what is left
    return tick(place(), String(index + 1), words(), true, box);
  },
  head: () => head,
  heads: () => heads,
  isHeadDone: (one) => steps().every((step, index) => ticked[`${page()} head_${one}`]?.[index + 1]?.words === deed(step)),
  choose: (one) => {
    head = one;
    findAll(document, '[name="bench-head"]', HTMLInputElement)[one - 1].checked = true;
    return showTicks();
  },
  get tag() {
    return find(document, ".bench-tag").textContent ?? "";
  },
  opener: () => find(document, ".bench-resume"),
};

async function showTicks() {
  ({ ticks: ticked } = await theJob());
  const ticks = ticked[place()] ?? {};
  for (const [index, step] of steps().entries()) {
    const box = boxOf(step);
    if (!box) continue;
    box.checked = ticks[index + 1]?.words === deed(step);
    box.disabled = false;
    for (const clock of findAll(step, "button.bench-clock:not([data-of])", HTMLButtonElement)) {
      clock.dataset.clock = `${place()} ${index + 1}`;
      import("./clocks.js").then(() => (clock.hidden = false)); // which hears the press
    }
    nameBox(step, index);
  }
  showNext();
}

/** Say what a box ticks. @param {Element} step @param {number} index */
function nameBox(step, index) {
  const done = `tep ${index + 1} done: ${deed(step)}`;
  boxOf(step)?.setAttribute("aria-label", heads > 1 ? `Head ${head}, s${done}` : `S${done}`);
}

/** Let the button beside the tag name the next step that is not done. */
function showNext() {
  const resume = document.querySelector(".bench-resume");
  const boxes = steps().map(boxOf);
  const last = boxes.findLastIndex((box) => box?.checked);
  if (!resume || !boxes.length) return;
  const next = boxes.findIndex((box, index) => index > last && !box?.checked);
  resume.textContent = last < 0 ? "Start" : next < 0 ? "All steps done" : `Go on with step ${next + 1}`;
}

/** Let the reader choose the head in hand, on a page that is gone through once a head. */
async function showHeads() {
  const choice = document.querySelector(".bench-heads");
  if (!choice) {
    [heads, head] = [1, 1];
    return showTicks();
  }
  const [{ card, ticks }, { default: cards }] = await Promise.all([theJob(), import("./cards.js")]);
  if (!choice.isConnected) return undefined;
  heads = (card?.data ?? cards[card?.name ?? release.card])?.layout?.banks?.value?.length || 1;
  const last = Object.entries(ticks)
    .filter(([where]) => where.startsWith(`${page()} head_`))
    .map(([where, done]) => /** @type {const} */ ([lastTick(done), Number(where.match(OF_HEAD)?.[1])]))
    .sort(([one], [other]) => (one < other ? 1 : -1))[0];
  head = Math.min(last?.[1] ?? 1, heads);
  const labels = Array.from({ length: heads > 1 ? heads : 0 }, (_, index) => {
    const radio = make("input", { type: "radio", name: "bench-head", checked: index + 1 === head });
    radio.addEventListener("change", () => ((head = index + 1), showTicks()));
    return make("label", { className: "bench-step" }, radio, ` Head ${index + 1}`);
  });
  choice.replaceChildren(...labels);
  if (heads > 1) choice.setAttribute("role", "radiogroup");
  else choice.removeAttribute("role");
  choice.setAttribute("aria-label", "Head in hand");
  return showTicks();
}

document$.subscribe(drawBoxes); // the theme's: each page that is shown, also without a reload
addEventListener("bench-job", ({ detail }) => {
  if (!detail.paths || detail.paths.includes("card")) known = showHeads();
  else if (detail.paths.includes(`ticks ${place()}`)) showTicks();
});
