/**
 * Walks: steps ticked on the page, and followed full-screen with the phone at arm's length.
 *
 * The steps stand in the page as check boxes, made by Python's renderer; a map of nuts ticks them too. A tick holds for the words it
 * was given for: when the plan changes, it goes.
 */
import { button, findAll, make } from "./elements.js";
import { setClock, theJob, tick, untick } from "./job.js";
import { written } from "./locale.js";
import { closesOnBack, speaker, stayAwake, stepKeys } from "./full-screen.js";

/** @returns {Map<string, string>} the words of each step of a walk @param {Element} walk */
const stepsOf = (walk) => new Map(boxesOf(walk).map(({ dataset: { step = "", words = "" } }) => [step, words]));

/** @param {ParentNode} walk */
const boxesOf = (walk) => findAll(walk, "[data-step]", HTMLInputElement);

/** Show in a walk's boxes what the job has ticked. @param {HTMLElement} host @param {string} place */
export async function showTicks(host, place) {
  const { ticks } = await theJob();
  for (const walk of host.querySelectorAll("[data-walk]")) {
    const done = ticks[`${place} ${walk.dataset.walk}`] ?? {};
    for (const box of boxesOf(walk))
      box.checked = done[box.dataset.step ?? ""]?.words === box.dataset.words;
  }
  await showMaps(host);
}

const MAP = ".q-figure svg:has(g[data-nut])";

/** @returns {HTMLElement | undefined} the walk that a map stands for: of the head in hand, else the first that is not done @param {ParentNode} host */
function walkInHand(host) {
  const walks = findAll(host, "[data-walk]:has(input[data-nut])", HTMLElement);
  const heads = findAll(document, '[name="bench-head"]', HTMLInputElement);
  const head = `head_${heads.findIndex(({ checked }) => checked) + 1}`;
  return walks.find(({ dataset }) => dataset.walk === head) ?? walks.find((walk) => boxesOf(walk).some(({ checked }) => !checked)) ?? walks[0];
}

/** Let the maps of nuts show what is ticked, and be touched. @param {HTMLElement} host */
async function showMaps(host) {
  const maps = findAll(host, `.q-answer ${MAP}`, SVGSVGElement);
  if (!maps.length || !walkInHand(host)) return;
  const { showNuts } = await import("./nut-map.js");
  const walk = () => /** @type {HTMLElement} */ (walkInHand(host));
  for (const map of maps)
    if (map.isConnected) showNuts(map, { walk, now: () => boxesOf(walk()).find(({ checked }) => !checked), tick: (box) => box.click() });
}

/** Nothing is to be worked out anew: a new answer would take the box away from under the finger. @param {any} event */
const noReading = (event) => event.target.dataset.step && event.stopImmediatePropagation();

/**
 * Answer ticks and buttons inside an element whose walks the job knows by `place`.
 * @param {HTMLElement} host
 * @param {() => string} place
 * @param {AbortSignal} signal
 */
export function listenForTicks(host, place, signal) {
  host.addEventListener("input", noReading, { signal, capture: true });
  document.addEventListener("change", ({ target }) => target instanceof HTMLInputElement && target.name === "bench-head" && showMaps(host), { signal });
  addEventListener(
    "bench-job",
    ({ detail }) => detail.here !== host && detail.paths?.some((path) => path.startsWith(`ticks ${place()} `)) && showTicks(host, place()),
    { signal },
  );
  host.addEventListener(
    "change",
    (/** @type {any} */ event) => {
      const { step } = event.target.dataset;
      if (!step) return;
      noReading(event);
      const walk = event.target.closest("[data-walk]");
      tick(`${place()} ${walk.dataset.walk}`, step, stepsOf(walk), event.target.checked, host);
      showMaps(host);
    },
    { signal, capture: true },
  );
  host.addEventListener(
    "click",
    (/** @type {any} */ event) => {
      const walk = event.target.closest("[data-walk]");
      if (event.target.closest(".bench-untick")) {
        untick(`${place()} ${walk.dataset.walk}`, host);
        for (const box of boxesOf(walk)) box.checked = false;
        showMaps(host);
      }
      if (event.target.closest(".bench-follow-start")) follow(walk, `${place()} ${walk.dataset.walk}`, host);
    },
    { signal },
  );
}

/**
 * Lead through the steps one by one, from the first that is not ticked.
 * @param {HTMLElement} walk
 * @param {string} name
 * @param {HTMLElement} host
 */
