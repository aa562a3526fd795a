/**
 * Walks: steps ticked on the page, and followed full-screen with the phone at arm's length.
 *
 * The steps stand in the page as check boxes, made by Python's renderer. A tick holds for the words it
 * was given for: when the plan changes, it goes.
 */
import { setClock, theJob, tick, untick } from "./job.js";
import { written } from "./locale.js";
import { speaker, stayAwake, stepKeys } from "./full-screen.js";

/** @returns {Map<string, string>} the words of each step of a walk */
const stepsOf = (walk) => new Map([...walk.querySelectorAll("[data-step]")].map(({ dataset }) => [dataset.step, dataset.words]));

/** Show in a walk's boxes what the job has ticked. */
export async function showTicks(host, place) {
  const { ticks } = await theJob();
  for (const walk of host.querySelectorAll("[data-walk]")) {
    const done = ticks[`${place} ${walk.dataset.walk}`] ?? {};
    for (const box of walk.querySelectorAll("[data-step]"))
      box.checked = done[box.dataset.step]?.words === box.dataset.words;
  }
}

/** Nothing is to be worked out anew: a new answer would take the box away from under the finger. */
const noReading = (event) => event.target.dataset.step && event.stopImmediatePropagation();

/** Answer ticks and buttons inside an element whose walks the job knows by `place`. */
export function listenForTicks(host, place, signal) {
  host.addEventListener("input", noReading, { signal, capture: true });
  host.addEventListener(
    "change",
    (event) => {
      const { step } = event.target.dataset;
      if (!step) return;
      noReading(event);
      const walk = event.target.closest("[data-walk]");
      tick(`${place()} ${walk.dataset.walk}`, step, stepsOf(walk), event.target.checked, host);
    },
    { signal, capture: true },
  );
  host.addEventListener(
    "click",
    (event) => {
      const walk = event.target.closest("[data-walk]");
      if (event.target.closest(".bench-untick")) {
        untick(`${place()} ${walk.dataset.walk}`, host);
        for (const box of walk.querySelectorAll("[data-step]")) box.checked = false;
      }
      if (event.target.closest(".bench-follow-start")) follow(walk, `${place()} ${walk.dataset.walk}`, host);
    },
    { signal },
  );
}

/** Lead through the steps one by one, from the first that is not ticked. */
async function follow(walk, name, host) {
  const steps = [...walk.querySelectorAll("[data-step]")];
  const dialog = document.createElement("dialog");
  dialog.className = "bench-follow";
  dialog.setAttribute("aria-label", walk.getAttribute("aria-label"));
  const make = (tag, kind, words = "", parent = dialog) =>
    Object.assign(parent.appendChild(document.createElement(tag)), { className: kind, textContent: words });
  const stage = make("p", "bench-follow-stage");
  const drawing = make("div", "bench-follow-drawing");
  const large = make("p", "bench-follow-large");
  const words = make("p", "bench-follow-words");
  words.setAttribute("role", "status");
  const clock = make("p", "bench-follow-clock");
  const next = make("button", "bench-follow-next", "Done");
  const row = make("div", "bench-follow-row");
  const back = make("button", "", "Back", row);
  const time = make("button", "", "Start the clock", row);
  const speak = make("button", "", "Speak", row);
  const close = make("button", "", "Close", row);
  let at = Math.max(0, steps.findIndex((step) => !step.checked));
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
    stage.textContent = `${step.closest(".bench-stage").getAttribute("aria-label")} · step ${at + 1} of ${steps.length}`;
    const drawn = step.closest(".bench-stage").querySelector(".q-figure svg");
    drawing.replaceChildren(...(drawn ? [drawn.cloneNode(true)] : []));
    drawing.hidden = !drawn;
    large.textContent = written(step.dataset.large);
    const longest = Math.max(...step.dataset.large.split(/\s+/).map((word) => word.length));
    large.style.fontSize = `min(${drawn ? "11vw, 9vh" : "19vw, 26vh"}, ${Math.floor(140 / longest)}vw)`; // no word is broken
    words.textContent = written(step.checked && all() ? `${step.dataset.words} All steps are done.` : step.dataset.words);
    next.textContent = at === steps.length - 1 ? "Done, the last" : "Done, next";
    back.disabled = at === 0;
    time.hidden = !step.dataset.minutes;
    clock.hidden = time.hidden;
    if (!time.hidden) showClock();
    say();
  }

  next.onclick = () => {
    const step = steps[at];
    step.checked = true;
    tick(name, step.dataset.step, stepsOf(walk), true, host);
    if (at === steps.length - 1) return dialog.close();
    at += 1;
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
  close.onclick = () => dialog.close();

  const ticking = setInterval(() => clock.hidden || showClock(), 1000);
  const gone = new AbortController();
  const say = speaker(speak, () => steps[at].dataset.words, gone.signal); // an English voice reads a point
  stepKeys(dialog, () => next, { forward: () => next.click(), back: () => back.click() });
  addEventListener("popstate", () => dialog.close(), { signal: gone.signal });
  dialog.addEventListener("close", async () => {
    clearInterval(ticking);
    gone.abort();
    dialog.remove();
    await showTicks(host, name.slice(0, -walk.dataset.walk.length - 1)); // the answer, and its boxes, may be new ones
    host.querySelector(`[data-walk="${walk.dataset.walk}"] .bench-follow-start`)?.focus();
    host.dispatchEvent(new Event("bench-followed"));
  });
  document.body.append(dialog);
  show();
  dialog.showModal();
  next.focus();
  stayAwake(gone.signal);
}
