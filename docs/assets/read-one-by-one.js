/**
 * The readings of a form one by one, full-screen, with the phone beside the engine: by a large pad, by the phone's
 * own keys, or by a gauge that types like a keyboard and ends with Enter.
 *
 * Each is written into the form's own box, so that units, limits and what is kept are the form's. What is refused
 * stays, with what is wrong about it.
 */
import cards from "./cards.js";
import { button, find, findAll, make } from "./elements.js";
import { copyOf, speaker, stayAwake } from "./full-screen.js";
import { theJob } from "./job.js";
import { decimalMark, inReadersWay, written } from "./locale.js";
import release from "./release.js";

const KEYS = "bench-keys"; // whose keys the reader wants, kept in this browser
const OURS = ["7", "8", "9", "⌫", "4", "5", "6", "−", "1", "2", "3", "0", decimalMark];
/** @type {Record<string, string>} */
const CALLED = { "⌫": "Delete", "−": "Minus", ".": "Decimal point", ",": "Decimal comma" };
const EXAMPLE = "example"; // what stands greyed in a box and is not the reader's

/** @typedef {Record<string, {error: string}>} Said what an answer says of each box, by key */

/** @param {Element} box @returns {HTMLElement | null} what holds the boxes of several readings of one thing */
const severalOf = (box) => box.closest(".q-several");
/** @param {Element} several */
const partsOf = (several) => findAll(several, "[data-part]", HTMLInputElement);
/** @param {HTMLElement} box @returns {HTMLElement} the one that the job knows it by */
const carrierOf = (box) => (box.dataset.path ? box : find(/** @type {HTMLElement} */ (severalOf(box)), "[data-path]"));
/** @param {HTMLElement} box */
const nameOf = (box) => carrierOf(box).getAttribute("name") ?? "";
/** @param {HTMLInputElement} box */
const isFilled = (box) => Boolean(box.value.trim());

/** @returns {number} how many readings there are of what a box belongs to @param {Element | null | undefined} several */
const filledIn = (several) => (several ? partsOf(several).filter(isFilled).length : 0);

/** @returns {Element | null | undefined} the readings of the same kind one row before @param {Element} several */
function rowBefore(several) {
  const cell = several.closest("td");
  return cell && cell.closest("tr")?.previousElementSibling?.children[cell.cellIndex]?.querySelector(".q-several");
}

/** @returns {boolean} whether a box asks: nobody typed in it, and neither card nor other readings give it @param {HTMLInputElement} box */
function isEmpty(box) {
  const [from] = findAll(/** @type {Element} */ (box.closest("[data-box]")), ".q-from", HTMLElement);
  return !isFilled(box) && (!from?.textContent || from.textContent === EXAMPLE);
}

/** @returns {Element | null} whatever names a box's column, or the box @param {HTMLElement} box */
function headingOf(box) {
  const cell = box.closest("td");
  if (!cell) return box.closest(".q-box")?.querySelector("label") ?? null;
  return cell.closest("table")?.tHead?.rows[0].cells[cell.cellIndex] ?? null;
}

/**
 * Read the numbers of a question one by one.
 * @param {HTMLElement} question
 * @param {() => boolean} asBuilt whether its boxes are still the build's, and not what the job holds
 */