async function follow(walk, name, host) {
  const steps = boxesOf(walk);
  const dialog = make("dialog", { className: "bench-follow" });
  dialog.setAttribute("aria-label", walk.getAttribute("aria-label") ?? "");
  const part = (/** @type {"p" | "div"} */ tag, /** @type {string} */ name, /** @type {Node[]} */ ...inside) =>
    dialog.appendChild(make(tag, { className: `bench-follow-${name}` }, ...inside));
  const stage = part("p", "stage");
  const drawing = part("div", "drawing");
  const large = part("p", "large");
  const words = part("p", "words");
  words.setAttribute("role", "status");
  const clock = part("p", "clock");
  const next = dialog.appendChild(make("button", { className: "bench-follow-next" }));
  const [back, time, speak] = ["Back", "Start the clock", "Speak"].map((name) => button(name));
  part("div", "row", back, time, speak, button("Close", () => dialog.close()));
  let at = Math.max(0, steps.findIndex((step) => !step.checked));
  const ahead = new Set(); // ticked out of the order, on the map
  /** @type {import("./nut-map.js").Turned} */
  const turned = {
    walk: () => walk,
    now: () => (steps[at].checked ? steps.find((step) => !step.checked) : steps[at]),
    tick(box, done) {
      if (done && box === steps[at]) return next.click();
      box.checked = done;
      if (done) ahead.add(box);
      else ahead.delete(box);
      return tick(name, box.dataset.step ?? "", stepsOf(walk), done, host);
    },
  };
  /** @type {Element | null} */
  let drawn;
  const all = () => steps.every((step) => step.checked);

  const until = async () => (await theJob()).clocks[`${name} ${steps[at].dataset.step}`]?.until;
  async function showClock() {
    const end = await until();
    const left = end ? Math.ceil((end - Date.now()) / 1000) : 0;
    const shown = `${Math.floor(Math.abs(left) / 60)}:${String(Math.abs(left) % 60).padStart(2, "0")}`;
    clock.textContent = end ? (left > 0 ? shown : `Time is up, ${shown} ago`) : "";
    time.textContent = end ? "Stop the clock" : written(`Start the clock: ${Number(steps[at].dataset.minutes)} min`);
  }

  function show() {
    const step = steps[at];
    const { large: short = "", words: whole = "" } = step.dataset;
    const around = /** @type {HTMLElement} */ (step.closest(".bench-stage"));
    stage.textContent = `${around.getAttribute("aria-label")} · step ${at + 1} of ${steps.length}`;
    const before = drawn;
    drawn = around.querySelector(".q-figure svg") ?? (step.dataset.nut ? host.querySelector(`.q-answer > ${MAP}`) : null);
    if (drawn !== before) drawing.replaceChildren(...(drawn ? [drawn.cloneNode(true)] : []));
    drawing.hidden = !drawn;
    showNuts();
    large.textContent = written(short);
    const longest = Math.max(...short.split(/\s+/).map((word) => word.length));
    large.style.fontSize = `min(${step.dataset.nut ? "17vw, 9vh" : drawn ? "11vw, 9vh" : "19vw, 26vh"}, ${Math.floor(140 / longest)}vw)`; // no word is broken
    words.textContent = written(step.checked && all() ? `${whole} All steps are done.` : whole);
    next.textContent = at === steps.length - 1 ? "Done, the last" : "Done, next";
    back.disabled = at === 0;
    time.hidden = !step.dataset.minutes;
    clock.hidden = time.hidden;
    if (!time.hidden) showClock();
    say();
  }

  /** The map of the nuts, if this has one, is touched here too. */
  async function showNuts() {
    const map = drawing.querySelector("svg:has(g[data-nut])");
    if (map instanceof SVGSVGElement) (await import("./nut-map.js")).showNuts(map, turned);
  }

  next.onclick = () => {
    const step = steps[at];
    step.checked = true;
    tick(name, step.dataset.step ?? "", stepsOf(walk), true, host);
    do at += 1;
    while (ahead.has(steps[at]));
    if (at >= steps.length) return dialog.close();
    show();
  };
  back.onclick = () => ((at -= 1), show());
  time.onclick = async () => {
    await setClock(
      `${name} ${steps[at].dataset.step}`,
      (await until()) ? undefined : Date.now() + 60_000 * Number(steps[at].dataset.minutes),
    );
    showClock();
  };
  const ticking = setInterval(() => clock.hidden || showClock(), 1000);
  const gone = new AbortController();
  const say = speaker(speak, () => steps[at].dataset.words ?? "", gone.signal); // an English voice reads a point
  stepKeys(dialog, () => next, { forward: () => next.click(), back: () => back.click() });
  addEventListener("bench-job", ({ detail }) => detail.here !== host && setTimeout(showNuts), { signal: gone.signal });
  dialog.addEventListener("close", async () => {
    clearInterval(ticking);
    gone.abort();
    dialog.remove();
    leave();
    await showTicks(host, name.slice(0, -(walk.dataset.walk ?? "").length - 1)); // the answer, and its boxes, may be new ones
    host.querySelector(`[data-walk="${walk.dataset.walk}"] .bench-follow-start`)?.focus();
    host.dispatchEvent(new Event("bench-followed"));
  });
  document.body.append(dialog);
  show();
  dialog.showModal();
  const leave = closesOnBack(dialog, gone.signal);
  next.focus();
  stayAwake(gone.signal);
}
