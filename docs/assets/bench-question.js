/**
 * <bench-question name card data-place data-state>: one question, its answer, and its entries folded to a line.
 *
 * In a room it can be folded to its headline, and costs no more Python than that; in a step its form is a sheet.
 *
 * The build fills the element with the worked example. Here, what is typed goes into the job, and the
 * desk asks Python for all questions of the page at once; all HTML comes from Python's one renderer.
 */
import { askAll, join, leave, standing } from "./desk.js";
import { LiveElement, find, findAll } from "./elements.js";
import { follow } from "./in-sight.js";
import { add, keepReadings, put, remove, theJob, whyNotKept } from "./job.js";
import { inReadersWay, written } from "./locale.js";
import { ask } from "./python.js";
import { closeSheet, forget, isOpen, openSheet } from "./sheet.js";
import { listenForTicks, showTicks } from "./walk.js";

const STOPPED = "This question has stopped. Your readings are kept.";
const ERRORS_WAIT = 600; // ms after the last key, so that half a number is not scolded
/** @type {Promise<typeof import("./keep-on-card.js")> | undefined} fetched once there is something to offer to a card */
let keeping;
/** @param {ParentNode} several */
const partsOf = (several) => findAll(several, "[data-part]", HTMLInputElement);
/** @param {Element} part */
const severalOf = (part) => /** @type {HTMLElement} */ (part.closest(".q-several"));
const PARTED = "; "; // what parts the readings of several boxes in the one text that the job keeps

const ONE_OF_A_KIND = ["q-headline", "q-done", "q-change", "q-sheet-done", "q-one-by-one", "bench-follow-start", "bench-untick"];

/** What finds the same control again when the HTML around it is new. @param {any} control @returns {string} */
function placeOf(control) {
  const { step, unitOf } = control.dataset;
  const fold = control.closest("[data-fold]")?.dataset.fold;
  const walk = control.closest("[data-walk]")?.dataset.walk;
  const within = walk ? `[data-walk="${CSS.escape(walk)}"] ` : "";
  const kind = ONE_OF_A_KIND.find((name) => control.classList.contains(name));
  if (step) return `${within}[data-step="${CSS.escape(step)}"]`;
  if (unitOf) return `[data-unit-of="${CSS.escape(unitOf)}"]`;
  if (kind) return `${within}.${kind}`;
  return fold ? `[data-fold="${CSS.escape(fold)}"] > summary` : ".q-one > summary";
}

class BenchQuestion extends LiveElement {
  #errorTimer = 0;
  #whole = true; // the boxes are the build's, and not yet what the job holds
  #hasStopped = false;
  #fingerIsDown = false; // what it presses stays there
  /** @type {Answer | undefined} what came meanwhile */
  #late;
  #resumes = ""; // the walk that home leads back into
  /** @type {Set<string | undefined>} what was typed here last, and not elsewhere since, by path */
  #mine = new Set();
  /** @type {WeakMap<HTMLInputElement, string>} by box: what was typed there last */
  #heard = new WeakMap();

