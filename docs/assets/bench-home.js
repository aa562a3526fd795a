/**
 * <bench-home>: where the job stands. The build fills it with the way to begin and the eight stages; here the
 * job's ticks make it the next step, and count what is done.
 */
import { standing } from "./desk.js";
import { LiveElement, find } from "./elements.js";
import { lastTick, theJob } from "./job.js";
import { inReadersWay } from "./locale.js";
import { ask } from "./python.js";
import release from "./release.js";

const ROOT = new URL("../../", import.meta.url);
const PLACE = /^(.*) steps(?: head_(\d+))?$/; // a page's path and the head: the name of its ticks, as steps.js gives it

const WALK = /^([a-z_]+\.[a-z_]+) (\S+)$/; // a question and one of its walks, as walk.js names its ticks

/**
 * @typedef {{path: string, tag: string, title: string, steps: string[], asks: Object<string, number>, eachHead: boolean}} Procedure
 * @typedef {{steps: number[], when: string}} Run one time through a procedure
 * @typedef {{question: string, walk: string, ticked: Object<string, Tick>, when: string}} InHand the walk that was followed last
 */
class BenchHome extends LiveElement {
  #shown = 0; // so often; what was asked for before the last is overtaken
  /** @type {string | undefined} the map as the build drew it */
  #built;

  /** @param {AbortSignal} signal */
  arrive(signal) {
    addEventListener("bench-job", () => this.#show(), { signal });
    this.#show();
  }

  /** The map is of the engine that the job has; the build drew the site's own. @param {Job} job */
  async #showEngine(job) {
    const figure = this.querySelector("figure[data-leads]");
    if (!(figure instanceof HTMLElement)) return;
    const of = !job.card || (!job.card.data && job.card.name === release.card) ? "" : `${job.card.name} ${job.card.data ? job.card.when : ""}`;
    if (of === (figure.dataset.of ?? "")) return;
    figure.dataset.of = of;
    this.#built ??= figure.innerHTML;
    const asked = of && ask({ want: "engine-map", job: { readings: job.readings }, card: job.card, leads: JSON.parse(figure.dataset.leads ?? "{}") });
    const said = asked ? await asked.catch(console.warn) : undefined;
    if (figure.dataset.of !== of) return; // another card was chosen meanwhile
    figure.innerHTML = this.#built;
    if (!said) return;
    find(figure, "svg", SVGSVGElement).outerHTML = said.svg;
    find(figure, "figcaption").textContent = `${said.title} · from above, pulley towards you`;
  }

