/**
 * <bench-calculator name card prefix>: a form, and the answer to it.
 *
 * The build fills the element with the real form and the worked example. Here, typing is
 * sent to Python and its answer put in place; all HTML comes from Python's one renderer.
 */
import { showAnswer, showErrors, showRows, showUnderstood } from "./answer.js";
import { add, keepReadings, keepWorkedOut, lend, lentReadings, put, theJob, whyNotKept } from "./job.js";
import { inReadersWay, written } from "./locale.js";
import { ask, isUp, rehearse, startPython } from "./python.js";
import { isBehind, renew, stuckAt } from "./renew.js";
import { offerBrought, share } from "./share.js";
import { listenForTicks, showTicks } from "./walk.js";

const ERRORS_WAIT = 600; // ms after the last key, so that half a number is not scolded
const STOPPED = "This calculator has stopped. Your readings are kept.";
const ROOT = new URL("../../", import.meta.url).pathname;

class BenchCalculator extends HTMLElement {
  #listening = new AbortController();
  #typed = new Map(); // by name: also of rows that are hidden for now
  #units = new Map(); // by name of a table's box: the unit of what stands in it, where that is the box's own affair
  #own = new Set(); // names of what the job holds or another calculator lends; the rest is card, default or example
  #readings = {};
  #lent = new Set(); // names of what another calculator worked out from the example's entries
  #anew = false; // typed in since the last answer was kept
  #aside = false; // the example is shown, and the job's readings stay where they are
  #asked = false;
  #again = false;
  #errorTimer = 0;
  #wrong = false; // the last answer was that an entry is wrong
  #askedFrom = null; // where the reader was on asking to be taken to the answer
  #example = ""; // what the status says of the worked example
  #place = ""; // of this element, for its ticks
  #home = ""; // of its own entries
  #builtWith = this.getAttribute("card");
  #card = this.#builtWith; // a name of the site's, or the job's own whole
  #cardWhen = undefined;
  #refilled = false; // from a card, and not answered since
  #filled = undefined; // the card that the form was filled from since it was built
  #begun;
  #cardTaken;
  #cardless = false; // the job's card could not be read: what stands here is another engine's

