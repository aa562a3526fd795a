/**
 * A ladder of questions walked full-screen: one question a screen, its cautions first, down to a finding.
 *
 * The address says where the reader is: #walk-3 is the third question, #walk-3-no what No finds there. As the ladder is
 * a tree, that is all there is to know: the browser's Back goes one back, and a page that is read on from a finding
 * comes back to it.
 */
import { button, find, findAll, make } from "./elements.js";
import { copyOf, enterEntry, leaveEntries, speaker, stayAwake, stepKeys } from "./full-screen.js";
import { add, remove, theJob } from "./job.js";

const PLACE = /^#walk-(\d+)(?:-(yes|no))?$/;
const KEPT = "bench-ladder "; // before a page's path: where its reader stopped
const ANSWERS = /** @type {const} */ (["yes", "no"]);
const LEFT_OUT = ".admonition, .bench-figure, .cp, ul";
/** @type {{go: (place: Place) => void, end: () => void} | undefined} */
let open; // the walk in hand
let shown = ""; // the page whose ladder is in the document

/** @typedef {"yes" | "no"} Said */
/** @typedef {{number: number, said?: Said}} Place a question, or what an answer to it finds */

/** @returns {Place | undefined} @param {string} hash */
function placeOf(hash) {
  const [, number, said] = hash.match(PLACE) ?? [];
  const place = number ? { number: Number(number), said: /** @type {Said | undefined} */ (said) } : undefined;
  return place && document.getElementById(said ? `end-${number}-${said}` : `ask-${number}`) ? place : undefined;
}

/** @param {Place} place */
const hashOf = ({ number, said }) => `#walk-${number}${said ? `-${said}` : ""}`;
/** @param {Place} place @returns {HTMLElement} */
const stepOf = ({ number }) => /** @type {HTMLElement} */ (find(document, `#ask-${number}`).closest("li"));
/** @returns {HTMLElement} the line of an answer @param {Element} step @param {Said} said */
const answerOf = (step, said) => findAll(step, ":scope > ul > li", HTMLElement)[ANSWERS.indexOf(said)];
/** @returns {Place} where an answer leads @param {number} number @param {Said} said */
function behind(number, said) {
  const on = answerOf(stepOf({ number }), said).querySelector("[data-to]");
  return on instanceof HTMLElement ? { number: Number(on.dataset.to) } : { number, said };
}

/** @returns {{number: number, said: Said}[]} the answers that lead to a place @param {Place} place */
function wayTo({ number, said }) {
  const way = said ? [{ number, said }] : [];
  for (let at = number; at > 1; ) {
    const on = find(document, `.bench-ladder [data-to="${at}"]`);
    const step = /** @type {Element} */ (on.closest("ol > li"));
    at = Number(find(step, "[id^='ask-']").id.slice(4));
    way.unshift({ number: at, said: ANSWERS.find((one) => answerOf(step, one).contains(on)) ?? "yes" });
  }
  return way;
}

/** @returns {Element[]} what is to be read before a question; before the first also when to stop and ask @param {number} number */
function cautionsOf(number) {
  const [stop] = number === 1 ? findAll(document, "#when-to-stop-and-ask + ul", HTMLElement) : [];
  return [...(stop ? [stop] : []), ...stepOf({ number }).querySelectorAll(".admonition")];
}

/** @returns {string} @param {Element} one */
function words(one) {
  const copy = /** @type {Element} */ (one.cloneNode(true));
  for (const left of copy.querySelectorAll(".cp, .headerlink")) left.remove();
  return copy.textContent?.replace(/\s+/g, " ").trim() ?? "";
}

/** @returns {DocumentFragment} what is said beside the words in bold @param {Element} one @param {string} leftOut */
function restOf(one, leftOut) {
  const copy = /** @type {Element} */ (one.cloneNode(true));
  for (const left of copy.querySelectorAll(leftOut)) left.remove();
  copy.querySelector("strong[id]")?.remove();
  for (const named of copy.querySelectorAll("[id]")) named.removeAttribute("id");
  for (const empty of copy.querySelectorAll("p")) if (!empty.textContent?.trim()) empty.remove();
  const rest = document.createDocumentFragment();
  rest.append(...copy.childNodes);
  return rest;
}

const title = () => find(document, "h1").firstChild?.textContent?.trim() ?? "";

