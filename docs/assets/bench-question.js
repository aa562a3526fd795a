/**
 * <bench-question name card data-place data-state>: one question, its answer, and its entries folded to a line.
 *
 * In a room it can be folded to its headline, and costs no more Python than that; in a step its form is a sheet.
 *
 * The build fills the element with the worked example. Here, what is typed goes into the job, and the
 * desk asks Python for all questions of the page at once; all HTML comes from Python's one renderer.
 */
import { ask_all, join, leave, standing } from "./desk.js";
import { follow } from "./in-sight.js";
import { add, keepReadings, put, remove, theJob, whyNotKept } from "./job.js";
import { inReadersWay, written } from "./locale.js";
import { ask, startPython } from "./python.js";
import { closeSheet, forget, isOpen, openSheet } from "./sheet.js";
import { listenForTicks, showTicks } from "./walk.js";

const STOPPED = "This question has stopped. Your readings are kept.";
const ERRORS_WAIT = 600; // ms after the last key, so that half a number is not scolded
const PARTED = "; "; // what parts the readings of several boxes in the one text that the job keeps

class BenchQuestion extends HTMLElement {
  #listening = new AbortController();
  #errorTimer = 0;
  #whole = true; // the boxes are the build's, and not yet what the job holds

  connectedCallback() {
    const { signal } = (this.#listening = new AbortController());
    listenForTicks(this, () => this.#name, signal);
    this.addEventListener("input", ({ target }) => this.#typed(target), { signal });
    this.addEventListener("change", ({ target }) => (this.#closeUp(target), this.#typed(target)), { signal });
    this.addEventListener("submit", (event) => (event.preventDefault(), this.#toAnswer()), { signal });
    this.addEventListener("keydown", (event) => this.#pressed(event), { signal });
    this.addEventListener("click", ({ target }) => this.#clicked(target), { signal });
    this.addEventListener("toggle", ({ target }) => this.#unfolded(target), { signal, capture: true });
    addEventListener("hashchange", () => this.#openIfWanted(), { signal });
    addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && this.stopped(), { signal });
    this.querySelector(".bench-not-running")?.remove();
    startPython();
    inReadersWay(this);
    this.#whole = true;
    this.#openIfWanted();
    showTicks(this, this.#name); // also where nothing is typed, and nothing asked
    join(this);
  }

  disconnectedCallback() {
    this.#listening.abort();
    clearTimeout(this.#errorTimer);
    forget(this);
    leave(this);
  }

  get #name() {
    return this.getAttribute("name");
  }

  get #form() {
    return this.querySelector(".q-form");
  }

  /** @returns {HTMLDetailsElement | null} what folds it in its room */
  get #one() {
    return this.querySelector(".q-one");
  }

  /** @returns {HTMLDialogElement | null} the sheet that its form is in a step */
  get #sheet() {
    return this.querySelector(".q-sheet");
  }

  /** What the desk is to ask for. */
  wanted() {
    const tables = [...this.querySelectorAll("[data-rows]")];
    return {
      name: this.#name,
      place: this.dataset.place,
      folded: Boolean(this.#one) && !this.#one.open,
      whole: this.#whole,
      opened: [...this.querySelectorAll("[data-fold][open]")].map((fold) => fold.dataset.fold),
      rows: Object.fromEntries(tables.map((table) => [table.dataset.rows, table.children.length])),
    };
  }

  /** Put Python's answer in place; no box is touched while someone types in it. */
  show({ html, state, headline, whose, line, deed, answer, folds, boxes, refines, rows }) {
    clearTimeout(this.#errorTimer);
    this.dataset.state = state;
    const folded = answer === undefined;
    this.toggleAttribute("data-behind", folded); // what is folded is no answer to what was typed, until it is asked for
    if (folded) {
      this.#glance(headline, whose, line);
      this.#status("Being worked out");
      return inReadersWay(this);
    }
    if (html !== undefined) {
      this.#whole = false;
      const held = this.contains(document.activeElement) ? document.activeElement : null;
      const open = !this.#form.hidden;
      const sheet = isOpen(this.#sheet);
      this.innerHTML = html;
      if (this.#one) this.#one.open = true;
      if (sheet) openSheet(this.#sheet, () => this.querySelector(".q-change"));
      else if (open && this.#one) this.#open(true);
      if (held?.id) this.#goOn(held);
    } else {
      this.#replace(".q-answer", answer);
      this.#replace(".q-folds", folds);
      this.querySelector(".q-line .q-holds").textContent = line;
      this.querySelector(".q-change").textContent = deed;
      this.#glance(headline, whose, line);
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

  /** Whoever was typing in a box that was replaced goes on in the new one. */
  #goOn(before) {
    const [, series, number] = before.matches("[data-part]") ? (before.id.match(/^(.+)-(\d+)$/) ?? []) : [];
    const several = document.getElementById(series ?? "")?.closest(".q-several");
    for (let at = 1; several && at < Number(number); at += 1)
      if (!document.getElementById(before.id)) this.#anotherPart(several); // it was opened since Python was asked
    const box = document.getElementById(before.id);
    box?.focus({ preventScroll: true });
    if (!(box instanceof HTMLInputElement)) return;
    box.value = before.value;
    box.setSelectionRange(before.selectionStart, before.selectionEnd);
    if (box.matches("[data-part]")) this.#joined(box);
  }

  /** What is seen of it at a glance: folded in its room, and at the top of its sheet. */
  #glance(headline, whose, line) {
    const words = { ".q-glance-headline": headline, ".q-glance-whose": whose, ".q-glance-line": line };
    for (const [part, text] of Object.entries(words)) {
      const shown = this.querySelector(part);
      if (shown && shown.textContent !== text) shown.textContent = text;
    }
  }

  /** A link to it opens it. */
  #openIfWanted() {
    if (!this.#one || location.hash !== `#${this.id}`) return;
    this.#one.open = true;
    requestAnimationFrame(() => this.scrollIntoView({ block: "start" }));
  }

  #toAnswer() {
    const land = () => {
      this.querySelector(".q-headline").focus({ preventScroll: true });
      this.querySelector(".q-headline").scrollIntoView({ block: "center" });
    };
    if (isOpen(this.#sheet)) closeSheet(land);
    else land();
  }

  stopped() {
    this.#glance("", STOPPED, "");
    this.#status(STOPPED);
  }

  /** A part that is replaced keeps the focus on the same fold or tick. */
  #replace(part, html) {
    const shown = this.querySelector(part);
    const focused = shown.contains(document.activeElement) ? document.activeElement : null;
    const step = focused?.dataset.step;
    const fold = focused?.closest("[data-fold]")?.dataset.fold;
    const walk = focused?.matches(".bench-follow-start") && focused.closest("[data-walk]").dataset.walk;
    shown.innerHTML = html;
    if (walk) this.querySelector(`[data-walk="${walk}"] .bench-follow-start`)?.focus();
    else if (step) this.querySelector(`[data-step="${CSS.escape(step)}"]`)?.focus();
    else if (fold) this.querySelector(`[data-fold="${CSS.escape(fold)}"] > summary`)?.focus();
  }

  /** Say beside each box what is wrong (once typing rests), what was understood, and whose it is. */
  #say(boxes, wrongs) {
    for (const [key, { error, read, whose, hint, missing }] of Object.entries(boxes)) {
      const box = this.querySelector(`[data-box="${key}"]`);
      if (!box) continue;
      const control = box.querySelector("[data-path]");
      const parts = [...box.querySelectorAll("[data-part]")];
      const shown = box.querySelector(".q-error");
      if (wrongs || !error) {
        if (shown.textContent !== error) shown.textContent = error;
        for (const marked of parts.length ? parts : [control]) marked.setAttribute("aria-invalid", String(Boolean(error)));
      }
      if (missing || (wrongs && error)) box.closest("[data-refines]:not([open])")?.setAttribute("open", "");
      box.querySelector(".q-read").textContent = read;
      box.querySelector(".q-from").textContent = whose;
      if (parts.length) this.#greyed(control.parentElement, hint);
      else if (control instanceof HTMLInputElement) control.placeholder = hint;
      else control.options[0].textContent = hint || "choose";
    }
  }

  /** What stands greyed in each box of several readings. */
  #greyed(several, hint) {
    const hints = hint ? hint.split(PARTED) : [];
    several.querySelectorAll("[data-part]").forEach((part, at) => (part.placeholder = hints[at] ?? ""));
  }

  /** Open one more box of several readings, as long as it may have more. */
  #anotherPart(several) {
    const parts = several.querySelectorAll("[data-part]");
    if (parts.length >= Number(several.dataset.most)) return;
    const more = /** @type {HTMLInputElement} */ (parts[0].cloneNode());
    more.id = `${parts[0].id}-${parts.length + 1}`;
    more.value = "";
    more.placeholder = "";
    more.setAttribute("aria-label", parts[0].getAttribute("aria-label").replace(/\d+$/, String(parts.length + 1)));
    several.append(more);
  }

  /** A box of several readings that was emptied is filled by the next, as the job will have it. */
  #closeUp(part) {
    if (!part.matches("[data-part]")) return;
    const parts = [...part.closest(".q-several").querySelectorAll("[data-part]")];
    const typed = parts.map(({ value }) => value.trim()).filter(Boolean);
    parts.forEach((one, at) => (one.value = typed[at] ?? ""));
  }

  /** The readings of several boxes are one text; the last box that is filled opens another. */
  #joined(part) {
    const several = part.closest(".q-several");
    const parts = [...several.querySelectorAll("[data-part]")];
    const carrier = several.querySelector("[data-path]");
    carrier.value = parts.map(({ value }) => value.trim()).filter(Boolean).join(PARTED);
    if (parts.at(-1).value.trim()) this.#anotherPart(several);
    return carrier;
  }

  #status(words) {
    const status = this.querySelector(".q-whose");
    if (status.textContent !== words) status.textContent = words;
  }

  /** A number and the unit beside it are one reading. */
  #typed(target) {
    if (target.matches("[data-part]")) return this.#typed(this.#joined(target));
    const key = target.dataset.unitOf;
    const controls = key ? [...this.querySelectorAll(`[name="${key}"], [name^="${key}."]`)] : target.dataset.path ? [target] : [];
    const typed = controls.filter((control) => !key || control.value.trim());
    if (!typed.length) return;
    const readings = typed.map((control) => {
      const unit = this.querySelector(`[data-unit-of="${control.name.replace(/\.\d+$/, "")}"]`)?.value;
      const called = control.dataset.called ?? control.getAttribute("aria-label") ?? control.labels?.[0]?.textContent.trim();
      const reading = { text: control.value, unit, kind: control.dataset.instrument, called };
      return [control.dataset.path, control.value.trim() ? reading : undefined];
    });
    keepReadings(Object.fromEntries(readings), null);
  }

  /** Enter, also of a gauge that types like a keyboard, goes to the next empty box, and from the last to the answer. */
  #pressed(event) {
    if (event.key !== "Enter" || !event.target.matches("[data-path], [data-part]")) return;
    event.preventDefault();
    const boxes = this.#boxes("input");
    const next = boxes.slice(boxes.indexOf(event.target) + 1).find((box) => !box.value.trim());
    if (next) next.focus();
    else this.#toAnswer();
  }

  /** @returns {HTMLInputElement[]} the boxes in sight, in their order */
  #boxes(kind = "input, select") {
    const all = [...this.#form.querySelectorAll(`:is(${kind}):is([data-path], [data-part]):not([type="hidden"])`)];
    return all.filter((box) => !box.closest("[data-refines]:not([open]), [hidden]"));
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
    if (target.closest(".q-sheet-done")) closeSheet();
    if (!target.closest(".q-change")) return;
    if (!this.#sheet) this.#open(this.#form.hidden);
    else if (isOpen(this.#sheet)) closeSheet();
    else this.#asSheet();
  }

  #open(on) {
    this.#form.hidden = !on;
    this.querySelector(".q-change").setAttribute("aria-expanded", String(on));
  }

  /** The form over the page, its first box that is wrong or empty under the finger. */
  #asSheet() {
    openSheet(this.#sheet, () => this.querySelector(".q-change"));
    const boxes = this.#boxes();
    const wrong = boxes.find((box) => box.getAttribute("aria-invalid") === "true");
    (wrong ?? boxes.find((box) => !box.value.trim()) ?? boxes[0])?.focus();
  }

  /** What came without what is in it is asked for when it is opened. */
  #unfolded(fold) {
    if (fold === this.#one && fold.open) ask_all();
    if (fold.dataset?.fold && fold.open && fold.childElementCount === 1) ask_all();
  }
}

customElements.define("bench-question", BenchQuestion);
