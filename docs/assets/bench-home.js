/**
 * <bench-home>: where the job stands. The build fills it with the way to begin and the eight stages; here the
 * job's ticks make it the next step, and count what is done.
 */
import { theJob } from "./job.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = " steps"; // behind a page's path: the name of its ticks, as steps.js gives it

class BenchHome extends HTMLElement {
  #listening = new AbortController();

  connectedCallback() {
    this.#listening = new AbortController();
    addEventListener("bench-job", () => this.#show(), { signal: this.#listening.signal });
    this.#show();
  }

  disconnectedCallback() {
    this.#listening.abort();
  }

  /** @returns {{path: string, tag: string, title: string, steps: string[]}[]} the procedures in the order of the job */
  get #pages() {
    return JSON.parse(this.getAttribute("pages"));
  }

  async #show() {
    const { ticks, about } = await theJob();
    const pages = this.#pages;
    const done = new Map(pages.map(({ path }) => [path, Object.keys(ticks[path + PLACE] ?? {}).map(Number)]));
    const isDone = ({ path, steps }) => done.get(path).length >= steps.length;
    for (const stage of this.querySelectorAll("[data-stage]")) {
      const there = pages.filter(({ tag }) => tag.startsWith(`${stage.dataset.stage}·`));
      const ready = there.filter(isDone).length;
      stage.querySelector(".bench-count").textContent = `${ready}/${there.length}`;
      stage.dataset.state = ready === there.length ? "done" : there.some(({ path }) => done.get(path).length) ? "now" : "";
    }
    const last = Object.entries(ticks)
      .filter(([place]) => place.endsWith(PLACE))
      .flatMap(([place, steps]) => Object.values(steps).map(({ when }) => ({ path: place.slice(0, -PLACE.length), when })))
      .sort((one, other) => (one.when < other.when ? 1 : -1))[0];
    if (!last) return;
    const here = pages.findIndex(({ path }) => path === last.path);
    const page = here < 0 ? undefined : isDone(pages[here]) ? pages.slice(here + 1).find((one) => !isDone(one)) : pages[here];
    if (!page) return;
    const step = page.steps.findIndex((_, index) => !done.get(page.path).includes(index + 1)) + 1;
    const name = about.name || about.vehicle;
    this.querySelector(".bench-next-at").textContent = `NEXT · ${page.tag} step ${step} of ${page.steps.length}${name ? ` · ${name}` : ""}`;
    this.querySelector(".bench-next-title").textContent = page.title;
    this.querySelector(".bench-next-words").textContent = page.steps[step - 1];
    const go = this.querySelector(".bench-go");
    go.textContent = step > 1 ? `Go on with step ${step}` : "Begin with step 1";
    go.setAttribute("href", `${new URL(page.path, ROOT).href}#step-${step}`);
  }
}

customElements.define("bench-home", BenchHome);
