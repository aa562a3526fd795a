/** What the full-screen views share: the screen stays on, words are spoken, a pedal or a presenter leads on, drawings are copied. */

const FORWARD = new Set([" ", "Enter", "PageDown", "ArrowRight", "ArrowDown"]);
const BACK = new Set(["PageUp", "ArrowLeft", "ArrowUp"]);
let copies = 0;

/** Keep the screen on until the signal comes, where the browser can; it lets go whenever the page is hidden. @param {AbortSignal} signal */
export function stayAwake(signal) {
  /** @type {WakeLockSentinel | undefined | void} */
  let awake;
  const wake = async () => {
    if (document.visibilityState !== "visible") return;
    awake = await navigator.wakeLock?.request("screen").catch(() => {});
    if (signal.aborted) awake?.release();
  };
  document.addEventListener("visibilitychange", wake, { signal });
  signal.addEventListener("abort", () => awake?.release());
  wake();
}

/**
 * Let a button turn the voice on and off.
 *
 * @param {HTMLButtonElement} button
 * @param {() => string} words what stands there now
 * @param {AbortSignal} signal
 * @returns {() => void} speaks what stands there, if the voice is on
 */
export function speaker(button, words, signal) {
  const can = "speechSynthesis" in globalThis;
  button.hidden = !can;
  button.setAttribute("aria-pressed", "false");
  const isOn = () => button.getAttribute("aria-pressed") === "true";
  const say = () => {
    if (!isOn()) return;
    speechSynthesis.cancel();
    speechSynthesis.speak(Object.assign(new SpeechSynthesisUtterance(words()), { lang: document.documentElement.lang }));
  };
  button.onclick = () => {
    button.setAttribute("aria-pressed", String(!isOn()));
    if (isOn()) say();
    else speechSynthesis.cancel();
  };
  signal.addEventListener("abort", () => can && speechSynthesis.cancel());
  return say;
}

/**
 * Lead on and back by keys. Space and Enter belong to the button that has the focus, unless that leads on itself.
 *
 * @param {HTMLDialogElement} dialog
 * @param {() => Element} primary the button that leads on
 * @param {{forward: () => void, back: () => void}} deeds
 */
export function stepKeys(dialog, primary, { forward, back }) {
  const leads = (/** @type {KeyboardEvent} */ { key, target, ctrlKey, altKey, metaKey }) =>
    !ctrlKey && !altKey && !metaKey &&
    (BACK.has(key) || (FORWARD.has(key) && !((key === " " || key === "Enter") && target instanceof Element && target.closest("button, a, [role=button]") && target !== primary())));
  dialog.addEventListener("keydown", (event) => {
    if (!leads(event)) return;
    event.preventDefault();
    if (event.repeat) return; // a pedal that is held down is pressed once
    if (FORWARD.has(event.key)) forward();
    else back();
  });
  dialog.addEventListener("keyup", (event) => event.key === " " && leads(event) && event.preventDefault());
}

/** A drawing of the page once more: its ids are another's. @param {Element} drawing @returns {Element} */
export function copyOf(drawing) {
  const copy = `follow-${++copies}-`;
  const held = document.createElement("template");
  held.innerHTML = drawing.outerHTML
    .replace(/ id="/g, ` id="${copy}`)
    .replace(/(url\(#|href="#)/g, `$1${copy}`)
    .replace(/ aria-labelledby="([^"]*)"/g, (_, /** @type {string} */ ids) => ` aria-labelledby="${ids.split(" ").map((id) => copy + id).join(" ")}"`);
  return /** @type {Element} */ (held.content.firstElementChild);
}

/** @type {(() => void)[]} what is to be done as each of our own ways back through the history has come to its end */
const leaving = [];
/** @type {(() => void)[]} the entries that were to come meanwhile: the way back would have led over them */
const coming = [];
/** @type {HTMLElement | undefined} the link that was pressed before: the way back would have led away from where it leads */
let pressed;

/** Put an entry of our own into the history, once no way back is under way. @param {() => void} enter */
export function enterEntry(enter) {
  if (leaving.length) coming.push(enter);
  else enter();
}

/** Go back over entries of our own; the browser does so later. @param {() => void} done @param {number} [entries] */
export function leaveEntries(done, entries = 1) {
  leaving.push(done);
  history.go(-entries);
}

addEventListener("click", (event) => {
  const link = leaving.length && !pressed && event.target instanceof Element && event.target.closest("a[href]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return; // these lead to another window
  pressed = link;
  event.preventDefault();
  event.stopImmediatePropagation();
}, { capture: true });

addEventListener("bench-back", (event) => {
  const done = leaving.shift();
  if (!done) return;
  event.preventDefault(); // no news for the theme: see early.js
  done();
  if (leaving.length) return;
  for (const enter of coming.splice(0)) enter();
  pressed?.click();
  pressed = undefined;
});

/**
 * Let the browser's Back close a dialog and stay on the page.
 *
 * @param {HTMLDialogElement} dialog
 * @param {AbortSignal} signal when it has gone
 * @param {() => boolean} [isInFront] false while something over it has its own way back
 * @returns {() => unknown} takes its entry out of the history, where the dialog was closed by another way
 */
export function closesOnBack(dialog, signal, isInFront = () => true) {
  let scrolls = history.scrollRestoration;
  let entered = false;
  enterEntry(() => {
    if (signal.aborted) return;
    scrolls = history.scrollRestoration;
    history.replaceState({ x: scrollX, y: scrollY }, ""); // as the theme keeps it: where Back leads to
    history.scrollRestoration = "manual"; // whoever closes the dialog says where the page then stands
    history.pushState(null, "");
    entered = true;
  });
  const left = () => {
    entered = false;
    history.scrollRestoration = scrolls;
  };
  addEventListener("bench-back", (event) => {
    if (event.defaultPrevented || !entered || !dialog.open || !isInFront()) return;
    event.preventDefault();
    left();
    dialog.close();
  }, { signal });
  return () => entered && leaveEntries(left);
}
