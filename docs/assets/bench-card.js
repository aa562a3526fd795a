/**
 * <bench-card>: the engine card of the job in hand, chosen, copied, changed, and taken in or out as a file.
 *
 * What stands in the form and what is wrong with it is worked out by Python. What is typed is a draft,
 * kept at each change, until it is a card without a mistake.
 */
import { begun, readBegun } from "./begin-card.js";
import { allJobs, chooseCard, keeps, theJob } from "./job.js";
import { inReadersWay, written, writtenTime } from "./locale.js";
import { listenForPlacing } from "./placing.js";
import { ask } from "./python.js";
import facts from "./facts.js";
import release from "./release.js";

const DRAFT = "bench-card-draft"; // one a browser, whichever job is in hand
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
${begun()}
<div class="bench-card-about"></div>
<div class="bench-card-draft" hidden>
<h2 id="the-draft">The draft</h2>
<p class="bench-hint bench-card-kept"></p>
<form class="bench-card-form" novalidate autocomplete="off" aria-labelledby="the-draft"></form>
<div class="bench-summary" role="group" tabindex="-1" aria-label="What to put right" hidden></div>
<div class="bench-card-missing"></div>
<div class="bench-buttons">
<button type="button" data-do="keep">Keep it as this job’s card</button>
<button type="button" data-do="exportDraft">Export the draft as a file</button>
<button type="button" data-do="giveUp">Give the draft up</button>
</div>
</div>`;

class BenchCard extends HTMLElement {
  #listening = new AbortController();
  #job;
  #choices = new Map(); // by the option's value: what chooseCard takes
  #wait = 0; // the timer of a reading yet to come; 0 once nothing was typed since the last
  #asked = 0; // the newest reading of the draft; an older one gives its answer
  #newest;
  #drawn = new WeakMap(); // by section: the HTML of its drawing
  #given = new Map(); // by the name of a source's box: the source, and the figures that it was given for

  connectedCallback() {
    const { signal } = (this.#listening = new AbortController());
    this.innerHTML = SKELETON;
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

  disconnectedCallback() {
    this.#listening.abort();
    clearTimeout(this.#wait);
  }

  get #form() {
    return this.querySelector("form");
  }

  get #texts() {
    const boxes = [...this.#form.elements].filter(({ name, value }) => name && value.trim());
    return Object.fromEntries(boxes.map(({ name, value }) => [name, value]));
  }

  #say(words) {
    this.querySelector(".bench-status").textContent = words;
  }

  /** The card that the job has, as Python takes it. */
  #card() {
    const { card } = this.#job;
    return card?.data ? { name: card.name, data: card.data } : (card?.name ?? release.card);
  }

  async #show() {
    this.#job = await theJob();
    await this.#showChoices();
    try {
      const { html } = await ask({ want: "card-missing", card: this.#card() });
      if (!this.isConnected) return;
      this.querySelector(".bench-card-about").innerHTML = html;
      const draft = stored();
      if (draft) {
        // boxes that hold the draft already may be typed in at this moment
        if (!this.#form.elements.length || !same(draft, this.#texts)) await this.#fill({ want: "card-form", card: null, texts: draft });
        this.querySelector(".bench-card-draft").hidden = false;
        await this.#read();
      } else this.querySelector(".bench-card-draft").hidden = true;
    } catch (error) {
      console.warn(error);
      this.#say("The card cannot be shown. What you typed is kept.");
    }
  }

  async #showChoices() {
    const { card, id, cards_aside: aside = [] } = this.#job;
    this.#choices.clear();
    const select = this.querySelector("select");
    const option = (value, words, choice, chosen) => {
      this.#choices.set(value, choice);
      return new Option(words, value, chosen, chosen);
    };
    const name = card?.name ?? release.card;
    const options = Object.entries(facts.cards).map(([key, data]) =>
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
      options.push(option(`aside ${index}`, `${data.name} (this job’s own${when ? ` of ${writtenTime(when)}` : ""}, laid aside)`, { name: own, data }, false));
    select.replaceChildren(...options);
  }

  /** Put a form in place. */
  async #fill(question) {
    const { html, texts, lost } = await ask(question);
    if (!this.isConnected) return { texts, lost };
    const focused = this.#form.contains(document.activeElement) && document.activeElement.id;
    const open = [...this.#form.querySelectorAll("[data-section][open]")].map(({ dataset }) => dataset.section);
    this.#form.innerHTML = html;
    inReadersWay(this.#form);
    for (const section of open) this.#section(section)?.setAttribute("open", "");
    this.#given.clear();
    for (const source of this.#form.querySelectorAll('[name$="source"]')) this.#noteSource(source);
    if (focused) document.getElementById(focused)?.focus();
    this.querySelector(".bench-card-draft").hidden = false;
    return { texts, lost };
  }

  #section(path) {
    return this.#form.querySelector(`[data-section="${CSS.escape(path)}"]`);
  }

  /** The box that says where the figure of another one comes from: its own, or that of its section. */
  #sourceOf({ name }) {
    for (let path = name; path; path = path.slice(0, Math.max(0, path.lastIndexOf("."))))
      if (this.#form.elements[`${path}.source`]) return this.#form.elements[`${path}.source`];
    return undefined;
  }

  /** The figures that a source stands for, as they are typed. */
  #figuresOf(source) {
    const path = source.name.replace(/\.source$/, "");
    const boxes = [...this.#form.elements].filter(({ name }) => name === path || (name.startsWith(`${path}.`) && name !== source.name));
    return boxes.map(({ name, value }) => `${name}=${value.trim()}`).join("\n");
  }

  #noteSource(source) {
    this.#given.set(source.name, { text: source.value, figures: this.#figuresOf(source) });
  }

  /** A changed figure loses its source until one is given; typed back, it has it again. */
  #followSource(control) {
    const source = this.#sourceOf(control);
    if (!source || source === control) return source && this.#noteSource(source);
    const given = this.#given.get(source.name);
    if (!given?.text) return undefined;
    const same = this.#figuresOf(source) === given.figures;
    if (same && !source.value) source.value = given.text;
    else if (!same && source.value === given.text) source.value = "";
    source.placeholder = source.value ? "" : written(`Was: ${given.text}`);
    return undefined;
  }

  #typed(control) {
    if (!this.#form.contains(control)) return;
    this.#followSource(control);
    this.#keepDraft();
    clearTimeout(this.#wait);
    this.#wait = setTimeout(() => this.#read().catch((error) => (console.warn(error), this.#say("The draft cannot be checked. What you typed is kept."))), PAUSE);
  }

  async #keepDraft(texts = this.#texts) {
    let words = "Kept in this browser on this device, at each change.";
    try {
      localStorage.setItem(DRAFT, JSON.stringify(texts));
    } catch {
      words = "This browser did not keep the last change: its storage is full or closed. Export the draft.";
    }
    if (!(await keeps())) words = "This browser forgets the draft when it is closed. Export it before.";
    this.querySelector(".bench-card-kept").textContent = words;
  }

  /** Ask what is wrong with the draft, and show it box by box. @returns {Promise<object | undefined>} the newest answer */
  #read() {
    clearTimeout(this.#wait);
    this.#wait = 0;
    return (this.#newest = this.#readAs(++this.#asked));
  }

  async #readAs(mine) {
    const answer = await ask({ want: "card-read", texts: this.#texts });
    if (!this.isConnected) return undefined;
    if (mine !== this.#asked) return this.#newest;
    const wrong = new Map(answer.errors.map(({ field, message }) => [field, message]));
    for (const field of this.#form.querySelectorAll("[data-field]")) {
      const message = wrong.get(field.dataset.field) ?? "";
      field.querySelector(".bench-error").textContent = written(message);
      const control = field.querySelector("[name]");
      if (control?.name === field.dataset.field) control.setAttribute("aria-invalid", String(Boolean(message)));
    }
    const summary = this.querySelector(".bench-summary");
    summary.innerHTML = answer.summary;
    inReadersWay(summary);
    summary.hidden = !answer.errors.length;
    this.querySelector(".bench-card-missing").innerHTML = answer.missing;
    for (const section of this.#form.querySelectorAll("[data-section]")) {
      section.querySelector(".bench-filled").textContent = answer.filled[section.dataset.section];
      for (const place of section.querySelectorAll("[data-field]"))
        place.classList.toggle("bench-borrowed", answer.inherited.includes(place.dataset.field));
      this.#draw(section, answer.figures[section.dataset.section] ?? "");
    }
    for (const [table, count] of Object.entries(answer.rows)) {
      const rows = this.#form.querySelector(`[data-rows="${CSS.escape(table)}"]`)?.children ?? []; // of another card by now
      [...rows].forEach((row, index) => (row.hidden = index >= count));
    }
    return answer;
  }

  /** Draw anew only what is another drawing, so that a button beside it keeps the focus. */
  #draw(section, html) {
    if (this.#drawn.get(section) === html) return;
    this.#drawn.set(section, html);
    const shown = section.querySelector(".bench-card-figure");
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

  async #chosen(control) {
    if (control.type === "file") return this.#receive(control);
    if (control.id !== "bench-card-chosen") return;
    const choice = this.#choices.get(control.value);
    await chooseCard(choice, this);
    await this.#show();
    this.#say("Every page now takes its figures from this card.");
  }

  async #clicked(event) {
    const link = event.target.closest(".bench-summary a");
    if (link) {
      event.preventDefault();
      event.stopPropagation(); // the theme would fetch this page anew
      const control = document.getElementById(link.hash.slice(1));
      control?.closest("details")?.setAttribute("open", "");
      control?.focus();
    }
    const { do: deed, ...facts } = event.target.closest("button")?.dataset ?? {};
    if (!deed) return;
    try {
      await this[`_${deed}`](facts);
    } catch (error) {
      console.warn(error);
      this.#say(`That did not work: ${error.message}`);
    }
  }

  #mayReplaceDraft() {
    return !stored() || confirm("There is a draft already. Put this in its place? There is no way back.");
  }

  async _copy() {
    if (!this.#mayReplaceDraft()) return;
    const { card } = this.#job;
    const { texts } = await this.#fill({ want: "card-form", card: this.#card() });
    if (!card?.data) {
      const name = this.#form.elements.name;
      name.value = texts.name = `${texts.name ?? ""}, changed`;
    }
    await this.#keepDraft(texts);
    this.#say("The copy is a draft now. The job keeps its card until you keep the draft.");
    this.#form.elements.name.focus();
    await this.#read();
  }

  /** Type the stud that Python offers into its row. */
  async _addStud({ row, ...facts }) {
    for (const [key, text] of Object.entries(facts)) this.#form.elements[`${row}.${key}`].value = text;
    this.#typed(this.#form.elements[`${row}.name`]);
    await this.#read();
    this.#form.querySelector(`[data-do="addStud"][data-row^="${row.replace(/\d+$/, "")}"]`)?.focus();
    this.#say(`Stud ${facts.name} is in the table, at ${facts.x}, ${facts.y}.`);
  }

  async _keep() {
    const answer = await this.#readAll();
    if (!answer) return;
    if (answer.errors.length) {
      this.#say("The draft is kept, and is no card yet.");
      this.querySelector(".bench-summary").focus();
      return;
    }
    await chooseCard({ name: `own-${fileName(answer.data.name)}`.slice(0, 80), data: answer.data }, this);
    localStorage.removeItem(DRAFT);
    await this.#show();
    this.#say("Every page now takes its figures from this card.");
    this.querySelector("select").focus();
  }

  async _begin() {
    const { data, errors } = await readBegun(this);
    if (errors) return this.#say("It is no card yet: put right what is marked.");
    await chooseCard({ name: `own-${fileName(data.name)}`.slice(0, 80), data }, this);
    this.querySelector(".bench-begin").removeAttribute("open");
    await this.#show();
    this.#say("Every page now takes its figures from this card. What else a question needs, it asks for.");
    this.querySelector("select").focus();
  }

  async _giveUp() {
    if (!confirm("Give the draft up? There is no way back.")) return;
    localStorage.removeItem(DRAFT);
    this.#form.replaceChildren();
    this.querySelector(".bench-card-draft").hidden = true;
    this.#say("The draft is gone. The job keeps its card.");
    this.querySelector("select").focus();
  }

  async _exportCard() {
    const { card } = this.#job;
    download(card?.data ?? facts.cards[card?.name ?? release.card]);
  }

  async _exportDraft() {
    const answer = await this.#readAll();
    if (answer) download(answer.data);
  }

  /** A file from outside becomes a draft; what of it fits no box is told. */
  async #receive(control) {
    const file = control.files[0];
    control.value = "";
    if (!file) return;
    try {
      if (file.size > LARGEST) throw new Error("it is larger than 300 kB.");
      const tree = parsed(await file.text());
      if (!this.#mayReplaceDraft()) return;
      const { texts, lost } = await this.#fill({ want: "card-form", card: null, tree });
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

/** @returns {object} what a card's file holds; a card can be nothing but a mapping of keys */
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

/** @returns {Object<string, string> | null} the draft as it was typed; what is no text of a box is left out */
function stored() {
  try {
    const texts = JSON.parse(localStorage.getItem(DRAFT));
    if (!texts || typeof texts !== "object" || Array.isArray(texts)) return null;
    return Object.fromEntries(Object.entries(texts).filter(([, text]) => typeof text === "string" && text.length <= LARGEST));
  } catch {
    return null;
  }
}

const same = (one, other) =>
  Object.keys(one).length === Object.keys(other).length && Object.keys(one).every((name) => one[name] === other[name]);

const fileName = (name) => String(name).toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "card";

function download(data) {
  const file = new Blob([`${JSON.stringify(data, null, 1)}\n`], { type: "application/json" });
  const link = Object.assign(document.createElement("a"), { download: `${fileName(data.name ?? "card")}.yml`, href: URL.createObjectURL(file) });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

customElements.define("bench-card", BenchCard);
