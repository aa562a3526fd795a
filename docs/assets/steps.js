/**
 * The steps of a procedure can be ticked, and the job remembers where the reader was.
 *
 * A page with a .bench-heads is gone through once for each head of the engine: each has ticks of its own.
 *
 * <bench-where> on the home page says so, with a link to go on.
 */
import { theJob, tick } from "./job.js";
import { writtenTime } from "./locale.js";
import release from "./release.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = " steps"; // behind a page's path: the name of its ticks
const OF_HEAD = / head_(\d+)$/; // behind that, where each head has its own
let heads = 1; // of the page that is shown
let head = 1; // the one in hand
let known = Promise.resolve(); // how many heads there are, and which is in hand

/** @returns {HTMLLIElement[]} the steps of the page that is shown */
const steps = () => [...(document.querySelector("h2#steps ~ ol")?.children ?? [])];
const page = () => location.pathname.slice(ROOT.pathname.length) + PLACE;
const place = () => (heads > 1 ? `${page()} head_${head}` : page());
const words = () => new Map(steps().map((step, index) => [String(index + 1), deed(step)]));
const deed = (step) => (step.querySelector("strong") ?? step).textContent.trim().replace(/[.:]$/, "");

function drawBoxes() {
  for (const [index, step] of steps().entries()) {
    if (step.querySelector(".bench-done")) continue;
    step.id = `step-${index + 1}`;
    const label = Object.assign(document.createElement("label"), { className: "bench-done" });
    const box = Object.assign(document.createElement("input"), { type: "checkbox" });
    box.addEventListener("change", async () => {
      const done = box.checked;
      await known; // under which head it belongs
      tick(place(), String(index + 1), words(), done, box);
    });
    label.append(box);
    step.prepend(label);
  }
  known = showHeads();
}

async function showTicks() {
  const ticks = (await theJob()).ticks[place()] ?? {};
  for (const [index, step] of steps().entries()) {
    const box = step.querySelector(".bench-done input");
    if (!box) continue;
    box.checked = ticks[index + 1]?.words === deed(step);
    const [number, done] = [index + 1, deed(step)];
    box.setAttribute("aria-label", heads > 1 ? `Head ${head}, step ${number} done: ${done}` : `Step ${number} done: ${done}`);
  }
}

/** Let the reader choose the head in hand, on a page that is gone through once a head. */
async function showHeads() {
  const choice = document.querySelector(".bench-heads");
  if (!choice) {
    [heads, head] = [1, 1];
    return showTicks();
  }
  const [{ card, ticks }, { default: facts }] = await Promise.all([theJob(), import("./facts.js")]);
  if (!choice.isConnected) return undefined;
  heads = (card?.data ?? facts.cards[card?.name ?? release.card])?.layout?.banks?.value?.length || 1;
  const last = Object.entries(ticks)
    .filter(([where]) => where.startsWith(`${page()} head_`))
    .map(([where, done]) => [Object.values(done).reduce((latest, { when }) => (when > latest ? when : latest), ""), Number(where.match(OF_HEAD)[1])])
    .sort(([one], [other]) => (one < other ? 1 : -1))[0];
  head = Math.min(last?.[1] ?? 1, heads);
  const labels = Array.from({ length: heads > 1 ? heads : 0 }, (_, index) => {
    const label = Object.assign(document.createElement("label"), { className: "bench-step" });
    const radio = Object.assign(document.createElement("input"), { type: "radio", name: "bench-head", checked: index + 1 === head });
    radio.addEventListener("change", () => ((head = index + 1), showTicks()));
    label.append(radio, ` Head ${index + 1}`);
    return label;
  });
  choice.replaceChildren(...labels);
  if (heads > 1) choice.setAttribute("role", "radiogroup");
  else choice.removeAttribute("role");
  choice.setAttribute("aria-label", "Head in hand");
  return showTicks();
}

class BenchWhere extends HTMLElement {
  #listening = new AbortController();

  connectedCallback() {
    this.#listening = new AbortController();
    addEventListener("bench-job", () => this.#show(), { signal: this.#listening.signal });
    this.#show();
  }

  disconnectedCallback() {
    this.#listening.abort();
  }

  async #show() {
    const { ticks, about } = await theJob();
    const last = Object.entries(ticks)
      .filter(([where]) => where.replace(OF_HEAD, "").endsWith(PLACE))
      .flatMap(([where, done]) => Object.entries(done).map(([step, { when, words }]) => ({ where, step, when, words })))
      .sort((one, other) => (one.when < other.when ? 1 : -1))[0];
    if (!last) return this.replaceChildren();
    const address = new URL(last.where.replace(OF_HEAD, "").slice(0, -PLACE.length), ROOT);
    const of = last.where.match(OF_HEAD)?.[1];
    const known = [...document.querySelectorAll("a.md-nav__link[href]")].find((link) => link.href === address.href);
    const link = Object.assign(document.createElement("a"), { href: `${address.href}#step-${last.step}` });
    const title = Object.assign(document.createElement("strong"), { textContent: "Where was I?" });
    const page = known?.textContent.trim() ?? "the page";
    link.append(title, ` ${about.name || about.vehicle || "This job"}: ${of ? `${page}, head ${of}` : page}, step ${last.step} done (${last.words}), ${writtenTime(last.when)}. Go on.`);
    this.replaceChildren(link);
  }
}

customElements.define("bench-where", BenchWhere);
document$.subscribe(drawBoxes); // the theme's: each page that is shown, also without a reload
addEventListener("bench-job", ({ detail }) => {
  if (!detail.paths || detail.paths.includes("card")) known = showHeads();
  else if (detail.paths.includes(`ticks ${place()}`)) showTicks();
});
