/**
 * <bench-calculator name card prefix>: a form, and the answer to it.
 *
 * The build fills the element with the real form and the worked example. Here, typing is
 * sent to Python and its answer put in place; all HTML comes from Python's one renderer.
 */
import { ask, isUp, startPython } from "./python.js";

const ERRORS_WAIT = 600; // ms after the last key, so that half a number is not scolded
const STOPPED = "This calculator has stopped. Your readings are kept.";

class BenchCalculator extends HTMLElement {
  #listening = new AbortController();
  #typed = new Map(); // by name: also of rows that are hidden for now
  #asked = false;
  #again = false;
  #errorTimer = 0;
  #wantsFocus = false;
  #example = ""; // what the status says of the worked example

  connectedCallback() {
    const { signal } = (this.#listening = new AbortController());
    for (const sign of ["input", "change"])
      this.addEventListener(sign, () => ((this.#wantsFocus = false), this.#changed()), { signal });
    this.addEventListener("submit", (event) => this.#submitted(event), { signal });
    this.addEventListener("reset", () => setTimeout(() => (this.#typed.clear(), this.#changed())), { signal });
    this.addEventListener("click", (event) => this.#followed(event), { signal });
    addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && this.#status(STOPPED), { signal });
    startPython();
    this.#example ||= this.querySelector(".bench-status").textContent;
    this.#restore();
  }

  disconnectedCallback() {
    this.#listening.abort();
    clearTimeout(this.#errorTimer);
  }

  get #form() {
    return this.querySelector("form");
  }

  get #drawer() {
    return `readings ${location.pathname} ${this.getAttribute("prefix")}`;
  }

  /** Readings stay with the tab: over a reload, and when the reader comes back from another page. */
  #restore() {
    try {
      const kept = JSON.parse(sessionStorage.getItem(this.#drawer) ?? "[]");
      if (!kept.length) return;
      this.#typed = new Map(kept);
      for (const control of this.#form.elements) control.value = this.#typed.get(control.name) ?? control.value;
      this.#changed();
    } catch {} // no storage, or what it holds is not ours: the example stands
  }

  #keep() {
    try {
      if (this.#isExample()) sessionStorage.removeItem(this.#drawer);
      else sessionStorage.setItem(this.#drawer, JSON.stringify([...this.#typed]));
    } catch {} // no storage: the readings last as long as the page
  }

  #isExample() {
    return [...this.#form.elements].every((control) =>
      control instanceof HTMLSelectElement
        ? control.selectedIndex === Math.max(0, [...control.options].findIndex((option) => option.defaultSelected))
        : !(control instanceof HTMLInputElement) || control.value === control.defaultValue,
    );
  }

  #changed() {
    for (const control of this.#form.elements) if (control.name) this.#typed.set(control.name, control.value);
    this.#keep();
    for (const shown of this.querySelectorAll("[data-unit-of]"))
      shown.textContent = this.#typed.get(`${shown.dataset.unitOf}.unit`) ?? shown.textContent;
    this.#send();
  }

  #submitted(event) {
    event.preventDefault();
    this.#wantsFocus = true;
    this.#changed();
  }

  /** A link of the summary leads to the control itself, opening what it is folded in. */
  #followed(event) {
    const link = event.target.closest(".bench-summary a");
    if (!link) return;
    event.preventDefault();
    const control = document.getElementById(link.hash.slice(1));
    control?.closest("details")?.setAttribute("open", "");
    control?.focus();
  }

  async #send() {
    if (this.#asked) {
      this.#again = true; // the answer on its way is overtaken; the newest question follows it
      return;
    }
    this.#asked = true;
    if (!isUp()) this.#status("Starting the calculator. Type on: your readings are answered when it is up.");
    const rows = [...this.querySelectorAll("[data-rows]")];
    try {
      const answer = await ask({
        calculator: this.getAttribute("name"),
        card: this.getAttribute("card"),
        prefix: this.getAttribute("prefix"),
        typed: Object.fromEntries(this.#typed),
        rows: Object.fromEntries(rows.map((table) => [table.dataset.rows, table.children.length])),
      });
      if (!this.#again && this.isConnected) this.#show(answer);
    } catch (error) {
      console.warn(error);
      this.#wantsFocus = false;
      this.#blank();
      this.#status(STOPPED);
    }
    this.#asked = false;
    if (this.#again) {
      this.#again = false;
      this.#send();
    }
  }

  #show(answer) {
    clearTimeout(this.#errorTimer);
    this.#showRows(answer.rows);
    if (!answer.errors.length || this.#wantsFocus) this.#showWords(answer);
    else {
      this.#blank();
      this.#status("");
      this.#errorTimer = setTimeout(() => this.#showWords(answer), ERRORS_WAIT);
    }
  }

  #showWords(answer) {
    const wrong = new Map(answer.errors.map(({ field, message }) => [field, message]));
    for (const field of this.querySelectorAll("[data-field]")) {
      const message = wrong.get(field.dataset.field) ?? "";
      field.querySelector(".bench-error").textContent = message;
      field.querySelector("[name]").setAttribute("aria-invalid", String(Boolean(message)));
    }
    const summary = this.querySelector(".bench-summary");
    summary.innerHTML = answer.summary;
    summary.hidden = !answer.errors.length;
    if (answer.answer) this.querySelector(".bench-answer").innerHTML = answer.answer;
    this.classList.toggle("bench-blank", !answer.answer);
    this.querySelector(".bench-lead").textContent = answer.lead;
    const worked = this.#isExample() ? this.#example : "Worked out from your readings.";
    this.#status(answer.errors.length ? `${summary.querySelector("p").textContent}.` : worked);
    if (this.#wantsFocus) (answer.errors.length ? summary : this.querySelector(".bench-lead")).focus();
    this.#wantsFocus = false;
  }

  /** Add the rows that a table lacks, and hide those beyond its count; none is ever dropped. */
  #showRows(rows) {
    for (const [key, { count, more }] of Object.entries(rows)) {
      const table = this.querySelector(`[data-rows="${key}"]`);
      if (more) table.insertAdjacentHTML("beforeend", more);
      [...table.children].forEach((row, index) => (row.hidden = index >= count));
    }
  }

  /** Figures that no longer belong to what is typed are not left standing. */
  #blank() {
    this.classList.add("bench-blank");
    this.querySelector(".bench-lead").textContent = "";
  }

  #status(words) {
    const status = this.querySelector(".bench-status");
    if (status.textContent !== words) status.textContent = words;
  }
}

customElements.define("bench-calculator", BenchCalculator);
