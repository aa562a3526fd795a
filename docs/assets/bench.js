/** What every page loads: the elements, and Python for the reader who is on the way to a calculator. */
import "./bench-calculator.js";
import "./bench-diagnostics.js";
import "./card-values.js";
import "./not-kept.js";
import "./steps.js";
import { startPython } from "./python.js";
import release from "./release.js";

const root = new URL("../../", import.meta.url);
const pages = new Set(release.calculatorPages.map((page) => new URL(page, root).pathname));

/** A few pages bring elements that no other needs. */
document$.subscribe(() => {
  if (document.querySelector("bench-question, data.answer-value")) import("./bench-question.js");
  for (const name of ["bench-home", "bench-job", "bench-card", "bench-checks"]) if (document.querySelector(name)) import(`./${name}.js`);
});

/** To print, the theme opens every fold; ours stay as the reader left them. Hence capture: ours is told first. */
const folds = "details:is([class*='bench-'], .q-fold, .q-one)";
const shut = (on) => () => {
  for (const fold of document.querySelectorAll(on ? `${folds}:not([open])` : folds)) fold.classList.toggle("bench-shut", on);
};
addEventListener("beforeprint", shut(true), { capture: true });
addEventListener("afterprint", shut(false));

/** A finger or a pointer on a link to a calculator is reason enough to start. */
for (const sign of ["pointerover", "touchstart", "focusin"])
  addEventListener(
    sign,
    ({ target }) => {
      const link = target instanceof Element && target.closest("a[href]");
      if (link && link.origin === root.origin && pages.has(link.pathname)) startPython();
    },
    { passive: true },
  );
