/**
 * <bench-tags kinds cylinder>: the tagged parts of these kinds, or of this cylinder, or all: each with its
 * photograph, its bag and where it came from, to be ticked when it is back there. Its button tags another.
 */
import { LiveElement, button, find, findAll, make } from "./elements.js";
import { add, photograph, put, theJob, tickBack, whyNotKept } from "./job.js";
import { writtenTime } from "./locale.js";
import { keepPicture, whyNoPicture } from "./photographs.js";
import release from "./release.js";

/** @type {Object<string, [string, "valve" | "cylinder" | ""]>} what a kind is called, and what it is one of */
const KINDS = {
  rocker: ["Rocker", "valve"],
  pushrod: ["Pushrod", "valve"],
  tube: ["Pushrod tube", "valve"],
  tappet: ["Tappet", "valve"],
  valve: ["Valve and collets", "valve"],
  spring: ["Spring and cap", "valve"],
  piston: ["Piston and pin", "cylinder"],
  rings: ["Rings", "cylinder"],
  barrel: ["Barrel", "cylinder"],
  spacers: ["Spacers", "cylinder"],
  plug: ["Sparking plug", "cylinder"],
  fastenings: ["Nuts, bolts, washers", ""],
  other: ["Another part", ""],
};
const LONGEST = 200; // characters, as the schema has it
const NUMBER = /^(?:cylinder )?(\d{1,2})\b/i; // how a place that was written by hand may begin

/** @returns {string} the kind of a tag; one that was written by hand may be called like it @param {Entry} tag */
function kindOf({ kind, part = "" }) {
  if (kind) return kind;
  const called = part.trim().toLowerCase();
  return Object.keys(KINDS).find((one) => called && KINDS[one][0].toLowerCase().startsWith(called.replace(/s$/, ""))) ?? "";
}

/** @returns {number} @param {Entry} tag */
const cylinderOf = ({ cylinder, from = "" }) => cylinder ?? Number(from.match(NUMBER)?.[1] ?? 0);

/** @returns {string} @param {Entry} tag */
const nameOf = ({ part, from }) => [part, from].filter(Boolean).join(", ") || "A part";

/** @returns {Promise<number>} how many cylinders the engine of the job has */
async function cylinderCount() {
  const [{ card }, { default: cards }] = await Promise.all([theJob(), import("./cards.js")]);
  return (card?.data ?? cards[card?.name ?? release.card])?.layout?.cylinders?.value ?? 4;
}

/** @type {{within: string, tag: string} | undefined} what has the focus, also when the page around it is drawn anew */
let lands;
for (const sign of ["pointerdown", "keydown"]) addEventListener(sign, () => (lands = undefined), { capture: true });

/** @returns {string} what finds the same list again @param {HTMLElement} host */
const placeOf = (host) => `bench-tags${["kinds", "cylinder"].map((name) => (host.hasAttribute(name) ? `[${name}="${host.getAttribute(name)}"]` : `:not([${name}])`)).join("")}`;

/** The focus stays on a control of a list. */
function land() {
  if (!lands || !(document.activeElement === document.body || !document.activeElement)) return;
  const { within, tag } = lands;
  const control = [...document.querySelectorAll(`${within} [data-tag="${CSS.escape(tag)}"]`)].findLast((one) => one.checkVisibility());
  if (control instanceof HTMLElement) control.focus({ preventScroll: true });
}

class BenchTags extends LiveElement {
  /** @type {string[]} */
  #addresses = [];
  #shown = 0; // so often; what was asked for before the last is overtaken

