/** What every page loads: what its elements need, and Python for the reader who is on the way to a question. */
import { fromDesk, theJob } from "./job.js";
import { rehearse, startPython } from "./python.js";
import release from "./release.js";

const root = new URL("../../", import.meta.url);
const pages = new Set(release.questionPages.map((page) => new URL(page, root).pathname));

/** Which module which pages need. */
const NEEDS = Object.entries({
  "bench-question": "bench-question, data.answer-value",
  "steps": "h2#steps ~ ol",
  "clocks": "bench-question, button.bench-clock",
  "redrawn": "figure[data-drawing]",
  "card-values": "data.card-value, bench-question, bench-home, bench-job, bench-card", // where the card may change, too
  "not-kept": "bench-question, bench-card, h2#steps ~ ol",
  ...Object.fromEntries(["bench-home", "bench-job", "bench-card", "bench-checks", "bench-tags", "bench-diagnostics"].map((name) => [name, name])),
});

document$.subscribe(() => {
  const question = document.querySelector("bench-question");
  if (question) startPython(); // before the question's own script has come
  for (const [name, where] of NEEDS) if (document.querySelector(where)) import(`./${name}.js`);
  if (question) {
    import("./share.js").then(({ offer }) => offer());
    rehearse(() => question.isConnected && worked(question.getAttribute("name") ?? ""));
  }
  if (document.querySelector(".fold")) import("./folds.js").then(({ arrive }) => arrive());
  if (document.querySelector(".bench-ladder")) import("./walk-ladder.js").then(({ arrive }) => arrive());
});

/** A clock that runs is shown on every page. @param {Job} job */
const showClocks = ({ clocks }) => Object.keys(clocks).length && import("./clocks.js");
theJob().then(showClocks);
addEventListener("bench-job", ({ detail }) => showClocks(detail.job));

/** What the theme replaces when it changes the page. */
const contents = () => document.querySelector("[data-md-component=container]");

/** @param {Element} one our own elements go as they are: they may have an answer to come */
function takeApart(one) {
  for (const inner of Array.from(one.children)) if (!inner.localName.includes("-")) takeApart(inner);
  one.replaceChildren();
}

/** The theme holds on to a part of each page that it has replaced, and that to all of the page: ten thousand nodes each. */
let held = contents();
document$.subscribe(() => {
  const before = held;
  held = contents();
  if (before && before !== held) setTimeout(() => takeApart(before));
});

/** @returns {Asked} the worked example of a question, as the page asks for it, and never taken over from before @param {string} name */
const worked = (name) => ({
  want: "questions",
  questions: [{ name, opened: [], rows: {}, whole: false }],
  quotes: [],
  card: release.card,
  readings: {},
  example: true,
  anew: true,
});

/** A shop's folder is written to at each change, whichever page makes it. */
fromDesk("folder").then((kept) => kept && import("./shop-folder.js")).catch(console.warn);

/** To print, the theme opens every fold; ours stay as the reader left them. Hence capture: ours is told first. */
const folds = "details:is([class*='bench-'], .q-fold, .q-one)";
/** @param {boolean} on */
const shut = (on) => () => {
  for (const fold of document.querySelectorAll(on ? `${folds}:not([open])` : folds)) fold.classList.toggle("bench-shut", on);
};
addEventListener("beforeprint", shut(true), { capture: true });
addEventListener("afterprint", shut(false));

/** The search says figures of its own only to who heads for it. */
const search = document.querySelector(".md-search");
/** @param {Event} event */
const searched = ({ target }) => target instanceof Node && search?.contains(target) && import("./search-answers.js");
for (const sign of ["focusin", "input"]) addEventListener(sign, searched);
if (search && new URLSearchParams(location.search).has("q")) import("./search-answers.js");

/** A finger or a pointer on a link to a question is reason enough to start. */
for (const sign of ["pointerover", "touchstart", "focusin"])
  addEventListener(
    sign,
    ({ target }) => {
      const link = target instanceof Element && target.closest("a");
      if (link && link.origin === root.origin && pages.has(link.pathname)) startPython();
    },
    { passive: true },
  );
