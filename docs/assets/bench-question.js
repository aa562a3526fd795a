/**
 * <bench-question name card data-state>: one question, its answer, and its entries folded to a line.
 *
 * The build fills the element with the worked example. Here, what is typed goes into the job, and the
 * desk asks Python for all questions of the page at once; all HTML comes from Python's one renderer.
 */
import { ask_all, join, leave, standing } from "./desk.js";
import { follow } from "./in-sight.js";
import { add, keepReadings, put, remove, theJob, whyNotKept } from "./job.js";
import { inReadersWay, written } from "./locale.js";
import { ask, startPython } from "./python.js";
import { listenForTicks, showTicks } from "./walk.js";

const STOPPED = "This question has stopped. Your readings are kept.";
const ERRORS_WAIT = 600; // ms after the last key, so that half a number is not scolded

class BenchQuestion extends HTMLElement {
  #listening = new AbortController();
  #errorTimer = 0;
  #whole = true; // the boxes are the build's, and not yet what the job holds

  connectedCallback() {
    const { signal } = (this.#listening = new AbortController());
    listenForTicks(this, () => this.#name, signal);
    this.addEventListener("input", ({ target }) => this.#typed(target), { signal });
    this.addEventListener("change", ({ target }) => this.#typed(target), { signal });
    this.addEventListener("submit", (event) => (event.preventDefault(), this.querySelector(".q-headline").focus()), { signal });
    this.addEventListener("keydown", (event) => this.#pressed(event), { signal });
    this.addEventListener("click", ({ target }) => this.#clicked(target), { signal });
    this.addEventListener("toggle", ({ target }) => this.#unfolded(target), { signal, capture: true });
    addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && this.stopped(), { signal });
    this.querySelector(".bench-not-running")?.remove();
    startPython();
    inReadersWay(this);
    this.#whole = true;
    join(this);
  }

  disconnectedCallback() {
    this.#listening.abort();
    clearTimeout(this.#errorTimer);
    leave(this);
  }

  get #name() {
    return this.getAttribute("name");
  }

  get #form() {
    return this.querySelector(".q-form");
  }

  /** What the desk is to ask for. */
  wanted() {
    const tables = [...this.querySelectorAll("[data-rows]")];
    return {
      name: this.#name,
      whole: this.#whole,
      opened: [...this.querySelectorAll("[data-fold][open]")].map((fold) => fold.dataset.fold),
      rows: Object.fromEntries(tables.map((table) => [table.dataset.rows, table.children.length])),
    };
  }

  /** Put Python's answer in place; no box is touched while someone types in it. */
  show({ html, state, answer, folds, line, boxes, refines, rows }) {
    clearTimeout(this.#errorTimer);
    this.dataset.state = state;
    if (html !== undefined) {
      this.#whole = false;
      const { id } = this.contains(document.activeElement) ? document.activeElement : {};
      const open = !this.#form.hidden;
      this.innerHTML = html;
      if (open) this.#open(true);
      if (id) document.getElementById(id)?.focus();
    } else {
      this.#replace(".q-answer", answer);
      this.#replace(".q-folds", folds);
      this.querySelector(".q-line .q-holds").textContent = line;
      for (const fold of this.querySelectorAll("[data-refines]")) {
        const holds = fold.querySelector(".q-holds");
        if (holds) holds.textContent = refines[fold.dataset.refines] ?? "";
      }
      for (const [key, { count, more }] of Object.entries(rows)) {
        const table = this.querySelector(`[data-rows="${key}"]`);
        table.insertAdjacentHTML("beforeend", more);
        [...table.children].forEach((row, index) => (row.hidden = index >= count));
      }
      const say = () => this.#say(boxes, true);
      this.#say(boxes, false);
      if (Object.values(boxes).some(({ error }) => error)) this.#errorTimer = setTimeout(say, ERRORS_WAIT);
    }
    inReadersWay(this);
    showTicks(this, this.#name);
    this.#showDone();
    follow();
    if (whyNotKept()) this.#status(whyNotKept());
  }

  stopped() {
    this.#status(STOPPED);
  }

  /** A part that is replaced keeps the focus on the same fold or tick. */
  #replace(part, html) {
    const shown = this.querySelector(part);
    const focused = shown.contains(document.activeElement) ? document.activeElement : null;
    const step = focused?.dataset.step;
    const fold = focused?.closest("[data-fold]")?.dataset.fold;
    shown.innerHTML = html;
    if (step) this.querySelector(`[data-step="${CSS.escape(step)}"]`)?.focus();
    else if (fold) this.querySelector(`[data-fold="${CSS.escape(fold)}"] > summary`)?.focus();
  }

  /** Say beside each box what is wrong (once typing rests), what was understood, and whose it is. */
  #say(boxes, wrongs) {
    for (const [key, { error, read, whose, hint }] of Object.entries(boxes)) {
      const box = this.querySelector(`[data-box="${key}"]`);
      if (!box) continue;
      const control = box.querySelector("[data-path]");
      const shown = box.querySelector(".q-error");
      if (wrongs || !error) {
        if (shown.textContent !== error) shown.textContent = error;
        control.setAttribute("aria-invalid", String(Boolean(error)));
      }
      box.querySelector(".q-read").textContent = read;
      box.querySelector(".q-from").textContent = whose;
      if (control instanceof HTMLInputElement) control.placeholder = hint;
      else control.options[0].textContent = hint || "choose";
    }
  }

  #status(words) {
    const status = this.querySelector(".q-whose");
    if (status.textContent !== words) status.textContent = words;
  }

  /** A number and the unit beside it are one reading. */
  #typed(target) {
    const key = target.dataset.unitOf;
    const controls = key ? [...this.querySelectorAll(`[name="${key}"], [name^="${key}."]`)] : target.dataset.path ? [target] : [];
    const typed = controls.filter((control) => !key || control.value.trim());
    if (!typed.length) return;
    const readings = typed.map((control) => {
      const unit = this.querySelector(`[data-unit-of="${control.name.replace(/\.\d+$/, "")}"]`)?.value;
      const called = control.getAttribute("aria-label") ?? control.labels?.[0]?.textContent.trim();
      const reading = { text: control.value, unit, kind: control.dataset.instrument, called };
      return [control.dataset.path, control.value.trim() ? reading : undefined];
    });
    keepReadings(Object.fromEntries(readings), null);
  }

  /** Enter, also of a gauge that types like a keyboard, goes to the next empty box, and from the last to the answer. */
  #pressed(event) {
    if (event.key !== "Enter" || !event.target.dataset.path) return;
    event.preventDefault();
    const boxes = [...this.#form.querySelectorAll("input[data-path]")].filter((box) => !box.closest("details:not([open]), [hidden]"));
    const next = boxes.slice(boxes.indexOf(event.target) + 1).find((box) => !box.value.trim());
    (next ?? this.querySelector(".q-headline")).focus();
  }

  /** The answer goes onto the job sheet once; then the button takes it off again. */
  async #done() {
    const there = await this.#decision();
    if (there) await remove("decisions", there.id, null);
    else {
      const { decision, checks } = await ask({ want: "done-with", name: this.#name, ...(await standing()) });
      if (!decision) return this.#status("This answer is not yours yet: it cannot go onto the job sheet.");
      await add("decisions", { about: "", ...decision }, null);
      await put("checks", checks, null);
    }
    this.#showDone();
  }

  /** @returns {Promise<object | undefined>} the decision of the job that says what this answer says */
  async #decision() {
    const says = this.querySelector(".q-says")?.textContent.replaceAll("\u00a0", " ").trim();
    const { decisions } = await theJob();
    return decisions.findLast(({ calculator, lead }) => calculator === this.#name && written(lead) === says);
  }

  async #showDone() {
    const button = this.querySelector(".q-done");
    if (!button) return;
    const there = await this.#decision();
    button.textContent = there ? "✓ On the job sheet · Undo" : "Done with it: onto the job sheet";
    button.setAttribute("aria-pressed", String(Boolean(there)));
  }

  #clicked(target) {
    if (target.closest(".q-done")) this.#done();
    if (target.closest(".q-change")) this.#open(this.#form.hidden);
  }

  #open(on) {
    this.#form.hidden = !on;
    this.querySelector(".q-change").setAttribute("aria-expanded", String(on));
  }

  /** A fold that came without what is in it is asked for when it is opened. */
  #unfolded(fold) {
    if (fold.dataset?.fold && fold.open && fold.childElementCount === 1) ask_all();
  }
}

customElements.define("bench-question", BenchQuestion);
