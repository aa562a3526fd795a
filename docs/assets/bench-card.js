/**
 * <bench-card>: the engine card of the job in hand, chosen, copied, changed, and taken in or out as a file.
 *
 * What stands in the form and what is wrong with it is worked out by Python. What is typed is a draft,
 * kept at each change, until it is a card without a mistake.
 */
import { LiveElement, button, find, findAll, make } from "./elements.js";
import { allJobs, chooseCard, keeps, theJob } from "./job.js";
import { inReadersWay, written, writtenTime } from "./locale.js";
import { listenForPlacing } from "./placing.js";
import { ask } from "./python.js";
import cards from "./cards.js";
import { download, fileName } from "./files.js";
import release from "./release.js";

const DRAFT = "bench-card-draft"; // one a browser, whichever job is in hand
const BEGUN_AS = "bench-card-draft-of"; // the job and its card that the draft is a copy of, and what that said when they last met
const LARGEST = 300_000; // bytes of a card's file; one with every fact has a tenth
const PAUSE = 250; // ms after the last key before the card is read
const SKELETON = `
<p class="bench-status" role="status"></p>
<div class="bench-fields">
<div class="bench-field"><label for="bench-card-chosen">Engine card of this job</label><select id="bench-card-chosen"></select></div>
</div>
<div class="bench-buttons">
<button type="button" data-do="copy">Change a copy of it</button>
<button type="button" data-do="exportCard">Export it as a file</button>
<label class="bench-file">Import a file<input type="file" class="bench-aloud" accept=".yml,.json,application/json"></label>
</div>
<div class="bench-card-about"></div>
<div class="bench-card-draft" hidden>
<h2 id="the-draft">The draft</h2>
<p class="bench-hint bench-card-kept"></p>
<form class="bench-card-form" novalidate autocomplete="off" aria-labelledby="the-draft"></form>
<div class="bench-summary" role="group" tabindex="-1" aria-label="What to correct" hidden></div>
<div class="bench-card-missing"></div>
<div class="bench-buttons">
<button type="button" data-do="keep">Keep it as this job’s card</button>
<button type="button" data-do="exportDraft">Export the draft as a file</button>
<button type="button" data-do="giveUp">Give the draft up</button>
</div>
</div>`;

class BenchCard extends LiveElement {
  #job = /** @type {Job} */ ({});
  #choices = new Map(); // by the option's value: what chooseCard takes
  #wait = 0; // the timer of a reading yet to come; 0 once nothing was typed since the last
  #asked = 0; // the newest reading of the draft; an older one gives its answer
  /** @type {Promise<Said> | undefined} */
  #newest;
  #drawn = new WeakMap(); // by section: the HTML of its drawing
  #given = new Map(); // by the name of a source's box: the source, and the figures that it was given for

  /** @type {DocumentFragment | undefined} the fold in which a card is begun, as the page was built with it */
  #begin;

