/**
 * The steps of a procedure can be ticked, and the job remembers where the reader was.
 *
 * <bench-where> on the home page says so, with a link to go on.
 */
import { theJob, tick } from "./job.js";
import { writtenTime } from "./locale.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = " steps"; // behind a page's path: the name of its ticks

/** @returns {HTMLLIElement[]} the steps of the page that is shown */
const steps = () => [...(document.querySelector("h2#steps ~ ol")?.children ?? [])];
const place = () => location.pathname.slice(ROOT.pathname.length) + PLACE;
const words = () => new Map(steps().map((step, index) => [String(index + 1), deed(step)]));
const deed = (step) => (step.querySelector("strong") ?? step).textContent.trim().replace(/[.:]$/, "");

function drawBoxes() {
  for (const [index, step] of steps().entries()) {
    if (step.querySelector(".bench-done")) continue;
    step.id = `step-${index + 1}`;
    const label = Object.assign(document.createElement("label"), { className: "bench-done" });
    const box = Object.assign(document.createElement("input"), { type: "checkbox" });
    box.setAttribute("aria-label", `Step ${index + 1} done: ${deed(step)}`);
    box.addEventListener("change", () => tick(place(), String(index + 1), words(), box.checked, box));
    label.append(box);
    step.prepend(label);
  }
  showTicks();
}

async function showTicks() {
  const ticks = (await theJob()).ticks[place()] ?? {};
  for (const [index, step] of steps().entries()) {
    const box = step.querySelector(".bench-done input");
    if (box) box.checked = ticks[index + 1]?.words === deed(step);
  }
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
      .filter(([where]) => where.endsWith(PLACE))
      .flatMap(([where, done]) => Object.entries(done).map(([step, { when, words }]) => ({ where, step, when, words })))
      .sort((one, other) => (one.when < other.when ? 1 : -1))[0];
    if (!last) return this.replaceChildren();
    const address = new URL(last.where.slice(0, -PLACE.length), ROOT);
    const known = [...document.querySelectorAll("a.md-nav__link[href]")].find((link) => link.href === address.href);
    const link = Object.assign(document.createElement("a"), { href: `${address.href}#step-${last.step}` });
    const title = Object.assign(document.createElement("strong"), { textContent: "Where was I?" });
    const page = known?.textContent.trim() ?? "the page";
    link.append(title, ` ${about.name || about.vehicle || "This job"}: ${page}, step ${last.step} done (${last.words}), ${writtenTime(last.when)}. Go on.`);
    this.replaceChildren(link);
  }
}

customElements.define("bench-where", BenchWhere);
document$.subscribe(drawBoxes); // the theme's: each page that is shown, also without a reload
addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.includes(`ticks ${place()}`)) && showTicks());