  /** @returns {Procedure[]} in the order of the job */
  get #pages() {
    return JSON.parse(this.getAttribute("pages") ?? "[]");
  }

  async #show() {
    const turn = ++this.#shown;
    const job = await theJob();
    const { ticks, about, card } = job;
    this.#showEngine(job);
    const pages = this.#pages;
    const heads = card?.data?.layout?.banks?.value?.length ?? 2;
    /** @type {Map<string, Map<number, Run>>} by page, by head (0 where it is gone through once) */
    const done = new Map(pages.map(({ path }) => [path, new Map()]));
    /** @param {string} path */
    const runs = (path) => done.get(path) ?? new Map();
    let last = { path: "", head: 0, when: "" };
    /** @type {InHand | undefined} */
    let inHand;
    for (const [place, ticked] of Object.entries(ticks)) {
      const [, question, walk] = place.match(WALK) ?? [];
      const when = lastTick(ticked);
      if (question && when && !(inHand && inHand.when > when)) inHand = { question, walk, ticked, when };
      const [, path, head] = place.match(PLACE) ?? [];
      const steps = Object.keys(ticked).map(Number);
      if (!done.has(path) || !steps.length) continue;
      runs(path).set(Number(head ?? 0), { steps, when });
      if (when > last.when || !last.path) last = { path, head: Number(head ?? 0), when };
    }
    /** @param {Procedure} page */
    const ready = ({ path, steps, eachHead }) =>
      [...runs(path).values()].filter((run) => run.steps.length >= steps.length).length >= (eachHead ? heads : 1);
    for (const stage of this.querySelectorAll("[data-stage]")) {
      const there = pages.filter(({ tag }) => tag.startsWith(`${stage.dataset.stage}·`));
      const count = there.filter(ready).length;
      find(stage, ".bench-count").textContent = `${count}/${there.length}`;
      stage.dataset.state = count === there.length ? "done" : there.some(({ path }) => runs(path).size) ? "now" : "";
    }
    if (inHand && !(last.when > inHand.when) && (await this.#goOnWalking(inHand, turn))) return;
    if (!last.path) return;
    const here = pages.findIndex(({ path }) => path === last.path);
    /** @param {Run | undefined} run */
    const left = (run) => pages[here].steps.findIndex((_, index) => !run?.steps.includes(index + 1));
    const goesOn = left(runs(last.path).get(last.head)) >= 0;
    const page = goesOn || !ready(pages[here]) ? pages[here] : pages.slice(here + 1).find((one) => !ready(one));
    if (!page) return;
    const head = page === pages[here] && page.eachHead ? (goesOn ? last.head : (last.head % heads) + 1) : 0;
    const run = runs(page.path).get(head);
    const step = page.steps.findIndex((_, index) => !run?.steps.includes(index + 1)) + 1;
    const name = about.name || about.vehicle;
    const of = head ? `head ${head}, ` : "";
    const at = `NEXT · ${page.tag} ${of}step ${step} of ${page.steps.length}${name ? ` · ${name}` : ""}`;
    this.#next(at, page.title, page.steps[step - 1], step > 1 ? `Go on with step ${step}` : "Begin with step 1", `${page.path}#step-${step}`);
  }

  /**
   * Say which nut, stop or valve comes next of what was followed last, as Python has it now.
   *
   * @returns {Promise<boolean>} false where it is on no page, or done
   * @param {InHand} walk
   * @param {number} turn
   */
  async #goOnWalking({ question, walk, ticked }, turn) {
    const page = this.#pages.find(({ asks }) => question in asks);
    if (!page) return false;
    const at = `NEXT · ${page.tag} step ${page.asks[question]}`;
    this.#next(at, page.title, page.steps[page.asks[question] - 1] ?? "", "Resume", `${page.path}#q-${question.replace(".", "-")}`);
    const wanted = { name: question, place: "step", folded: false, whole: false, opened: [], rows: {} };
    const asked = ask({ want: "questions", ...(await standing()), questions: [wanted], quotes: [] });
    const answer = document.createElement("template");
    answer.innerHTML = (await asked.catch(() => undefined))?.questions[question].answer ?? "";
    if (!answer.innerHTML || turn !== this.#shown) return true; // without Python the page is known, if not the nut
    const steps = [...answer.content.querySelectorAll(`[data-walk="${CSS.escape(walk)}"] [data-step]`)];
    /** @param {HTMLElement} step */
    const isDone = ({ dataset }) => ticked[dataset.step ?? ""]?.words === dataset.words;
    const next = steps.findIndex((step, at) => at > steps.findLastIndex(isDone));
    if (next < 0 || !steps.some(isDone)) return false;
    const { large = "", words = "" } = steps[next].dataset;
    const stage = steps[next].closest(".bench-stage")?.getAttribute("aria-label");
    this.#next(`${at} · ${stage} · ${next + 1} of ${steps.length}`, large, words, "Resume", `${page.path}#q-${question.replace(".", "-")}/${walk}`);
    inReadersWay(this);
    return true;
  }

  /** @param {string} at @param {string} title @param {string} words @param {string} deed @param {string} address */
  #next(at, title, words, deed, address) {
    find(this, ".bench-next-at").textContent = at;
    find(this, ".bench-next-title").textContent = title;
    find(this, ".bench-next-words").textContent = words;
    const go = find(this, ".bench-go");
    go.textContent = deed;
    go.setAttribute("href", new URL(address, ROOT).href);
  }
}

customElements.define("bench-home", BenchHome);