export async function readOneByOne(question, asBuilt) {
  await look();
  const { card, readings } = await theJob();
  const banks = (card?.data ?? cards[card?.name ?? release.card])?.layout?.banks?.value ?? [];
  const form = () => find(question, ".q-form", HTMLFormElement);
  const gone = new AbortController();
  const { signal } = gone;
  /** @type {Map<string, number>} by the name of its carrier: how many readings of one thing the reader wants */
  const wanted = new Map();
  const left = new Set(); // by id: those passed over
  let at = ""; // the id of the box that is asked for; none when all are read
  let begun = !asBuilt() || !(card || Object.keys(readings).length);
  let looksThrough = false; // nothing asks: all are gone through again
  let wentBack = false;
  let lands = false; // on the answer
  let refused = "";
  let last = ""; // what was read last, to be spoken
  let [kept, answered, waiting] = [true, true, false];
  let wake = () => {};

  const dialog = make("dialog", { className: "bench-follow bench-pad" });
  dialog.setAttribute("aria-label", find(question, ".q-asks").textContent ?? "");
  const part = (/** @type {string} */ name, /** @type {(Node | string)[]} */ ...inside) => make("div", { className: `pad-${name}` }, ...inside);
  const count = make("span");
  const glance = make("p", { className: "pad-glance" });
  const thing = make("span", { className: "pad-thing", id: "pad-thing" });
  const what = make("span", { className: "pad-what", id: "pad-what" });
  const hint = make("p", { className: "pad-hint", id: "pad-hint" });
  const error = make("p", { className: "q-error", id: "pad-error", role: "alert" });
  const place = part("place");
  const drawing = part("drawing");
  const entry = make("input", { type: "text", autocomplete: "off", spellcheck: false, enterKeyHint: "next", id: "pad-entry" });
  entry.setAttribute("aria-labelledby", "pad-thing pad-what");
  entry.setAttribute("aria-describedby", "pad-error pad-hint");
  const unit = make("span", { className: "pad-unit" });
  const speak = button("Read back");
  const whose = button("Phone’s keys", () => (chooseKeys(!isPhones()), entry.focus()));
  const back = button("Back", () => go(stops()[(boxNow() ? index() : stops().length) - 1]?.id ?? "", true));
  const skip = button("Skip", () => (left.add(at), go(following())));
  const stop = button("Stop here", () => dialog.close());
  const another = button("Another", () => anotherOf(), { className: "pad-another" });
  const next = button("Next", () => onward(), { className: "bench-follow-next" });
  const keys = OURS.map((key) => {
    const made = button(key, () => press(key), { className: "pad-key" });
    made.dataset.key = key === decimalMark ? "." : key;
    if (key in CALLED) made.setAttribute("aria-label", CALLED[key]);
    return made;
  });
  const end = part("end");
  const asks = part("asks", part("names", thing, what, hint), place, drawing);
  dialog.append(part("top", count, speak, whose), glance, asks, part("entry", entry, unit, another), error, end, part("keys", ...keys, next), part("row", back, skip, stop));

  const isPhones = () => whose.getAttribute("aria-pressed") === "true";
  /** @param {boolean} phones */
  function chooseKeys(phones, keep = true) {
    whose.setAttribute("aria-pressed", String(phones));
    dialog.classList.toggle("pad-phones", phones);
    setKeys();
    try {
      if (keep) localStorage.setItem(KEYS, phones ? "phone" : "ours");
    } catch {} // a browser that keeps nothing
  }

  function setKeys() {
    const takes = boxNow()?.dataset.keys ?? "";
    entry.inputMode = !isPhones() ? "none" : takes.includes("-") ? "text" : takes.includes(".") ? "decimal" : "numeric"; // the number pad may lack the minus
    for (const key of keys) key.disabled = key.dataset.key === "." ? !takes.includes(".") : key.dataset.key === "−" && !takes.includes("-");
  }

  /** @returns {HTMLInputElement[]} the boxes in sight that take a number, in their order; of several readings as many as are wanted */
  function stops() {
    return findAll(form(), "[data-keys]", HTMLInputElement).filter((box) => {
      if (box.closest("[data-refines]:not([open]), tr[hidden]")) return false;
      const several = severalOf(box);
      if (!several) return true;
      const more = wanted.get(nameOf(box)) ?? 1;
      return partsOf(several).indexOf(box) < Math.max(Number(several.dataset.fewest ?? 1), filledIn(several), filledIn(rowBefore(several)), more);
    });
  }

  const boxNow = () => /** @type {HTMLInputElement | null} */ (at ? document.getElementById(at) : null);
  const index = () => stops().findIndex(({ id }) => id === at);

  /** @returns {string} the box that comes after this one; none where all are read */
  function following() {
    const all = stops();
    const here = index();
    if (looksThrough) return all[here + 1]?.id ?? "";
    const open = all.filter((box) => isEmpty(box) && !left.has(box.id) && box.id !== at);
    return (open.find((box) => all.indexOf(box) > here) ?? open[0])?.id ?? "";
  }

  /** @param {string} to @param {boolean} [back] */
  function go(to, back = false) {
    at = to;
    wentBack = back;
    refused = "";
    show();
  }

  function show() {
    const box = boxNow();
    dialog.classList.toggle("pad-done", !box);
    showGlance();
    back.disabled = Boolean(box) && index() === 0;
    skip.disabled = !box;
    if (!box) return showEnd();
    left.delete(at);
    const row = box.closest("tr");
    const heading = headingOf(box)?.firstChild?.textContent?.trim() ?? "";
    const several = severalOf(box);
    const reading = several && Number(several.dataset.most) > 1 ? partsOf(several).indexOf(box) + 1 : 0;
    count.textContent = `${index() + 1} of ${stops().length}`;
    thing.textContent = row ? find(row, "th").textContent : heading;
    what.textContent = row ? `${heading}${reading > 1 ? `, reading ${reading}` : ""}` : reading > 1 ? `Reading ${reading}` : "";
    hint.textContent = hintOf(box, heading);
    inReadersWay(hint);
    entry.value = box.value;
    entry.select();
    setKeys();
    showUnit(box);
    showPlace(box);
    const full = several && partsOf(several).length >= Number(several.dataset.most) && filledIn(several) >= Number(several.dataset.most);
    another.hidden = !several || Boolean(full) || Number(several.dataset.most) < 2;
    showError();
    next.textContent = "Next";
    entry.focus({ preventScroll: true });
  }

  /** @returns {string} @param {HTMLElement} box @param {string} heading */
  function hintOf(box, heading) {
    const own = box.closest(".q-box")?.querySelector(".q-hint")?.textContent;
    if (own || box.closest(".q-box")) return own ?? "";
    const found = findAll(form(), ".q-hint", HTMLElement).find((one) => one.querySelector("strong")?.textContent === `${heading}:`);
    return found?.lastChild?.textContent?.trim() ?? "";
  }

  function showError() {
    error.textContent = refused && written(refused);
    entry.setAttribute("aria-invalid", String(Boolean(refused)));
  }

  /** The answer, small; no example's figure stands beside what is read. */
  function showGlance() {
    const isTheirs = question.dataset.state === "yours";
    glance.textContent = find(question, isTheirs ? ".q-headline" : ".q-whose").textContent;
    glance.classList.toggle("pad-figure", isTheirs);
  }

  /** The chooser of the form once more; what is chosen there is chosen here. @param {HTMLInputElement} box */
  function showUnit(box) {
    const heading = headingOf(box);
    const around = box.closest("td") ? heading : box.closest(".q-in");
    const unitOf = () => around?.isConnected ? around.querySelector(".q-unit") : headingOf(/** @type {HTMLElement} */ (boxNow()))?.querySelector(".q-unit");
    const shown = around?.querySelector(".q-unit");
    if (!(shown instanceof HTMLSelectElement)) return unit.replaceChildren(shown?.textContent ?? "");
    const copy = /** @type {HTMLSelectElement} */ (shown.cloneNode(true));
    copy.value = shown.value;
    copy.removeAttribute("data-unit-of");
    copy.onchange = () => {
      const chooser = unitOf() ?? document.querySelector(`[data-unit-of="${CSS.escape(shown.dataset.unitOf ?? "")}"]`);
      if (!(chooser instanceof HTMLSelectElement)) return;
      chooser.value = copy.value;
      tell(chooser, "change");
      entry.focus();
    };
    unit.replaceChildren(copy);
  }

  /** Where it is measured: on the engine from above, what is asked for is blue; and the drawing of the step, or of the answer. @param {HTMLElement} box */
  function showPlace(box) {
    const row = box.closest("tr");
    const each = row?.closest("tbody")?.dataset.each;
    const number = Number(nameOf(box).split(".").at(-1));
    const isHere = (/** @type {number} */ cylinder, /** @type {number} */ bank) => number === (each === "head" ? bank + 1 : cylinder);
    const known = each && banks.some((bank, at) => bank.some((cylinder) => isHere(cylinder, at)));
    place.hidden = !known;
    place.replaceChildren();
    if (known) {
      const columns = banks.map((bank, at) =>
        make("span", {}, ...[...bank].reverse().map((cylinder) => make("i", { className: isHere(cylinder, at) ? "pad-here" : "" }, String(cylinder)))),
      );
      place.setAttribute("role", "img");
      place.setAttribute("aria-label", `${thing.textContent} on the engine from above, pulley end towards you`);
      place.append(part("banks", ...columns), make("small", {}, "pulley end"));
    }
    const own = known || question.dataset.state !== "yours" ? null : question.querySelector(".q-answer .q-figure svg");
    const drawn = question.closest("li")?.querySelector(".bench-figure svg") ?? own;
    drawing.replaceChildren(...(drawn ? [copyOf(drawn)] : []));
  }

  function showEnd() {
    const wrong = stops().find((box) => box.getAttribute("aria-invalid") === "true");
    const over = stops().filter(isEmpty).length;
    const words = wrong ? "Something needs another look." : over ? `${over} left out.` : "All read.";
    const deed = wrong ? button("Look at it", () => go(wrong.id)) : button("To the answer", () => ((lands = true), dialog.close(), form().requestSubmit()));
    deed.className = "bench-follow-next";
    const [headline, rests] = [".q-headline", ".q-whose"].map((part) => make("p", { className: `pad-${part.slice(3)}` }, find(question, part).textContent ?? ""));
    end.replaceChildren(make("p", { role: "status" }, words), headline, rests, deed, ...(wrong ? [] : forTheCard()));
    if (!dialog.contains(document.activeElement) || !end.contains(document.activeElement)) deed.focus({ preventScroll: true });
    count.textContent = "";
  }

  /** @returns {HTMLElement[]} what of it the engine card could take, below its boxes in the form */
  function forTheCard() {
    const boxes = findAll(form(), ".q-box:has(.q-keep button)", HTMLElement);
    if (!boxes.length) return [];
    const labels = boxes.map((box) => find(box, "label").firstChild?.textContent?.trim());
    return [button(`For the engine card: ${labels.join(", ")}`, () => {
      lands = true;
      dialog.close();
      for (const box of boxes) box.closest("details")?.setAttribute("open", "");
      find(boxes[0], ".q-keep button").focus();
    }, { className: "pad-card" })];
  }

  function begin() {
    begun = true;
    looksThrough = !stops().some(isEmpty);
    go((stops().find(isEmpty) ?? stops()[0])?.id ?? "");
  }

  /** Another reading of the same thing. */
  async function anotherOf() {
    const box = boxNow();
    const several = box && severalOf(box);
    if (!several || !(await stands())) return;
    wanted.set(nameOf(box), filledIn(several) + 1);
    const now = boxNow();
    const empty = now && partsOf(/** @type {Element} */ (severalOf(now))).find((one) => !isFilled(one));
    if (empty) go(empty.id);
  }

  /** @param {string} key */
  function press(key) {
    const [from, to] = [entry.selectionStart ?? entry.value.length, entry.selectionEnd ?? entry.value.length];
    if (key === "−") entry.value = entry.value.startsWith("-") ? entry.value.slice(1) : `-${entry.value}`;
    else if (key === "⌫") entry.setRangeText("", from === to ? Math.max(0, from - 1) : from, to, "end");
    else entry.setRangeText(key, from, to, "end");
    entry.dispatchEvent(new Event("input"));
  }

  /** @param {Element} control @param {string} kind */
  function tell(control, kind) {
    [kept, answered] = [false, false];
    control.dispatchEvent(new Event(kind, { bubbles: true }));
  }

  entry.oninput = () => {
    const box = boxNow();
    if (!box || box.value === entry.value) return;
    box.value = entry.value;
    waiting = false; // what was to be judged is another text now
    refused = "";
    showError();
    tell(box, "input");
  };

  /** @returns {Promise<boolean>} whether the reading stands: what is wrong with it stays on the screen */
  async function stands() {
    const box = boxNow();
    if (!box) return false;
    const several = severalOf(box);
    if (!isFilled(box)) {
      if (several) tell(box, "change"); // the next reading of the same thing moves up
      return true;
    }
    if (!answered && !question.hasAttribute("data-waiting") && question.dataset.state) {
      waiting = true;
      await /** @type {Promise<void>} */ (new Promise((done) => (wake = done)));
      if (!waiting) return false;
      waiting = false;
    }
    const few = several && filledIn(several) < Number(several.dataset.fewest ?? 1); // no answer can be content yet
    refused = few ? "" : errorOf();
    if (!refused) return true;
    showError();
    entry.select();
    entry.focus();
    return false;
  }

  /** @type {Said} */
  let said = {};
  function errorOf() {
    const box = boxNow();
    if (!box) return "";
    return said[nameOf(box)]?.error ?? box.closest("[data-box]")?.querySelector(".q-error")?.textContent ?? "";
  }

  async function onward() {
    if (waiting || !(await stands())) return;
    last = isFilled(/** @type {HTMLInputElement} */ (boxNow())) ? `${entry.value.replace(",", ".")} ${unitNow()}. ` : "";
    if (!isFilled(/** @type {HTMLInputElement} */ (boxNow()))) left.add(at);
    go(following());
    say();
    last = "";
  }

  const unitNow = () => find(dialog, ".pad-unit").querySelector("select")?.value ?? unit.textContent ?? "";
  const say = speaker(speak, () => `${last}${boxNow() ? `${thing.textContent} ${what.textContent}` : end.innerText}`, signal);

  question.addEventListener("bench-answered", (/** @type {any} */ { detail }) => {
    said = detail;
    if (kept) settle();
    if (!document.activeElement?.closest(".bench-pad")) raise();
    showGlance();
    const box = boxNow();
    if (!begun) begin();
    else if (!box) go("");
    else if (!wentBack && !looksThrough && !isFilled(box) && !isEmpty(box)) go(following()); // another tab gave it
  }, { signal });
  question.addEventListener("bench-offered", () => begun && !boxNow() && showEnd(), { signal });
  const settle = () => ((answered = true), wake());
  addEventListener("bench-job", ({ detail }) => {
    const path = boxNow() && carrierOf(/** @type {HTMLInputElement} */ (boxNow())).dataset.path;
    if (!detail.paths || detail.paths.includes(path ?? "")) kept = true;
  }, { signal });
  addEventListener("bench-kept", settle, { signal }); // nothing that would be answered
  addEventListener("bench-python", ({ detail }) => detail.state === "stopped" && (settle(), begun || begin()), { signal });
  addEventListener("popstate", () => dialog.close(), { signal });

  /** A form that Python wrote anew is shown anew, above this. */
  function raise() {
    dialog.close();
    dialog.showModal();
    (boxNow() ? entry : (end.querySelector("button") ?? stop)).focus({ preventScroll: true });
  }

  dialog.addEventListener("keydown", (event) => {
    const { key, target, ctrlKey, altKey, metaKey } = event;
    event.stopPropagation(); // the theme turns the page at a point, and the sheet under this closes at Escape
    if (ctrlKey || altKey || metaKey || !boxNow()) return;
    if (/^[\d.,−-]$/.test(key)) return void entry.focus(); // a gauge types, whatever was pressed last
    const on = (key === "Enter" && target === entry) || key === "PageDown";
    if (!on && key !== "PageUp") return;
    event.preventDefault();
    if (event.repeat) return;
    if (on) onward();
    else back.click();
  });
  for (const key of [...keys, next]) key.onpointerdown = (event) => event.preventDefault(); // the number keeps the focus
  dialog.addEventListener("close", () => {
    if (dialog.open) return; // raised
    gone.abort();
    dialog.remove();
    const [opener] = findAll(question, ".q-one-by-one", HTMLElement);
    if (!lands && opener?.checkVisibility()) opener.focus();
  });
  const fit = () => {
    dialog.style.setProperty("--pad-top", `${visualViewport?.offsetTop ?? 0}px`);
    dialog.style.setProperty("--pad-height", `${visualViewport?.height ?? innerHeight}px`);
  };
  for (const sign of ["resize", "scroll"]) visualViewport?.addEventListener(sign, fit, { signal });

  let phones = false;
  try {
    phones = localStorage.getItem(KEYS) === "phone";
  } catch {}
  document.body.append(dialog);
  fit();
  dialog.showModal();
  chooseKeys(phones, false);
  if (begun) begin();
  else {
    dialog.classList.add("pad-done"); // no box yet that could be the wrong one
    end.replaceChildren(make("p", { role: "status" }, "Starting."));
    back.disabled = skip.disabled = true;
    stop.focus();
  }
  stayAwake(signal);
}

/** Its own stylesheet, once. */
function look() {
  if (document.querySelector("link[data-pad]")) return;
  const sheet = make("link", { rel: "stylesheet", href: new URL("read-one-by-one.css", import.meta.url).href });
  sheet.dataset.pad = "";
  document.head.append(sheet);
  return new Promise((done) => (sheet.onload = sheet.onerror = done));
}