  /** @param {AbortSignal} signal */
  arrive(signal) {
    addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.some((path) => /^(tags|photographs)\b/.test(path))) && this.#show(), { signal });
    this.#show();
  }

  go() {
    for (const address of this.#addresses.splice(0)) URL.revokeObjectURL(address);
  }

  /** @returns {string[]} */
  get #kinds() {
    return (this.getAttribute("kinds") ?? "").split(" ").filter(Boolean);
  }

  get #cylinder() {
    return Number(this.getAttribute("cylinder") ?? 0);
  }

  async #show() {
    const turn = ++this.#shown;
    const kinds = this.#kinds;
    const { tags } = await theJob();
    const own = tags.filter((tag) => (!kinds.length || kinds.includes(kindOf(tag))) && (!this.#cylinder || cylinderOf(tag) === this.#cylinder));
    own.sort((one, other) => cylinderOf(one) - cylinderOf(other) || nameOf(one).localeCompare(nameOf(other)));
    const pictures = await Promise.all(own.map(({ photograph: id }) => (id ? photograph(id) : undefined)));
    if (turn !== this.#shown || !this.isConnected) return;
    const held = this.contains(document.activeElement) ? document.activeElement?.getAttribute("data-tag") : undefined;
    this.go();
    const lines = own.map((tag, index) => this.#line(tag, pictures[index]));
    const take = button(this.#cylinder ? `Tag a part of cylinder ${this.#cylinder}` : "Tag a part", () => openForm({ kind: kinds[0], cylinder: this.#cylinder || undefined, from: "" }, this), { className: "bench-tag-take" });
    take.dataset.tag = "take";
    const back = own.filter((tag) => tag.back).length;
    const all = own.length === 1 ? "back in its own place" : `${back === own.length ? "all" : back} back in their own place`;
    const said = !own.length ? "Nothing tagged here yet." : `${own.length} tagged${back ? `, ${all}` : ""}.`;
    this.replaceChildren(
      make("p", { className: "bench-hint" }, said),
      ...(lines.length ? [make("ul", { className: "bench-tagged" }, ...lines)] : []),
      make("p", { className: "bench-buttons" }, take),
    );
    if (held) findAll(this, `[data-tag="${CSS.escape(held)}"]`, HTMLElement)[0]?.focus({ preventScroll: true });
    else land();
  }

  /** @param {Entry} tag @param {Blob | undefined} picture */
  #line(tag, picture) {
    const name = nameOf(tag);
    const box = make("input", { type: "checkbox", checked: Boolean(tag.back) });
    box.dataset.tag = `back ${tag.id}`;
    box.addEventListener("change", () => {
      lands = { within: placeOf(this), tag: `back ${tag.id}` };
      tickBack(tag.id, box.checked, this).then(() => this.#show());
    });
    const aloud = make("span", { className: "bench-aloud" }, `: ${name}`);
    const change = button("Change", () => openForm(tag, this), { className: "bench-tag-change" });
    change.append(aloud.cloneNode(true));
    change.dataset.tag = `change ${tag.id}`;
    const when = tag.back ? make("span", { className: "bench-quiet" }, ` ${writtenTime(tag.back, false)}`) : "";
    const words = [tag.bag && `bag ${tag.bag}`, tag.note].filter(Boolean).join(", ");
    return make(
      "li",
      { className: "bench-tag-line" },
      this.#picture(tag, picture),
      make("p", {}, make("strong", {}, name), ...(words ? [make("br"), words] : [])),
      change,
      make("label", { className: "bench-step" }, box, make("span", {}, "Back in its own place", aloud, when)),
    );
  }

  /** @param {Entry} tag @param {Blob | undefined} picture @returns {Node | string} */
  #picture(tag, picture) {
    if (!tag.photograph) return "";
    if (!picture) return make("span", { className: "bench-hint" }, "Its photograph is not on this device.");
    const src = URL.createObjectURL(picture);
    this.#addresses.push(src);
    const shown = button("", () => shown.setAttribute("aria-pressed", String(shown.getAttribute("aria-pressed") !== "true")), { className: "bench-thumb" });
    shown.setAttribute("aria-pressed", "false");
    shown.append(make("img", { src, alt: `Photograph of ${nameOf(tag)}, large` }));
    return shown;
  }
}

/** @param {string} name @param {[string, string][]} choices by value @param {string} chosen */
const radios = (name, choices, chosen) =>
  choices.map(([value, words]) => make("label", { className: "bench-step" }, make("input", { type: "radio", name, value, checked: value === chosen }), words));

/** @param {string} id @param {string} label @param {string} value */
function box(id, label, value) {
  const typed = make("input", { id, type: "text", maxLength: LONGEST, value });
  return make("div", { className: "bench-field" }, make("label", { htmlFor: id }, label), typed);
}

/**
 * The form of a tag, over the page. The page under it may be drawn anew meanwhile.
 *
 * @param {Partial<Entry>} tag as it is, or what is known of a new one
 * @param {HTMLElement} opener
 */
async function openForm(tag, opener) {
  const focused = document.activeElement?.getAttribute("data-tag") ?? "take";
  const within = placeOf(opener);
  const count = await cylinderCount();
  const dialog = make("dialog", { className: "bench-tag-form" });
  dialog.setAttribute("aria-label", tag.id ? "Change a tag" : "Tag a part");
  const legend = (/** @type {string} */ words, /** @type {Node[]} */ ...inside) =>
    make("fieldset", { className: "bench-choices" }, make("legend", {}, words), ...inside);
  const kind = kindOf(/** @type {Entry} */ (tag));
  const cylinder = cylinderOf(/** @type {Entry} */ (tag));
  const numbers = Array.from({ length: Math.max(count, cylinder) }, (_, index) => /** @type {[string, string]} */ ([String(index + 1), String(index + 1)]));
  const valve = tag.from?.match(/\b(in|ex)/)?.[1] ?? "";
  const ofCylinder = legend("Cylinder", ...radios("tag-cylinder", numbers, String(cylinder || "")));
  const ofKind = legend("Part", ...radios("tag-kind", Object.entries(KINDS).map(([value, [words]]) => [value, words]), kind));
  const ofValve = legend("Valve", ...radios("tag-valve", [["in", "inlet"], ["ex", "exhaust"]], valve));
  const from = box("tag-from", "Where it came from", tag.from ?? "");
  const bag = box("tag-bag", "Bag number", tag.bag ?? "");
  const note = box("tag-note", "Note: marks, which way round, wear", tag.note ?? "");
  const camera = make("input", { type: "file", accept: "image/*", className: "bench-aloud" });
  camera.setAttribute("capture", "environment");
  const picture = make("img", { alt: "The photograph that will be kept", hidden: true });
  const wrong = make("p", { className: "bench-error" });
  wrong.setAttribute("role", "status");
  const keepOne = button("Keep the tag", () => keep(false), { className: "bench-tag-keep" });
  const keepAndGoOn = button("Keep, and tag the next", () => keep(true));
  dialog.append(
    make("h2", { className: "bench-tag-title" }, tag.id ? "Change a tag" : "Tag a part"),
    ofKind, ofCylinder, ofValve, from, bag,
    make("p", { className: "bench-buttons" }, make("label", { className: "bench-file" }, tag.photograph ? "Photograph it again" : "Photograph it", camera)),
    picture, note, wrong,
    make("p", { className: "bench-buttons" }, keepOne, ...(tag.id ? [] : [keepAndGoOn]), button("Cancel", () => dialog.close())),
  );
  const typed = (/** @type {string} */ id) => find(dialog, `#${id}`, HTMLInputElement);
  const chosen = (/** @type {string} */ name) => findAll(dialog, `[name="${name}"]:checked`, HTMLInputElement)[0]?.value ?? "";
  let own = Boolean(tag.from); // where it came from is the reader's own words
  const gone = new AbortController();
  const { signal } = gone;

  function show() {
    const [, per] = KINDS[chosen("tag-kind")] ?? ["", "valve"];
    ofCylinder.hidden = !per;
    ofValve.hidden = per !== "valve";
    const place = [per && chosen("tag-cylinder"), per === "valve" && chosen("tag-valve")].filter(Boolean).join(" ");
    if (!own) typed("tag-from").value = place;
  }

  async function keep(/** @type {boolean} */ goOn) {
    const of = chosen("tag-kind");
    const where = typed("tag-from").value.trim();
    wrong.textContent = !of ? "Choose the part." : !where ? "Say where it came from." : "";
    if (wrong.textContent) return;
    const [words, per] = KINDS[of];
    const part = tag.id && kind === of && tag.part ? tag.part : words;
    const number = Number((per && chosen("tag-cylinder")) || where.match(NUMBER)?.[1] || 0);
    let { photograph: kept } = tag;
    let lost = "";
    const [file] = camera.files ?? [];
    try {
      if (file) kept = await keepPicture(file, [words, where].join(", "));
    } catch (error) {
      lost = whyNoPicture(error);
    }
    const texts = { bag: typed("tag-bag").value.trim(), note: typed("tag-note").value.trim(), photograph: kept };
    const facts = Object.fromEntries(Object.entries({ kind: of, part, from: where, ...texts }).filter(([, text]) => text));
    const entry = { ...facts, ...(number && { cylinder: number }) };
    if (tag.id) await put("tags", [/** @type {Entry} */ ({ id: tag.id, ...(tag.back && { back: tag.back }), ...entry })]);
    else await add("tags", entry);
    const said = [`${nameOf(/** @type {Entry} */ (entry))} is tagged.`, lost, whyNotKept()].filter(Boolean).join(" ");
    if (!goOn && !lost && !whyNotKept()) return dialog.close();
    wrong.textContent = said;
    if (!goOn) return void keepOne.replaceWith(button("Close", () => dialog.close()));
    for (const id of ["tag-bag", "tag-note"]) typed(id).value = "";
    own = false;
    camera.value = "";
    showPicture();
    for (const other of findAll(dialog, '[name="tag-valve"]', HTMLInputElement)) other.checked = false;
    show();
    findAll(ofValve.hidden ? ofCylinder : ofValve, "input", HTMLInputElement)[0]?.focus();
  }

  function showPicture() {
    URL.revokeObjectURL(picture.src);
    const [file] = camera.files ?? [];
    picture.hidden = !file;
    if (file) picture.src = URL.createObjectURL(file);
  }

  camera.addEventListener("change", showPicture);
  dialog.addEventListener("change", show);
  typed("tag-from").addEventListener("input", () => (own = Boolean(typed("tag-from").value.trim())));
  addEventListener("popstate", () => dialog.close(), { signal });
  dialog.addEventListener("close", () => {
    gone.abort();
    URL.revokeObjectURL(picture.src);
    dialog.remove();
    lands = { within, tag: focused };
    land();
  });
  show();
  document.body.append(dialog);
  dialog.showModal();
  const [first] = findAll(dialog, kind ? (cylinder ? "#tag-from" : '[name="tag-cylinder"]') : '[name="tag-kind"]', HTMLInputElement);
  first?.focus();
}

customElements.define("bench-tags", BenchTags);