/** @returns {string} what goes onto the job sheet @param {Place} place */
function noteOf(place) {
  const asked = wayTo(place).map(({ number, said }) => `${words(find(document, `#ask-${number}`))} ${said === "yes" ? "Yes" : "No"}.`);
  const line = answerOf(stepOf(place), place.said ?? "yes");
  const found = words(line).replace(/^(Yes|No)\s*→\s*/, "");
  return `${title()}: ${found}\nAsked: ${asked.join(" ")}`;
}

/** @returns {Place | undefined} where the reader stopped in this tab */
function kept() {
  try {
    return placeOf(sessionStorage.getItem(KEPT + shown) ?? "");
  } catch {
    return undefined; // forbidden
  }
}

/** A page with a ladder is shown. */
export function arrive() {
  open?.end();
  shown = location.pathname;
  const [link] = findAll(document, "a.bench-go#walk-1", HTMLElement);
  if (link) {
    link.replaceWith(button("", () => begin(kept() ?? { number: 1 }), { className: "bench-go", id: link.id }));
    nameBegin();
  }
  const place = placeOf(location.hash);
  if (place) walk(place);
}

/** The button says where it leads. */
function nameBegin() {
  const [start] = findAll(document, "button.bench-go#walk-1", HTMLElement);
  const at = kept();
  if (start) start.textContent = at ? (at.said ? "Back to what was found" : `Go on with question ${at.number}`) : "One question at a time";
}

/** @param {Place} place */
function begin(place) {
  enterEntry(() => {
    history.pushState(null, "", hashOf(place));
    walk(place, 1);
  });
}

/** Steps of the history within a walk are no news for the theme: early.js keeps them from it, which would fetch the page anew. */
addEventListener("bench-back", (event) => {
  if (location.pathname !== shown || !document.querySelector(".bench-ladder")) return open?.end();
  const place = placeOf(location.hash);
  if (event.defaultPrevented || (!place && !open)) return undefined;
  event.preventDefault();
  if (!place) open?.end();
  else if (open) open.go(place);
  else walk(place);
  return undefined;
});

/** Lead through the ladder of this page. @param {Place} from @param {number} entries of the history that are its own */
function walk(from, entries = 0) {
  open?.end();
  const opened = entries; // by the page's button
  const dialog = make("dialog", { className: "bench-follow bench-led bench-walk" });
  dialog.setAttribute("aria-label", title());
  const stage = make("p", { className: "bench-follow-stage" });
  const body = make("div", { className: "bench-led-body" });
  const asks = make("div", { className: "bench-led-asks" });
  const back = button("Back", goBack);
  const stop = button("Stop here", stopHere);
  const speak = button("Speak");
  dialog.append(stage, body, asks, make("div", { className: "bench-follow-row" }, back, stop, speak));
  const gone = new AbortController();
  const { signal } = gone;
  const read = new Set(); // cautions, by question and place
  let at = from;

  const primary = () => findAll(dialog, ".bench-led-read", HTMLElement)[0] ?? asks;
  const press = (/** @type {string} */ name, /** @type {string} */ says, /** @type {() => unknown} */ deed) =>
    button(says, deed, { className: name && `bench-led-${name}` });
  const paragraph = (/** @type {string} */ name, /** @type {string} */ says) => make("p", { className: `bench-led-${name}` }, says);
  const text = (/** @type {Node[]} */ ...parts) => make("div", { className: "bench-led-words md-typeset", role: "status" }, ...parts);

  /** @param {Place} place */
  function go(place) {
    at = place;
    show();
    body.scrollTop = 0;
    body.focus({ preventScroll: true });
    say();
  }

  /** @param {Said} said */
  function answer(said) {
    const next = behind(at.number, said);
    entries++;
    history.pushState(null, "", hashOf(next));
    go(next);
  }

  function goBack() {
    const before = wayTo(at).at(-1);
    if (!before) return;
    if (entries > 1 || (entries && !opened)) return history.back();
    history.replaceState(null, "", hashOf({ number: before.number }));
    go({ number: before.number });
  }

  function show() {
    try {
      sessionStorage.setItem(KEPT + shown, hashOf(at));
    } catch {} // forbidden: it is not remembered
    back.disabled = at.number === 1 && !at.said;
    stage.textContent = `${title()} · ${at.said ? "found" : `question ${at.number}`}`;
    if (at.said) return showFinding(at.said);
    const step = stepOf(at);
    const cautions = cautionsOf(at.number);
    const unread = cautions.findIndex((_, place) => !read.has(`${at.number} ${place}`));
    const answers = ANSWERS.map((said) => press("answer", said === "yes" ? "Yes" : "No", () => answer(said)));
    for (const one of answers) one.disabled = unread >= 0;
    asks.replaceChildren(...answers);
    if (unread >= 0) showCaution(step, cautions[unread], `${at.number} ${unread}`);
    else showQuestion(step, cautions);
  }

  /** @param {Element} step @param {Element} one @param {string} key */
  function showCaution(step, one, key) {
    const copy = /** @type {Element} */ (one.cloneNode(true));
    for (const named of copy.querySelectorAll("[id]")) named.removeAttribute("id");
    const before = one.matches("ul") ? "When to stop and ask" : `Before: ${words(find(step, "[id^='ask-']"))}`;
    const seen = press("read", "Read it", () => (read.add(key), go(at)));
    body.replaceChildren(text(paragraph("before", before), copy), seen);
  }

  /** @param {Element} step @param {Element[]} cautions */
  function showQuestion(step, cautions) {
    const drawn = step.querySelector(".bench-figure svg");
    const drawing = make("div", { className: "bench-led-drawing" }, ...(drawn ? [copyOf(drawn)] : []));
    const minded = cautions.filter((one) => one.matches(".admonition")).map((one) => paragraph(`minded ${one.classList[1]}`, find(one, ".admonition-title").textContent ?? ""));
    const asked = paragraph("deed", words(find(step, "[id^='ask-']")));
    body.replaceChildren(...(drawn ? [drawing] : []), text(asked, restOf(step, LEFT_OUT), ...minded));
  }

  /** @param {Said} said */
  function showFinding(said) {
    const line = answerOf(stepOf(at), said);
    const next = make("p", {}, restOf(find(line, ".bench-do-next"), ".cp"));
    body.replaceChildren(text(paragraph("deed", words(find(line, ".bench-finding"))), next));
    const links = findAll(next, "a[href]", HTMLAnchorElement);
    asks.replaceChildren(
      ...links.slice(-1).map((link) => make("a", { className: "bench-led-now", href: link.href }, words(link))),
      make("div", { className: "bench-walk-note" }),
    );
    showNote();
  }

  /** The finding can be put onto the job sheet, and taken off again. */
  async function showNote() {
    const place = at;
    const note = noteOf(place);
    const { notes } = await theJob();
    const there = notes.find((one) => one.text === note);
    const [slot] = findAll(asks, ".bench-walk-note", HTMLElement);
    if (at !== place || !slot) return;
    const told = make("p", { role: "status" }, there ? "✓ On the job sheet" : "");
    const deed = there
      ? press("", "Take it off", async () => (await remove("notes", there.id, null), showNote()))
      : press("", "Onto the job sheet", async () => (await add("notes", { text: note }), showNote()));
    const held = slot.contains(document.activeElement);
    slot.replaceChildren(told, deed);
    if (held) deed.focus();
  }

  const say = speaker(speak, () => find(body, ".bench-led-words").innerText, signal);
  body.tabIndex = -1;
  stepKeys(dialog, primary, {
    /** What is not on the screen yet is shown first; then a caution is read, or the answer in turn is reached. */
    forward() {
      const below = body.scrollHeight - body.clientHeight - body.scrollTop;
      const [seen] = findAll(body, ".bench-led-read", HTMLElement);
      const choices = findAll(asks, "button, a", HTMLElement);
      const held = choices.findIndex((one) => one === document.activeElement);
      if (below > 8) body.scrollBy(0, Math.min(below, body.clientHeight * 0.8));
      else if (seen) seen.click();
      else choices[(held + 1) % choices.length]?.focus();
    },
    back: goBack,
  });
  dialog.addEventListener("keydown", (event) => {
    const { key, ctrlKey, altKey, metaKey } = event;
    const said = ANSWERS.find((one) => one[0] === key.toLowerCase());
    event.stopPropagation(); // n is the theme's key for the next page
    if (said && !event.repeat && !at.said && !ctrlKey && !altKey && !metaKey && !body.querySelector(".bench-led-read")) answer(said);
  });
  dialog.addEventListener("click", ({ target }) => target instanceof Element && target.closest("a[href]") && setTimeout(end)); // a link that is gone leads nowhere
  dialog.addEventListener("cancel", (event) => (event.preventDefault(), stopHere()));

  /** The reader leaves the walk for its page. */
  function stopHere() {
    end();
    const atRest = () => {
      if (PLACE.test(location.hash)) history.replaceState(null, "", location.pathname + location.search);
      nameBegin();
      stepOf(at).scrollIntoView({ behavior: "instant" });
      findAll(document, "button.bench-go#walk-1", HTMLElement)[0]?.focus({ preventScroll: true });
    };
    if (entries) leaveEntries(atRest, entries);
    else atRest();
  }

  function end() {
    gone.abort();
    dialog.close();
    dialog.remove();
    if (open === mine) open = undefined;
    nameBegin();
  }

  const mine = {
    end,
    /** @param {Place} place */
    go(place) {
      entries = Math.max(0, entries + wayTo(place).length - wayTo(at).length);
      go(place);
    },
  };
  open = mine;
  document.body.append(dialog);
  dialog.showModal();
  go(from);
  stayAwake(signal);
}
