/**
 * <bench-home>: where the job stands. The build fills it with the way to begin and the eight stages; here the
 * job's ticks make it the next step, and count what is done.
 */
import { theJob } from "./job.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = /^(.*) steps(?: head_(\d+))?$/; // a page's path and the head: the name of its ticks, as steps.js gives it

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

  /** @returns {{path: string, tag: string, title: string, steps: string[], eachHead: boolean}[]} the procedures in the order of the job */
  get #pages() {
    return JSON.parse(this.getAttribute("pages"));
  }

  async #show() {
    const { ticks, about, card } = await theJob();
    const pages = this.#pages;
    const heads = card?.data?.layout?.banks?.value?.length ?? 2;
    /** @type {Map<string, Map<number, {steps: number[], when: string}>>} by page, by head (0 where it is gone through once) */
    const done = new Map(pages.map(({ path }) => [path, new Map()]));
    let last;
    for (const [place, ticked] of Object.entries(ticks)) {
      const [, path, head] = place.match(PLACE) ?? [];
      const steps = Object.keys(ticked).map(Number);
      if (!done.has(path) || !steps.length) continue;
      const when = Object.values(ticked).reduce((latest, { when }) => (when > latest ? when : latest), "");
      done.get(path).set(Number(head ?? 0), { steps, when });
      if (!last || when > last.when) last = { path, head: Number(head ?? 0), when };
    }
    const ready = ({ path, steps, eachHead }) =>
      [...done.get(path).values()].filter((run) => run.steps.length >= steps.length).length >= (eachHead ? heads : 1);
    for (const stage of this.querySelectorAll("[data-stage]")) {
      const there = pages.filter(({ tag }) => tag.startsWith(`${stage.dataset.stage}·`));
      const count = there.filter(ready).length;
      stage.querySelector(".bench-count").textContent = `${count}/${there.length}`;
      stage.dataset.state = count === there.length ? "done" : there.some(({ path }) => done.get(path).size) ? "now" : "";
    }
    if (!last) return;
    const here = pages.findIndex(({ path }) => path === last.path);
    const left = (run) => pages[here].steps.findIndex((_, index) => !run?.steps.includes(index + 1));
    const goesOn = left(done.get(last.path).get(last.head)) >= 0;
    const page = goesOn || !ready(pages[here]) ? pages[here] : pages.slice(here + 1).find((one) => !ready(one));
    if (!page) return;
    const head = page === pages[here] && page.eachHead ? (goesOn ? last.head : (last.head % heads) + 1) : 0;
    const run = done.get(page.path).get(head);
    const step = page.steps.findIndex((_, index) => !run?.steps.includes(index + 1)) + 1;
    const name = about.name || about.vehicle;
    const of = head ? `head ${head}, ` : "";
    this.querySelector(".bench-next-at").textContent = `NEXT · ${page.tag} ${of}step ${step} of ${page.steps.length}${name ? ` · ${name}` : ""}`;
    this.querySelector(".bench-next-title").textContent = page.title;
    this.querySelector(".bench-next-words").textContent = page.steps[step - 1];
    const go = this.querySelector(".bench-go");
    go.textContent = step > 1 ? `Go on with step ${step}` : "Begin with step 1";
    go.setAttribute("href", `${new URL(page.path, ROOT).href}#step-${step}`);
  }
}

customElements.define("bench-home", BenchHome);