  /** @param {AbortSignal} signal */
  arrive(signal) {
    this.#begin ??= find(this, "template", HTMLTemplateElement).content;
    this.innerHTML = SKELETON;
    find(this, ".bench-card-about").before(this.#begin.cloneNode(true));
    addEventListener(
      "bench-job",
      ({ detail }) => detail.here !== this && (!detail.paths || detail.paths.includes("card")) && this.#show(),
      { signal },
    );
    addEventListener("storage", ({ key }) => key === DRAFT && this.#show(), { signal });
    this.addEventListener("input", (event) => this.#typed(event.target), { signal });
    this.addEventListener("change", (event) => this.#chosen(event.target), { signal });
    this.addEventListener("submit", (event) => event.preventDefault(), { signal });
    this.addEventListener("click", (event) => this.#clicked(event), { signal });
    listenForPlacing(this, signal);
    this.#show();
  }

  go() {
    clearTimeout(this.#wait);
  }

  get #form() {
    return find(this, "form", HTMLFormElement);
  }

  get #boxes() {
    return /** @type {Control[]} */ ([...this.#form.elements]);
  }

  /** @returns {Control | undefined} @param {string} name */
  #box(name) {
    return /** @type {Control | undefined} */ (this.#form.elements.namedItem(name) ?? undefined);
  }

  get #texts() {
    const boxes = this.#boxes.filter(({ name, value }) => name && value.trim());
    return Object.fromEntries(boxes.map(({ name, value }) => [name, value]));
  }

  /** @param {string} words */
  #say(words) {
    find(this, ".bench-status").textContent = words;
  }

  get #card() {
    return this.#job.card ?? release.card;
  }

  async #show() {
    this.#job = await theJob();
    await this.#showChoices();
    try {
      const { html } = await ask({ want: "card-missing", card: this.#card });
      if (!this.isConnected) return;
      find(this, ".bench-card-about").innerHTML = html;
      const draft = stored();
      if (draft) {
        // boxes that hold the draft already may be typed in at this moment
        if (!this.#form.elements.length || !same(draft, this.#texts)) await this.#fill({ want: "card-form", card: null, texts: draft });
        find(this, ".bench-card-draft").hidden = false;
        await this.#meet();
        await this.#read();
      } else find(this, ".bench-card-draft").hidden = true;
    } catch (error) {
      console.warn(error);
      this.#say("The card cannot be shown. What you typed is kept.");
    }
  }

  /** What the card has got since the draft was begun comes into it; what both have changed, the reader chooses. @returns {Promise<void>} */
  async #meet() {
    this.#job = await theJob();
    const { id, card } = this.#job;
    const of = begunAs();
    const draft = this.#texts;
    const isOfIt = card?.data && of.job === id && of.name === card.name;
    const { taken = {}, called = [], both = [], begun_as: met } = isOfIt ? await ask({ want: "card-draft", card, draft, begun_as: of.texts }) : {};
    if (!this.isConnected) return;
    if (!same(draft, this.#texts)) return this.#meet(); // it was typed in meanwhile
    if (called.length) {
      this.#put(taken);
      await this.#keepDraft();
      this.#say(`The card was changed meanwhile. The draft has from it now: ${called.join(", ")}.`);
    }
    if (met) keep(BEGUN_AS, { ...of, texts: met });
    for (const shown of findAll(this.#form, ".bench-both", HTMLElement)) shown.remove();
    for (const one of both) this.#letChoose(one);
  }

  /** @param {{field: string, called: string, says: string, take: string, texts: Object<string, string>}} both */
  #letChoose({ field, called, says, take, texts: theirs }) {
    const choose = async (/** @type {boolean} */ isTheirs) => {
      if (isTheirs) this.#put(theirs);
      const of = begunAs();
      keep(BEGUN_AS, { ...of, texts: { ...of.texts, ...theirs } });
      await this.#keepDraft();
      (this.#box(field) ?? place).focus();
      await this.#meet();
      await this.#read();
    };
    const place = find(this.#form, `[data-field="${CSS.escape(field)}"]`);
    const deeds = make("div", { className: "bench-buttons" }, button(take, () => choose(true)), button("Leave what stands here", () => choose(false)));
    const shown = make("div", { className: "bench-both", role: "group", ariaLabel: called }, make("p", {}, says), deeds);
    inReadersWay(shown);
    place.closest("details")?.setAttribute("open", "");
    place.append(shown);
  }

  /** @param {Object<string, string>} texts by box */
  #put(texts) {
    const boxes = Object.entries(texts).map(([name, text]) => Object.assign(/** @type {Control} */ (this.#box(name)), { value: text }));
    for (const source of boxes.map((box) => this.#sourceOf(box))) if (source?.value) this.#noteSource(source);
  }

  async #showChoices() {
    const { card, id, cards_aside: aside = [] } = this.#job;
    this.#choices.clear();
    const select = find(this, "select", HTMLSelectElement);
    const option = (/** @type {string} */ value, /** @type {string} */ words, /** @type {Card} */ choice, /** @type {boolean} */ chosen) => {
      this.#choices.set(value, choice);
      return new Option(words, value, chosen, chosen);
    };
    const name = card?.name ?? release.card;
    const options = Object.entries(cards).map(([key, data]) =>
      option(key, data.name, { name: key }, !card?.data && key === name),
    );
    for (const { id: other, card: own, about } of await allJobs())
      if (own?.data)
        options.push(
          other === id
            ? option("own", `${own.data.name} (this job’s own)`, { name: own.name, data: own.data }, true)
            : option(`job ${other}`, `${own.data.name} (of ${about.name || about.vehicle || "another job"})`, { name: own.name, data: own.data }, false),
        );
    for (const [index, { name: own, data, when }] of aside.entries())
      options.push(option(`aside ${index}`, `${data?.name} (this job’s own${when ? ` of ${writtenTime(when)}` : ""}, laid aside)`, { name: own, data }, false));
    select.replaceChildren(...options);
  }

  /** Put a form in place. @param {Asked} question */
  async #fill(question) {
    const { html, texts, lost } = await ask(question);
    if (!this.isConnected) return { texts, lost };
    const focused = this.#form.contains(document.activeElement) && document.activeElement?.id;
    const open = [...this.#form.querySelectorAll("[data-section][open]")].map(({ dataset }) => dataset.section);
    this.#form.innerHTML = html;
    inReadersWay(this.#form);
    for (const section of open) this.#section(section ?? "")?.setAttribute("open", "");
    this.#given.clear();
    for (const source of findAll(this.#form, '[name$="source"]', HTMLInputElement)) this.#noteSource(source);
    if (focused) document.getElementById(focused)?.focus();
    find(this, ".bench-card-draft").hidden = false;
    return { texts, lost };
  }

  /** @param {string} path */
  #section(path) {
    return this.#form.querySelector(`[data-section="${CSS.escape(path)}"]`);
  }

  /** The box that says where the figure of another one comes from: its own, or that of its section. @param {Control} control */
  #sourceOf({ name }) {
    for (let path = name; path; path = path.slice(0, Math.max(0, path.lastIndexOf("."))))
    {
      const box = this.#box(`${path}.source`);
      if (box) return box;
    }
    return undefined;
  }

  /** The figures that a source stands for, as they are typed. @param {Control} source */
  #figuresOf(source) {
    const path = source.name.replace(/\.source$/, "");
    const boxes = this.#boxes.filter(({ name }) => name === path || (name.startsWith(`${path}.`) && name !== source.name));
    return boxes.map(({ name, value }) => `${name}=${value.trim()}`).join("\n");
  }

  /** @param {Control} source */
  #noteSource(source) {
    this.#given.set(source.name, { text: source.value, figures: this.#figuresOf(source) });
  }

  /** A changed figure loses its source until one is given; typed back, it has it again. @param {Control} control */
  #followSource(control) {
    const source = this.#sourceOf(control);
    if (!source || source === control) return source && this.#noteSource(source);
    const given = this.#given.get(source.name);
    if (!given?.text) return undefined;
    const same = this.#figuresOf(source) === given.figures;
    if (same && !source.value) source.value = given.text;
    else if (!same && source.value === given.text) source.value = "";
    if (source instanceof HTMLInputElement) source.placeholder = source.value ? "" : written(`Was: ${given.text}`);
    return undefined;
  }

  /** @param {any} control */
  #typed(control) {
    if (!this.#form.contains(control)) return;
    this.#followSource(control);
    this.#keepDraft();
    clearTimeout(this.#wait);
    this.#wait = setTimeout(() => this.#read().catch((error) => (console.warn(error), this.#say("The draft cannot be checked. What you typed is kept."))), PAUSE);
  }

  async #keepDraft(texts = this.#texts) {
    let words = "Kept in this browser on this device, at each change.";
    if (!keep(DRAFT, texts)) words = "This browser did not keep the last change: its storage is full or closed. Export the draft.";
    if (!(await keeps())) words = "This browser forgets the draft when it is closed. Export it first.";
    find(this, ".bench-card-kept").textContent = words;
  }

  /** @param {Card} [card] of which the draft is a copy, with what that says */
  #begunAs(card, /** @type {Object<string, string>} */ texts = {}) {
    keep(BEGUN_AS, card?.data && { job: this.#job.id, name: card.name, texts });
  }

  /** Ask what is wrong with the draft, and show it box by box. @returns {Promise<Said>} the newest answer */
  #read() {
    clearTimeout(this.#wait);
    this.#wait = 0;
    return (this.#newest = this.#readAs(++this.#asked));
  }

  /** @param {number} mine */
  async #readAs(mine) {
    const answer = await ask({ want: "card-read", texts: this.#texts });
    if (!this.isConnected) return undefined;
    if (mine !== this.#asked) return this.#newest;
    mark(this.#form, answer.errors);
    const summary = find(this, ".bench-summary");
    summary.innerHTML = answer.summary;
    inReadersWay(summary);
    summary.hidden = !answer.errors.length;
    find(this, ".bench-card-missing").innerHTML = answer.missing;
    for (const section of this.#form.querySelectorAll("[data-section]")) {
      find(section, ".bench-filled").textContent = answer.filled[section.dataset.section ?? ""];
      for (const place of section.querySelectorAll("[data-field]"))
        place.classList.toggle("bench-borrowed", answer.inherited.includes(place.dataset.field));
      this.#draw(section, answer.figures[section.dataset.section ?? ""] ?? "");
    }
    for (const [table, count] of Object.entries(answer.rows)) {
      const rows = findAll(this.#form, `[data-rows="${CSS.escape(table)}"] > *`, HTMLElement); // none: of another card by now
      rows.forEach((row, index) => (row.hidden = index >= count));
    }
    return answer;
  }

  /**
   * Draw anew only what is another drawing, so that a button beside it keeps the focus.
   * @param {HTMLElement} section
   * @param {string} html
   */
  #draw(section, html) {
    if (this.#drawn.get(section) === html) return;
    this.#drawn.set(section, html);
    const shown = find(section, ".bench-card-figure");
    shown.innerHTML = html;
    inReadersWay(shown);
  }

  /** Read until nothing was typed since, for a deed with the whole draft. */
  async #readAll() {
    let answer;
    do answer = await this.#read();
    while (this.#wait && this.isConnected);
    return answer;
  }

  /** @param {any} control */
  async #chosen(control) {
    if (control.type === "file") return this.#receive(control);
    if (control.id !== "bench-card-chosen") return;
    const choice = this.#choices.get(control.value);
    await chooseCard(choice, this);
    await this.#show();
    this.#say("Every page now takes its figures from this card.");
  }

  /** @param {any} event */
  async #clicked(event) {
    const link = event.target.closest(".bench-summary a");
    if (link) {
      event.preventDefault();
      event.stopPropagation(); // the theme would fetch this page anew
      const control = document.getElementById(link.hash.slice(1));
      control?.closest("details")?.setAttribute("open", "");
      control?.focus();
    }
    const { do: deed, ...texts } = event.target.closest("button")?.dataset ?? {};
    if (!deed) return;
    try {
      await /** @type {any} */ (this)[`_${deed}`](texts);
    } catch (error) {
      console.warn(error);
      this.#say(`That did not work: ${error.message}`);
    }
  }

  #mayReplaceDraft() {
    return !stored() || confirm("There is already a draft. Replace it? This cannot be undone.");
  }

  async _copy() {
    if (!this.#mayReplaceDraft()) return;
    const { card } = this.#job;
    const { texts } = await this.#fill({ want: "card-form", card: this.#card });
    this.#begunAs(card, texts);
    if (!card?.data) {
      texts.name = `${texts.name ?? ""}, changed`;
      find(this.#form, "[name=name]", HTMLInputElement).value = texts.name;
    }
    await this.#keepDraft(texts);
    this.#say("The copy is a draft now. The job keeps its card until you keep the draft.");
    this.#box("name")?.focus();
    await this.#read();
  }

  /** Type the stud that Python offers into its row. @param {Object<string, string>} stud */
  async _addStud({ row, ...texts }) {
    for (const [key, text] of Object.entries(texts)) find(this.#form, `[name="${CSS.escape(`${row}.${key}`)}"]`, HTMLInputElement).value = text;
    this.#typed(find(this.#form, `[name="${CSS.escape(`${row}.name`)}"]`, HTMLInputElement));
    await this.#read();
    this.#form.querySelector(`[data-do="addStud"][data-row^="${row.replace(/\d+$/, "")}"]`)?.focus();
    this.#say(`Stud ${texts.name} is in the table, at ${texts.x}, ${texts.y}.`);
  }

  async _keep() {
    /** @type {Said} */
    let answer;
    /** @type {Card | null} */
    let card;
    do {
      await this.#meet();
      card = this.#job.card ?? null;
      const [both] = findAll(this.#form, ".bench-both button", HTMLElement);
      if (both) {
        this.#say("The draft is kept; first choose where the card says otherwise by now.");
        return both.focus();
      }
      answer = await this.#readAll();
      if (!answer) return;
      if (answer.errors.length) {
        this.#say("The draft is kept; it is not a card yet.");
        return find(this, ".bench-summary").focus();
      }
    } while (!(await chooseCard(ownCard(answer.data), this, card)));
    forget();
    await this.#show();
    this.#say("Every page now takes its figures from this card.");
    find(this, "select", HTMLSelectElement).focus();
  }

  async _begin() {
    const fold = find(this, ".bench-begin");
    const typed = findAll(fold, "[data-field]", HTMLElement).map((row) => [row.dataset.field, partsOf(row)]);
    const card = find(fold, "#bench-begin-layout", HTMLSelectElement).value;
    const { data, errors } = await ask({ want: "card-begun", card, rows: Object.fromEntries(typed) });
    mark(fold, errors);
    if (errors.length) {
      findAll(fold, "[aria-invalid=true]", HTMLElement)[0]?.focus();
      return this.#say("It is not a card yet: put right what is marked.");
    }
    await chooseCard(ownCard(data), this);
    fold.removeAttribute("open");
    await this.#show();
    this.#say("Every page now takes its figures from this card. What else a question needs, it asks for.");
    find(this, "select", HTMLSelectElement).focus();
  }

  async _giveUp() {
    if (!confirm("Give the draft up? This cannot be undone.")) return;
    forget();
    this.#form.replaceChildren();
    find(this, ".bench-card-draft").hidden = true;
    this.#say("The draft is gone. The job keeps its card.");
    find(this, "select", HTMLSelectElement).focus();
  }

  async _exportCard() {
    const { card } = this.#job;
    takeAway(card?.data ?? cards[card?.name ?? release.card]);
  }

  async _exportDraft() {
    const answer = await this.#readAll();
    if (answer) takeAway(answer.data);
  }

  /** A file from outside becomes a draft; what of it fits no box is told. @param {HTMLInputElement} control */
  async #receive(control) {
    const file = control.files?.[0];
    control.value = "";
    if (!file) return;
    try {
      if (file.size > LARGEST) throw new Error("it is larger than 300 kB.");
      const tree = parsed(await file.text());
      if (!this.#mayReplaceDraft()) return;
      const { texts, lost } = await this.#fill({ want: "card-form", card: null, tree });
      this.#begunAs();
      await this.#keepDraft(texts);
      this.#say(
        lost.length
          ? `${file.name} is a draft now. Left out or put right: ${lost.slice(0, 5).join("; ")}${lost.length > 5 ? `; and ${lost.length - 5} more` : ""}.`
          : `${file.name} is a draft now.`,
      );
      await this.#read();
    } catch (error) {
      this.#say(`${file.name} is not taken in: ${error.message}`);
    }
  }
}

/** Say beside each box what is wrong with it. @param {HTMLElement} root @param {{ field: string, message: string }[]} errors */
function mark(root, errors) {
  const wrong = new Map(errors.map(({ field, message }) => [field, message]));
  for (const field of root.querySelectorAll("[data-field]")) {
    const message = wrong.get(field.dataset.field ?? "") ?? "";
    find(field, ".bench-error").textContent = written(message);
    if (!field.hasAttribute("role")) find(field, "input, select").setAttribute("aria-invalid", String(Boolean(message))); // a group is a table
  }
}

/** @returns {Object<string, string>} what stands in the boxes of a row, by what they are @param {HTMLElement} row */
const partsOf = (row) =>
  Object.fromEntries(/** @type {Control[]} */ ([...row.querySelectorAll("[data-part]")]).map(({ dataset, value }) => [dataset.part, value]));

/** @returns {object} what a card's file holds; a card can be nothing but a mapping of keys @param {string} text */
function parsed(text) {
  let tree;
  try {
    tree = JSON.parse(text);
  } catch {
    throw new Error("it is not JSON text.");
  }
  if (typeof tree !== "object" || !tree || Array.isArray(tree)) throw new Error("it holds no engine card.");
  return tree;
}

/** @returns {any} what this browser keeps under a key, null where that is no mapping @param {string} key */
function kept(key) {
  try {
    const map = JSON.parse(localStorage.getItem(key) ?? "null");
    return map && typeof map === "object" && !Array.isArray(map) ? map : null;
  } catch {
    return null;
  }
}

/** @returns {boolean} whether the browser kept it @param {string} key @param {Object<string, unknown>} [value] none takes it away */
function keep(key, value) {
  try {
    if (value) localStorage.setItem(key, JSON.stringify(value));
    else localStorage.removeItem(key);
    return true;
  } catch {
    return false; // full or closed
  }
}

function forget() {
  for (const key of [DRAFT, BEGUN_AS]) keep(key);
}

/** @returns {Object<string, string>} what of it is a text of a box @param {Object<string, unknown>} map */
const boxesOf = (map) =>
  Object.fromEntries(Object.entries(map).flatMap(([name, text]) => (typeof text === "string" && text.length <= LARGEST ? [[name, text]] : [])));

/** @returns {Object<string, string> | null} the draft as it was typed */
function stored() {
  const draft = kept(DRAFT);
  return draft && boxesOf(draft);
}

function begunAs() {
  const { job, name, texts } = kept(BEGUN_AS) ?? {};
  return { job, name, texts: boxesOf(texts ?? {}) };
}

/** @returns {Card} @param {CardFacts} data */
const ownCard = (data) => ({ name: `own-${fileName(data.name, "card")}`.slice(0, 80), data });

/** @param {Object<string, string>} one @param {Object<string, string>} other */
const same = (one, other) =>
  Object.keys(one).length === Object.keys(other).length && Object.keys(one).every((name) => one[name] === other[name]);

/** @param {Partial<CardFacts>} card */
const takeAway = (card) => download(`${fileName(card.name ?? "card", "card")}.yml`, "application/json", `${JSON.stringify(card, null, 1)}\n`);

customElements.define("bench-card", BenchCard);