  connectedCallback() {
    const { signal } = (this.#listening = new AbortController());
    const [name, prefix] = [this.getAttribute("name"), this.getAttribute("prefix")];
    this.#place ||= `${location.pathname.slice(ROOT.length)} ${prefix}`;
    this.#home = this.#isTask ? this.#place : `calculators/${name}/ ${name}`;
    listenForTicks(this, () => this.#place, signal);
    for (const sign of ["input", "change"])
      this.addEventListener(sign, (event) => ((this.#askedFrom = null), this.#changed(event.target)), { signal });
    this.addEventListener("submit", (event) => this.#submitted(event), { signal });
    this.addEventListener("click", (event) => this.#clicked(event), { signal });
    this.addEventListener("toggle", (event) => this.#unfolded(event.target), { signal, capture: true });
    addEventListener("bench-job", ({ detail }) => detail.here !== this && this.#restore(detail.paths), { signal });
    addEventListener("bench-stuck", () => !this.#wrong && this.#status(this.#standing()), { signal });
    addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && this.#status(STOPPED), { signal });
    this.#example ||= this.querySelector(".bench-status").textContent;
    this.querySelector(".bench-not-running")?.remove();
    this.classList.add("bench-runs", "bench-waiting");
    for (const shown of this.querySelectorAll("form, .bench-lead, .bench-answer")) inReadersWay(shown);
    startPython();
    this.#begun = this.#begin();
    rehearse(() => this.isConnected && this.#question());
  }

  async #begin() {
    await this.#takeCard();
    await this.#restore();
    // what was typed before this script came, or put back by the browser, is the reader's too
    const numbersFirst = [false, true].flatMap((units) => this.#controls.filter((one) => isUnit(one) === units));
    for (const control of numbersFirst) {
      const numbers = isUnit(control) ? this.#numbersUnder(control) : [control];
      if (!numbers.some(({ name }) => this.#own.has(name)) && control.value !== initial(control)) this.#changed(control);
    }
    if (this.#presetToday()) this.#sendChanged();
    if (!this.#asked && !this.#cardless) this.#cardKnown();
    offerBrought(this, this.getAttribute("prefix"), (name) => this.#known(name), (brought) => this.#take(brought));
    await renew();
  }

  /** Where a date is asked for, the reader's own today stands; the page was built on another day, with the example's. */
  #presetToday() {
    let changed = false;
    for (const control of this.querySelectorAll("[data-today]")) {
      const today = new Date().toLocaleDateString("sv-SE"); // as ISO 8601 writes it
      if (this.#own.has(control.name) || control.value !== control.defaultValue || control.value === today) continue;
      control.value = control.defaultValue = today;
      control.closest("[data-field]").removeAttribute("data-example");
      changed = true;
    }
    return changed;
  }

  /** Fill the form from the card of the job, where that is another than the one the page was built with. */
  #takeCard() {
    return (this.#cardTaken = Promise.all([this.#cardTaken, this.#fillFromCard()]));
  }

  async #fillFromCard() {
    const { card } = await theJob();
    const name = card?.name ?? this.#builtWith;
    const known = card?.data ? card : name;
    if (!this.isConnected || (this.#card === known && !card?.data) || (card?.when && card.when === this.#cardWhen)) return;
    this.#card = known;
    this.#cardWhen = card?.when;
    if (known === this.#builtWith && !this.#filled) return;
    this.classList.add("bench-waiting");
    try {
      const { form, engine } = await ask({ want: "form", calculator: this.getAttribute("name"), card: known, prefix: this.getAttribute("prefix"), presets: this.#presets });
      if (!this.isConnected) return;
      this.#filled = known;
      const { id, name: typed, value, selectionStart, selectionEnd } = this.#form.contains(document.activeElement) ? document.activeElement : {};
      const mine = this.#own.has(typed);
      this.#form.innerHTML = form;
      inReadersWay(this.#form);
      this.#presetToday();
      const again = id && document.getElementById(id); // who is typing goes on
      if (again && mine) again.value = value;
      again?.focus();
      if (selectionStart != null) again?.setSelectionRange?.(selectionStart, selectionEnd);
      for (const of of [this.#typed, this.#own, this.#lent, this.#units]) of.clear();
      this.#aside = false;
      this.#refilled = true; // answered once the readings are back in it, each with its unit
      this.#example = `Worked example for the ${engine}.`;
      this.#cardless = false;
    } catch (error) {
      console.warn(error);
      this.#cardless = true;
      this.#status(STOPPED);
    }
  }

  disconnectedCallback() {
    this.#listening.abort();
    clearTimeout(this.#errorTimer);
  }

  get #presets() {
    return JSON.parse(this.getAttribute("presets") ?? "{}");
  }

  /** A page that sets an entry has a task of its own, and so has a second one on a page; all others are one. */
  get #isTask() {
    return Object.values(this.#presets).some(Boolean) || this.getAttribute("prefix") !== this.getAttribute("name");
  }

  get #form() {
    return this.querySelector("form");
  }

  /** The job's card is the reader's own, and gives all that is asked: nothing here is an example's. */
  get #wholeFromCard() {
    return Boolean(this.#filled?.data) && !this.querySelector("[data-example]");
  }

  get #controls() {
    return [...this.#form.elements].filter((control) => control.name);
  }

  /** The job's name for what a control holds: shared by every calculator that asks for it, or this form's own. */
  #path(control) {
    return control.dataset.reading ?? `${this.#home} ${control.name}`;
  }

  /** Put what the job holds into the form: at first, and when it was typed or worked out elsewhere. */
  async #restore(paths) {
    if (paths?.includes("card")) {
      await this.#takeCard();
      paths = undefined; // the form may be another
    }
    if (paths === null) return this.#anotherJob();
    const job = await theJob();
    if (!this.isConnected) return;
    const readings = (this.#readings = { ...lentReadings(), ...job.readings });
    showTicks(this, this.#place);
    if (this.#aside) return;
    let changed = this.#refilled;
    this.#refilled = false;
    const controls = new Map(this.#controls.filter((control) => !isUnit(control)).map((control) => [this.#path(control), control]));
    const columns = new Map(); // by name: the last reading of a column that is shown for the first time
    for (const path of paths ?? Object.keys(readings)) {
      const reading = readings[path];
      const control = controls.get(path);
      const name = control?.name ?? this.#rowName(path);
      if (!name || !this.#boxLike(name) || (!reading && !this.#own.delete(name))) continue;
      if (!reading && !this.#underOne(name).some((other) => this.#own.has(other.name))) this.#own.delete(columnOf(name) + UNIT);
      if (reading && !this.#own.has(name)) changed = true; // also where it is the example's, letter for letter
      if (reading) this.#own.add(name);
      const lent = Boolean(reading) && !(path in job.readings);
      changed ||= lent !== this.#lent.has(name);
      if (lent) this.#lent.add(name);
      else this.#lent.delete(name);
      const [text, unit] = reading ? this.#asShown(name, reading) : [control ? initial(control) : "", undefined];
      if (control && control.value !== text) control.value = text;
      control?.closest("[data-field]")?.classList.toggle("bench-typed", Boolean(reading));
      changed ||= this.#typed.get(name) !== text || this.#unitOf(name) !== unit;
      this.#typed.set(name, text);
      this.#setUnit(name, unit);
      const column = columns.get(columnOf(name));
      if (unit && !paths && isCell(name) && !(column?.when > reading.when)) columns.set(columnOf(name), { when: reading.when, unit });
    }
    for (const [key, { unit }] of columns) if (this.#chooser(key)) this.#keepCells(key, () => (this.#chooser(key).value = unit));
    if (!changed) return this.#unrefuse();
    this.#gather();
    this.#sendChanged();
  }

  /** Another job is in hand: nothing of the one before may stay. */
  async #anotherJob() {
    for (const control of this.#controls) if (this.#own.has(control.name) || isUnit(control)) control.value = initial(control);
    for (const of of [this.#own, this.#lent, this.#typed, this.#units]) of.clear();
    this.#layAside(false);
    this.#anew = false;
    await this.#takeCard();
    this.#gather();
    this.#sendChanged();
    await this.#restore();
  }

  /** Entries that a link brought are readings once the reader wants them. @param {Map<string, {text: string, unit?: string}>} brought */
  #take(brought) {
    const kept = {};
    for (const [name, { text, unit }] of brought) {
      const box = this.#boxLike(name);
      const path = this.#path(box).replace(/(?<=\.)\d+$/, name.match(/\d*$/)[0]); // of a row that is not shown yet, too
      kept[path] = { text, unit: box.dataset.unit && (unit || box.dataset.unit), called: labelOf(box) };
    }
    return keepReadings(kept).then(() => whyNotKept() && this.#status(whyNotKept()));
  }

  #box(name) {
    const found = this.#form.elements.namedItem(name); // goes by ids too
    return found?.name === name ? found : undefined;
  }

  /** @returns {HTMLElement | undefined} a box, or of a row that is not shown yet the one in the first row */
  #boxLike(name) {
    const shown = this.#box(name) ?? (isCell(name) ? this.#box(name.replace(/\d+$/, "1")) : undefined);
    const most = Number(shown?.closest("[data-rows]")?.dataset.most ?? Infinity);
    return shown && !isUnit(shown) && !(isCell(name) && !(Number(name.match(/\d+$/)[0]) <= most)) ? shown : undefined;
  }

  /** @returns {{label: string, unit?: string} | undefined} an entry that is asked for here, with its own unit */
  #known(name) {
    const box = this.#boxLike(name);
    return box && { label: labelOf(box), unit: box.dataset.unit };
  }

  /** @returns {HTMLInputElement[]} the controls with the reader's own entries */
  get #mine() {
    return this.#controls.filter((one) => !isUnit(one) && this.#own.has(one.name) && !this.#lent.has(one.name));
  }

  /** The control that a path would have in a row that the page does not show yet. */
  #rowName(path) {
    const cut = path.lastIndexOf(".");
    if (cut < 0 || !/^\d+$/.test(path.slice(cut + 1))) return undefined;
    for (const table of this.querySelectorAll("[data-rows]"))
      for (const control of table.firstElementChild?.querySelectorAll("[name]") ?? [])
        if (this.#path(control) === `${path.slice(0, cut)}.1`) return control.name.replace(/1$/, path.slice(cut + 1));
    return undefined;
  }

  /** @returns {HTMLSelectElement | undefined} where the unit of a box or a column is chosen, if there is a choice */
  #chooser(key) {
    return this.#box(key + UNIT);
  }

  /** The boxes whose unit is chosen in this place. */
  #numbersUnder(chooser) {
    return this.#underOne(chooser.name.slice(0, -UNIT.length));
  }

  /** The box of this name, or all of its column. */
  #underOne(name) {
    return this.#controls.filter((one) => !isUnit(one) && columnOf(one.name) === columnOf(name));
  }

  /** @returns {string | undefined} the unit that stands beside a box */
  #unitOf(name) {
    return this.#units.get(name) ?? this.#chooser(columnOf(name))?.value ?? this.#boxLike(name)?.dataset.unit;
  }

  /** Let a unit stand beside a box; undefined is the one that the form came with. */
  #setUnit(name, unit) {
    const chooser = this.#chooser(columnOf(name));
    if (isCell(name)) {
      if (unit) this.#units.set(name, unit);
      else this.#units.delete(name);
    } else if (chooser) chooser.value = unit ?? initial(chooser);
  }

  /** @returns {[string, string | undefined]} what stands in a box for a reading, and the unit beside it */
  #asShown(name, { text, unit }) {
    const own = this.#boxLike(name)?.dataset.unit;
    const stood = own && (unit ?? own); // in older jobs a number without a unit stands in its field's own
    const choices = [...(this.#chooser(columnOf(name))?.options ?? [])].map(({ value }) => value);
    const canStand = !stood || stood === own || choices.includes(stood);
    return canStand ? [text, stood] : [`${text} ${stood}`, own];
  }

  /** Another unit for a column leaves what stands in its boxes as it is; only an empty one follows. */
  #keepCells(key, choose) {
    const before = this.#chooser(key).value;
    for (const { name, value } of this.#numbersUnder(this.#chooser(key)))
      if (isCell(name) && value.trim() && !this.#units.has(name)) this.#units.set(name, before);
    choose();
  }

  #gather() {
    for (const control of this.#controls) this.#typed.set(control.name, control.value);
    for (const [name, unit] of this.#units) this.#typed.set(`${name}${UNIT}`, unit);
    for (const shown of this.querySelectorAll("[data-unit-of]")) {
      const { name } = shown.closest("[data-field]").querySelector("[name]");
      if (!this.#units.has(name)) this.#typed.delete(`${name}${UNIT}`);
      shown.textContent = this.#unitOf(name) ?? shown.textContent;
    }
  }

  #changed(control) {
    // leaving a box says again what its last key said: that answer stands, and so does what the status says since
    if (control?.name && this.#own.has(control.name) && this.#typed.get(control.name) === control.value) return;
    if (control?.name) {
      this.#anew = true;
      const typed = {};
      for (const one of isUnit(control) ? this.#chosenFor(control) : [control]) {
        this.#own.add(one.name);
        this.#lent.delete(one.name);
        one.closest("[data-field]")?.classList.add("bench-typed");
        // over another's number, or in an empty box, one types in the unit of the column
        if (one === control && isCell(one.name) && (!(this.#path(one) in this.#readings) || !this.#typed.get(one.name)?.trim()))
          this.#units.delete(one.name);
        const unit = one.dataset.unit && this.#unitOf(one.name);
        if (unit && isCell(one.name)) this.#units.set(one.name, unit);
        typed[this.#path(one)] = { text: one.value, unit, kind: one.dataset.instrument, called: labelOf(one) };
        this.#readings[this.#path(one)] ??= typed[this.#path(one)];
      }
      // the answer may be there before the storage says that it is full
      keepReadings(typed, this).then(() => whyNotKept() && this.#status(whyNotKept()));
    }
    this.#gather();
    if (control?.name) this.#sendChanged();
    else this.#send();
  }

  /** A unit was chosen by hand: the boxes whose numbers stood under it are typed anew, in that unit. */
  #chosenFor(chooser) {
    const before = this.#typed.get(chooser.name) ?? initial(chooser);
    const key = chooser.name.slice(0, -UNIT.length);
    this.#own.add(chooser.name);
    const now = chooser.value;
    const workedOut = (one) => this.#readings[this.#path(one)]?.from;
    const mine = (one) => this.#own.has(one.name) && !workedOut(one) && (this.#units.get(one.name) ?? before) === before;
    if (this.#numbersUnder(chooser).some(({ name }) => isCell(name))) {
      chooser.value = before;
      const retyped = this.#numbersUnder(chooser).filter((one) => one.value.trim() && mine(one));
      for (const { name } of retyped) this.#units.set(name, now);
      this.#keepCells(key, () => (chooser.value = now));
      return retyped;
    }
    const isExample = (one) => !this.#own.has(one.name) && one.closest("[data-example]");
    return this.#numbersUnder(chooser).filter((one) => one.value && !workedOut(one) && !isExample(one));
  }

  #submitted(event) {
    event.preventDefault();
    this.#askedFrom = document.activeElement;
    this.#changed();
  }

  #clicked(event) {
    const link = event.target.closest(".bench-summary a");
    if (link) {
      event.preventDefault();
      const control = document.getElementById(link.hash.slice(1));
      control?.closest("details")?.setAttribute("open", "");
      control?.focus();
    }
    if (event.target.closest(".bench-decide")) this.#decide();
    if (event.target.closest(".bench-share"))
      share(this, this.getAttribute("prefix"), this.#mine.map(({ name, value, dataset }) => ({ name, text: value, unit: dataset.unit && this.#unitOf(name) })));
    if (event.target.closest("button[type=reset]")) {
      event.preventDefault();
      if (this.#aside) this.#backToMine();
      else if (this.#own.size) this.#showExample();
    }
  }

  /** What was said of the job sheet holds until something changes. */
  #unrefuse() {
    const said = this.querySelector(".bench-status").textContent;
    if (!this.#wrong && said.startsWith("Not on the job sheet")) this.#status(this.#standing());
  }

  /** Put the answer on the job sheet, with the readings that it rests on. */
  async #decide() {
    await this.#begun;
    await this.#cardTaken; // else the figures of the card that the page was built with go onto the sheet
    if (!this.#own.size && !this.#wholeFromCard) return this.#status("These are the example’s numbers: type your own before you put them on the job sheet.");
    const borrowed = this.#borrowed.length;
    if (borrowed) return this.#status(`Not on the job sheet: ${entries(borrowed)} still the example’s. Type your own, or empty them.`);
    if (this.#behind) return this.#status(`Not on the job sheet: ${this.#behind} has no answer to its entries as they are now. Put it right first.`);
    for (const control of this.querySelectorAll("[data-today]")) this.#changed(control); // a preset day is the reader's by now
    const { readings } = await theJob();
    const paths = this.#mine.map((control) => this.#path(control)).filter((path) => path in readings);
    const { calculator, card, typed } = this.#question();
    const { decision, checks } = await ask({ want: "decision", calculator, card, typed, paths, readings });
    if (!decision) return this.#status("There is no answer yet to put on the job sheet.");
    await add("decisions", { about: "", ...decision }, this);
    await put("checks", checks, this);
    this.#status(whyNotKept() || `This answer is on the job sheet${checks.length ? ", and its dates are among the next checks" : ""}.`);
  }

  /** Show the worked example, to be looked at; the readings come back with the same button. */
  #showExample() {
    this.#layAside(true);
    for (const of of [this.#own, this.#lent, this.#typed, this.#units]) of.clear();
    for (const control of this.#controls) control.value = initial(control);
    this.#gather();
    this.#sendChanged();
  }

  async #backToMine() {
    this.#layAside(false);
    await this.#restore();
    this.#gather();
    this.#sendChanged(); // also where the readings are the example's, letter for letter
  }

  #layAside(aside) {
    this.#aside = aside;
    for (const control of this.#controls) control[control instanceof HTMLSelectElement ? "disabled" : "readOnly"] = aside;
  }

  /** A fold that came without what is in it is asked for when it is opened. */
  #unfolded(fold) {
    if (fold.dataset?.fold && fold.open && fold.childElementCount === 1 && !fold.classList.contains("bench-shut")) this.#send();
  }

  /** What the form asks, as Python takes it. */
  #question() {
    this.#gather();
    const rows = [...this.querySelectorAll("[data-rows]")];
    return {
      calculator: this.getAttribute("name"),
      card: this.#card,
      prefix: this.getAttribute("prefix"),
      typed: Object.fromEntries(this.#typed),
      rows: Object.fromEntries(rows.map((table) => [table.dataset.rows, table.children.length])),
      opened: [...this.querySelectorAll("[data-fold][open]")].map((fold) => fold.dataset.fold),
    };
  }

  /** What stands as the answer is of other entries: it goes now where its successor can be long in coming. */
  #sendChanged() {
    if (!isUp()) this.#blank();
    this.#send();
  }

  /** What stands here is the answer to what stands in the form, from the card of the job. */
  #cardKnown() {
    this.classList.remove("bench-waiting");
    this.#markBorrowed();
  }

  async #send() {
    if (this.#asked) {
      this.#again = true; // the answer on its way is overtaken; the newest question follows it
      return;
    }
    this.#asked = true;
    if (!isUp()) this.#status("Starting the calculator. Type on: your readings are answered when it is up.");
    try {
      const answer = await ask(this.#question());
      if (!this.#again && this.isConnected) this.#show(answer);
    } catch (error) {
      console.warn(error);
      this.#askedFrom = null;
      this.#blank();
      if (!this.#cardless) this.classList.remove("bench-waiting");
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
    showRows(this, answer.rows);
    showUnderstood(this, answer.understood);
    if (!answer.errors.length || this.#askedFrom) this.#showWords(answer);
    else {
      this.#blank();
      this.#status("");
      this.#errorTimer = setTimeout(() => this.#showWords(answer), ERRORS_WAIT);
    }
    if (!answer.errors.length) this.#keep(this.#own.size ? answer.kept : {});
  }

  /** What this calculator worked out is a reading for the others; from the example's entries it is only lent to them. */
  #keep(kept) {
    const from = this.#isTask ? this.#place : this.getAttribute("name");
    const made = Object.fromEntries(Object.entries(kept).map(([path, reading]) => [path, { ...reading, from }]));
    if (this.#own.size && !this.#borrowed.length) keepWorkedOut(from, made, this.#anew, this);
    else lend(from, made, this);
    this.#anew = false;
  }

  #showWords(answer) {
    this.classList.remove("bench-waiting");
    showErrors(this, answer);
    if (answer.answer) showAnswer(this, answer.answer, this.#place);
    if (this.#aside) for (const box of this.querySelectorAll("[data-step], .bench-untick, .bench-follow-start")) box.disabled = true;
    this.classList.toggle("bench-blank", !answer.answer);
    this.querySelector(".bench-lead").textContent = written(answer.lead);
    if (answer.errors.length || this.#wrong || isBehind()) renew(); // what rests on this one says so, or no longer does
    this.#wrong = answer.errors.length > 0;
    const summary = this.querySelector(".bench-summary");
    const standing = this.#standing();
    this.#status(answer.errors.length ? `${summary.querySelector("p").textContent}.` : standing);
    const waits = this.#askedFrom && [this.#askedFrom, document.body].includes(document.activeElement); // has not gone on meanwhile
    if (waits) (answer.errors.length ? summary : this.querySelector(".bench-lead")).focus();
    this.#askedFrom = null;
  }

  /** Whose numbers the answer rests on, and mark those that are still the example's. */
  #standing() {
    const reset = this.querySelector("button[type=reset]");
    reset.textContent = this.#aside ? "Back to my readings" : "Show the example";
    this.classList.toggle("bench-mine", this.#own.size > 0);
    const borrowed = this.#markBorrowed();
    if (whyNotKept()) return whyNotKept();
    if (!this.#own.size && this.#wholeFromCard) return "Worked out from the card of this job.";
    if (!this.#own.size) return this.#aside ? `${this.#example} To type, go back to your readings.` : this.#example;
    const whose = borrowed.size
      ? `Worked out from your readings and the example’s: ${entries(borrowed.size)} still the example’s.`
      : "Worked out from your readings.";
    const stuck = this.#behind;
    return stuck ? `${whose} ${stuck} has no answer to its entries as they are now: what rests on it here is from before.` : whose;
  }

  #markBorrowed() {
    const borrowed = new Set(this.#borrowed);
    for (const field of this.querySelectorAll("[data-field]")) field.classList.toggle("bench-borrowed", borrowed.has(field));
    return borrowed;
  }

  /** The title of the calculator with no answer to its entries, on which something here rests. */
  get #behind() {
    return this.#controls.map((control) => stuckAt(this.#readings[this.#path(control)]?.from)).find(Boolean);
  }

  /** The fields with an example's entry beside the reader's own, or with what was worked out from one. */
  get #borrowed() {
    const isBorrowed = (field) => {
      const { name } = field.querySelector("[name]");
      return this.#lent.has(name) || ("example" in field.dataset && !this.#own.has(name));
    };
    if (!this.#own.size && !this.#filled?.data) return [];
    return [...this.querySelectorAll("[data-field]")].filter((field) => !field.closest("[hidden]") && isBorrowed(field));
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

const UNIT = ".unit"; // behind the name of a box or a column: where its unit is chosen
const isUnit = ({ name }) => name.endsWith(UNIT);
const isCell = (name) => /\.\d+$/.test(name);
const columnOf = (name) => name.replace(/\.\d+$/, "");

/** @returns {string} what the reader calls a box: of a table's with its row */
function labelOf(control) {
  const label = control.labels?.[0]?.firstChild.textContent.trim() ?? control.name;
  const row = control.closest("[data-row]")?.getAttribute("aria-label");
  return row ? `${label} of ${row}` : label;
}

const entries = (count) => (count === 1 ? "one marked entry is" : `${count} marked entries are`);

/** What a control held when the page was built. */
function initial(control) {
  if (!(control instanceof HTMLSelectElement)) return control.defaultValue;
  return ([...control.options].find((option) => option.defaultSelected) ?? control.options[0]).value;
}

customElements.define("bench-calculator", BenchCalculator);