  /** @param {AbortSignal} signal */
  arrive(signal) {
    listenForTicks(this, () => this.name, signal);
    this.addEventListener("input", ({ target }) => this.#typed(target), { signal });
    this.addEventListener("change", ({ target }) => (this.#closeUp(target), this.#typed(target, true)), { signal });
    this.addEventListener("submit", (event) => (event.preventDefault(), this.#toAnswer()), { signal });
    this.addEventListener("keydown", (event) => this.#pressed(event), { signal });
    this.addEventListener("click", ({ target }) => this.#clicked(target), { signal });
    this.#fingerIsDown = false; // it may have been moved while one was down
    this.addEventListener("pointerdown", () => (this.#fingerIsDown = true), { signal });
    for (const sign of ["pointerup", "pointercancel"]) addEventListener(sign, () => this.#fingerIsDown && setTimeout(() => this.#released()), { signal });
    this.addEventListener("toggle", ({ target }) => this.#unfolded(target), { signal, capture: true });
    addEventListener("hashchange", () => this.#openIfWanted(), { signal });
    addEventListener("bench-job", ({ detail }) => detail.here !== this && this.#takeOver(detail.paths), { signal });
    addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && this.stopped(), { signal });
    this.querySelector(".bench-not-running")?.remove();
    inReadersWay(this);
    this.#whole = true;
    this.#openIfWanted();
    showTicks(this, this.name); // also where nothing is typed, and nothing asked
    join(this);
  }

  go() {
    clearTimeout(this.#errorTimer);
    forget(this);
    leave(this);
  }

  get name() {
    return this.getAttribute("name") ?? "";
  }

  get #form() {
    return find(this, ".q-form");
  }

  /** @returns {HTMLDetailsElement | null} what folds it in its room */
  get #one() {
    return this.querySelector(".q-one");
  }

  /** @returns {HTMLDialogElement | null} the sheet that its form is in a step */
  get #sheet() {
    return this.querySelector(".q-sheet");
  }

  /** What was typed in another box or tab for an entry of this question is to stand in its box too. @param {string[] | null} paths */
  #takeOver(paths) {
    if (!paths) this.#mine.clear();
    else if (paths.some((path) => this.querySelector(`[data-path="${CSS.escape(path)}"]`))) paths.forEach((path) => this.#mine.delete(path));
    else return;
    this.#whole = true;
  }

  /** What the desk is to ask for. */
  wanted() {
    const tables = [...this.querySelectorAll("[data-rows]")];
    return {
      name: this.name,
      place: this.dataset.place,
      folded: this.#one?.open === false,
      whole: this.#whole,
      opened: [...this.querySelectorAll("[data-fold][open]")].map((fold) => fold.dataset.fold ?? ""),
      rows: Object.fromEntries(tables.map((table) => [table.dataset.rows, table.children.length])),
    };
  }

  #released() {
    this.#fingerIsDown = false;
    if (this.#late) this.show(this.#late);
  }

  /** Put Python's answer in place, not under a finger that presses; no box is touched while someone types in it. @param {Answer} said */
  show(said) {
    this.#late = this.#fingerIsDown ? said : undefined;
    if (!this.#fingerIsDown) this.#show(said);
  }

  /** @param {Answer} said */
  #show({ html, state, headline, whose, line, deed, answer, folds, boxes, refines, rows, offers = {} }) {
    clearTimeout(this.#errorTimer);
    this.#hasStopped = false;
    this.dataset.state = state;
    const folded = answer === undefined;
    this.toggleAttribute("data-behind", folded); // what is folded is no answer to what was typed, until it is asked for
    if (folded) {
      this.#glance(headline, whose, line);
      this.#status("Working it out");
      return inReadersWay(this);
    }
    if (html !== undefined) {
      this.#whole = false;
      const held = this.contains(document.activeElement) ? document.activeElement : null;
      const open = !this.#form.hidden;
      const sheet = isOpen(this.#sheet);
      const typed = /** @type {Control[]} */ ([...this.querySelectorAll("[data-path]")]).filter(({ dataset }) => this.#mine.has(dataset.path));
      const units = findAll(this, "[data-unit-of][data-chosen]", HTMLSelectElement);
      this.#fill(this, html);
      for (const unit of units) this.#chooseAgain(unit);
      for (const control of typed) this.#putBack(control);
      if (this.#one) this.#one.open = true;
      if (sheet && this.#sheet) openSheet(this.#sheet, () => this.querySelector(".q-change"));
      else if (open && this.#one) this.#open(true);
      if (held?.id) this.#goOn(held);
      else if (held) this.#holdOn(held);
    } else {
      this.#replace(".q-answer", answer);
      this.#replace(".q-folds", folds);
      find(this, ".q-line .q-holds").textContent = line;
      find(this, ".q-change").textContent = deed;
      this.#glance(headline, whose, line);
      for (const fold of this.querySelectorAll("[data-refines]")) {
        const holds = fold.querySelector(".q-holds");
        if (holds) holds.textContent = refines[fold.dataset.refines ?? ""] ?? "";
      }
      for (const [key, { count, more }] of Object.entries(rows)) {
        const table = find(this, `[data-rows="${key}"]`);
        table.insertAdjacentHTML("beforeend", more);
        findAll(table, ":scope > *", HTMLElement).forEach((row, index) => (row.hidden = index >= count));
      }
      const say = () => this.#say(boxes, true);
      this.#say(boxes, false);
      if (Object.values(boxes).some(({ error }) => error)) this.#errorTimer = setTimeout(say, ERRORS_WAIT);
    }
    inReadersWay(this);
    showTicks(this, this.name);
    this.#showDone();
    follow();
    if (whyNotKept()) this.#status(whyNotKept());
    const resumed = this.#resumes && this.querySelector(`[data-walk="${CSS.escape(this.#resumes)}"] .bench-follow-start`);
    this.#resumes = "";
    if (resumed instanceof HTMLElement) showTicks(this, this.name).then(() => resumed.click());
    if (keeping || Object.keys(offers).length) (keeping ??= import("./keep-on-card.js")).then(({ offer }) => offer(this, offers));
    this.dispatchEvent(new CustomEvent("bench-answered", { detail: boxes }));
  }

  /** A unit that a person chose stays chosen, as long as no reading with another is kept. @param {HTMLSelectElement} before */
  #chooseAgain({ value, dataset: { unitOf: key } }) {
    const boxes = findAll(this, `[name="${key}"], [name^="${key}."]`, HTMLInputElement);
    if (boxes.some((box) => box.value && !this.#mine.has(box.dataset.path))) return;
    for (const unit of findAll(this, `[data-unit-of="${key}"]`, HTMLSelectElement)) {
      unit.value = value;
      unit.dataset.chosen = "";
    }
  }

  /** What was typed here since Python was asked does not stand in its boxes. @param {Control} before */
  #putBack({ name, value }) {
    const control = /** @type {Control | null} */ (this.querySelector(`[name="${CSS.escape(name)}"][data-path]`));
    if (!control || control.value === value) return;
    control.value = value;
    const several = control.parentElement?.closest(".q-several");
    if (!(several instanceof HTMLElement)) return;
    const texts = value.split(PARTED);
    while (partsOf(several).length < Math.min(texts.length, Number(several.dataset.most))) this.#anotherPart(several);
    partsOf(several).forEach((part, at) => (part.value = texts[at] ?? ""));
    this.#joined(partsOf(several)[0]);
  }

  /** Whoever was typing in a box that was replaced goes on in the new one. @param {any} before */
  #goOn(before) {
    const [, series, number] = before.matches("[data-part]") ? (before.id.match(/^(.+)-(\d+)$/) ?? []) : [];
    const several = document.getElementById(series ?? "")?.closest(".q-several");
    for (let at = 1; several && at < Number(number); at += 1)
      if (!document.getElementById(before.id)) this.#anotherPart(several); // it was opened since Python was asked
    const box = document.getElementById(before.id);
    box?.focus({ preventScroll: true });
    if (!(box instanceof HTMLInputElement)) return;
    const carrier = box.matches("[data-part]") ? find(severalOf(box), "[data-path]") : box;
    const isMine = this.#mine.has(carrier.dataset.path);
    if (isMine) box.value = before.value;
    if (box.value === before.value) box.setSelectionRange(before.selectionStart, before.selectionEnd);
    else box.select(); // what the job holds came into an empty box under the hand: what is typed now is typed over it
    if (isMine && box.matches("[data-part]")) this.#joined(box);
  }

  /**
   * What is seen of it at a glance: folded in its room, and at the top of its sheet.
   * @param {string} headline
   * @param {string} whose
   * @param {string} line
   */
  #glance(headline, whose, line) {
    const words = { ".q-glance-headline": headline, ".q-glance-whose": whose, ".q-glance-line": line };
    for (const [part, text] of Object.entries(words)) {
      const shown = this.querySelector(part);
      if (shown && shown.textContent !== text) shown.textContent = text;
    }
  }

  /** A link to it opens it. */
  #openIfWanted() {
    const [at, walk] = location.hash.split("/");
    if (walk && at === `#${this.id}`) {
      this.#resumes = walk;
      history.replaceState(history.state, "", at); // once: a reload shows the page
      this.scrollIntoView({ block: "start" });
    }
    if (!this.#one || location.hash !== `#${this.id}`) return;
    this.#one.open = true;
    requestAnimationFrame(() => this.scrollIntoView({ block: "start" }));
  }

  #toAnswer() {
    const land = () => {
      find(this, ".q-headline").focus({ preventScroll: true });
      find(this, ".q-headline").scrollIntoView({ block: "center" });
    };
    if (isOpen(this.#sheet)) closeSheet(land);
    else land();
  }

  stopped() {
    this.#hasStopped = true;
    this.#glance("", STOPPED, "");
    this.#status(STOPPED);
  }

  /** A fold that was opened or shut since Python was asked stays so; one that has something wrong in it is open. @param {HTMLElement} shown @param {string} html */
  #fill(shown, html) {
    const folds = () => findAll(shown, "[data-fold], [data-refines]", HTMLDetailsElement);
    /** @param {HTMLElement} fold */
    const nameOf = ({ dataset }) => dataset.fold ?? dataset.refines;
    const before = new Map(folds().map((fold) => [nameOf(fold), fold.open]));
    shown.innerHTML = html;
    for (const fold of folds()) {
      const was = before.get(nameOf(fold)) ?? fold.open;
      fold.open = fold.dataset.fold ? was : was || fold.open;
    }
  }

  /** A part that is replaced keeps the focus on the same control. @param {string} part @param {string} html */
  #replace(part, html) {
    const shown = find(this, part);
    const held = shown.contains(document.activeElement) ? document.activeElement : null;
    this.#fill(shown, html);
    if (held) this.#holdOn(held);
  }

  /** The focus stays on the control that stands where another stood. @param {Element} before */
  #holdOn(before) {
    const control = this.querySelector(placeOf(before));
    if (control instanceof HTMLElement) control.focus({ preventScroll: true });
  }

  /**
   * Say beside each box what is wrong (once typing rests), what was understood, and whose it is.
   * @param {Answer["boxes"]} boxes
   * @param {boolean} wrongs
   */
  #say(boxes, wrongs) {
    for (const [key, { error, read, whose, hint, missing, unit }] of Object.entries(boxes)) {
      const box = this.querySelector(`[data-box="${key}"]`);
      if (!box) continue;
      const control = /** @type {Control} */ (find(box, "[data-path]"));
      const parts = [...box.querySelectorAll("[data-part]")];
      const shown = find(box, ".q-error");
      if (wrongs || !error) {
        if (shown.textContent !== written(error)) shown.textContent = written(error);
        for (const marked of parts.length ? parts : [control]) marked.setAttribute("aria-invalid", String(Boolean(error)));
      }
      if (missing || (wrongs && error)) box.closest("[data-refines]:not([open])")?.setAttribute("open", "");
      find(box, ".q-read").textContent = read;
      find(box, ".q-from").textContent = whose;
      if (parts.length) this.#greyed(control.parentElement, hint);
      else if (control instanceof HTMLInputElement) control.placeholder = hint;
      const [beside] = findAll(box, "[data-unit-of]:not([data-chosen])", HTMLSelectElement);
      if (unit && beside && !control.value) beside.value = unit;
      else if (control instanceof HTMLSelectElement) control.options[0].textContent = hint || "choose";
    }
  }

  /** What stands greyed in each box of several readings. @param {ParentNode | null} several @param {string} hint */
  #greyed(several, hint) {
    const hints = hint ? hint.split(PARTED) : [];
    if (several) partsOf(several).forEach((part, at) => (part.placeholder = hints[at] ?? ""));
  }

  /** Open one more box of several readings, as long as it may have more. @param {HTMLElement} several */
  #anotherPart(several) {
    const parts = partsOf(several);
    if (parts.length >= Number(several.dataset.most)) return;
    const more = /** @type {HTMLInputElement} */ (parts[0].cloneNode());
    more.id = `${parts[0].id}-${parts.length + 1}`;
    more.value = "";
    more.placeholder = "";
    more.setAttribute("aria-label", (parts[0].getAttribute("aria-label") ?? "").replace(/\d+$/, String(parts.length + 1)));
    several.append(more);
  }

  /** A box of several readings that was emptied is filled by the next, as the job will have it. @param {any} part */
  #closeUp(part) {
    if (!part.matches("[data-part]")) return;
    const parts = partsOf(severalOf(part));
    const typed = parts.map(({ value }) => value.trim()).filter(Boolean);
    parts.forEach((one, at) => (one.value = typed[at] ?? ""));
  }

  /** The readings of several boxes are one text; the last box that is filled opens another. @param {Element} part */
  #joined(part) {
    const several = severalOf(part);
    const parts = partsOf(several);
    const carrier = find(several, "[data-path]", HTMLInputElement);
    carrier.value = parts.map(({ value }) => value.trim()).filter(Boolean).join(PARTED);
    if (parts.at(-1)?.value.trim()) this.#anotherPart(several);
    return carrier;
  }

  /** @param {string} words */
  #status(words) {
    const status = find(this, ".q-whose");
    if (status.textContent !== words) status.textContent = words;
  }

  /** A number and the unit beside it are one reading. @param {any} target @param {boolean} [isLeft] @returns {void} */
  #typed(target, isLeft) {
    if (target.matches("[data-part]")) return this.#typed(this.#joined(target), isLeft);
    // a box that is left, or taken away, says once more what was typed there: it may be out of the job by now
    if (isLeft && this.#heard.get(target) === target.value) return void dispatchEvent(new Event("bench-kept"));
    if (target instanceof HTMLInputElement) this.#heard.set(target, target.value);
    const key = target.dataset.unitOf;
    if (key) target.dataset.chosen = ""; // by a person, also while the box is empty
    for (const beside of findAll(this, `[data-follows="${key}"]:not([data-chosen])`, HTMLSelectElement)) // as Python will say
      if (!beside.closest(".q-in")?.querySelector("input")?.value) beside.value = target.value;
    const whole = () => /** @type {Control[]} */ ([...this.querySelectorAll(`[name="${key}"], [name^="${key}."]`)]);
    const controls = key ? whole() : target.dataset.path ? [target] : [];
    const typed = controls.filter((control) => !key || control.value.trim());
    if (!typed.length) return;
    const readings = typed.map((control) => {
      const [unit] = findAll(this, `[data-unit-of="${control.name.replace(/\.\d+$/, "")}"]`, HTMLSelectElement);
      const called = control.dataset.called ?? control.getAttribute("aria-label") ?? control.labels?.[0]?.textContent.trim();
      const reading = { text: control.value, unit: unit?.value, kind: control.dataset.instrument, called };
      return [control.dataset.path, control.value.trim() ? reading : undefined];
    });
    for (const control of typed) this.#mine.add(control.dataset.path);
    keepReadings(Object.fromEntries(readings), this);
  }

  /**
   * Enter, also of a gauge that types like a keyboard, goes to the next empty box, and from the last to the answer.
   * @param {any} event
   */
  #pressed(event) {
    if (event.key !== "Enter" || !event.target.matches("[data-path], [data-part]")) return;
    event.preventDefault();
    const boxes = this.#boxes("input");
    const next = boxes.slice(boxes.indexOf(event.target) + 1).find((box) => !box.value.trim());
    if (next) next.focus();
    else this.#toAnswer();
  }

  /** @returns {Control[]} the boxes in sight, in their order */
  #boxes(kind = "input, select") {
    const all = /** @type {Control[]} */ ([...this.#form.querySelectorAll(`:is(${kind}):is([data-path], [data-part]):not([type="hidden"])`)]);
    return all.filter((box) => !box.closest("[data-refines]:not([open]), [hidden]"));
  }

  /** The answer goes onto the job sheet once; then the button takes it off again. */
  async #done() {
    const there = await this.#decision();
    if (there) await remove("decisions", there.id, null);
    else {
      const { decision, checks } = await ask({ want: "done-with", name: this.name, ...(await standing()) });
      if (!decision) return this.#status("This answer is not yours yet: it cannot go onto the job sheet.");
      await add("decisions", { about: "", ...decision }, null);
      await put("checks", checks, null);
    }
    this.#showDone();
  }

  /** @returns {Promise<Entry | undefined>} the decision of the job that says what this answer says */
  async #decision() {
    const says = this.querySelector(".q-says")?.textContent.replaceAll("\u00a0", " ").trim();
    const { decisions } = await theJob();
    return decisions.findLast(({ calculator, lead }) => calculator === this.name && written(lead) === says);
  }

  async #showDone() {
    const button = this.querySelector(".q-done");
    if (!button) return;
    const there = await this.#decision();
    button.textContent = there ? "✓ On the job sheet · Undo" : "Done with it: onto the job sheet";
    button.setAttribute("aria-pressed", String(Boolean(there)));
  }

  /** @param {any} target */
  #clicked(target) {
    if (target.closest(".q-done")) this.#done();
    if (target.closest(".q-sheet-done")) closeSheet();
    if (target.closest(".q-one-by-one")) import("./read-one-by-one.js").then(({ readOneByOne }) => readOneByOne(this, () => this.#whole && !this.#hasStopped));
    if (!target.closest(".q-change")) return;
    if (!this.#sheet) this.#open(Boolean(this.#form.hidden));
    else if (isOpen(this.#sheet)) closeSheet();
    else this.#asSheet();
  }

  /** @param {boolean} on */
  #open(on) {
    this.#form.hidden = !on;
    find(this, ".q-change").setAttribute("aria-expanded", String(on));
  }

  /** The form over the page, its first box that is wrong or empty under the finger. */
  #asSheet() {
    if (this.#sheet) openSheet(this.#sheet, () => this.querySelector(".q-change"));
    const boxes = this.#boxes();
    const wrong = boxes.find((box) => box.getAttribute("aria-invalid") === "true");
    (wrong ?? boxes.find((box) => !box.value.trim()) ?? boxes[0])?.focus();
  }

  /** What came without what is in it is asked for when it is opened. @param {any} fold */
  #unfolded(fold) {
    if (fold === this.#one && fold.open) askAll();
    if (fold.dataset?.fold && fold.open && fold.childElementCount === 1) askAll();
  }
}

customElements.define("bench-question", BenchQuestion);
