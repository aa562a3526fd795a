/** A page with boxes says when what is typed into them is not kept: all of it, or which entries. */
import { make } from "./elements.js";
import { keeps, whyNotKept } from "./job.js";

const BOXES = "bench-question, bench-card, h2#steps ~ ol"; // the job's own page says it beside its buttons
const FORGETS = "This browser keeps nothing: what you type or tick is forgotten when the tab is closed. Export the job first, on the job’s page.";

async function show() {
  const article = document.querySelector("article");
  const words = (await keeps()) ? whyNotKept() : FORGETS;
  const shown = document.querySelector(".bench-not-kept");
  if (!article || !words || !document.querySelector(BOXES)) return shown?.remove();
  const notice = shown ?? make("p", { className: "bench-brought bench-not-kept" });
  notice.setAttribute("role", "status");
  if (!notice.isConnected) article.prepend(notice);
  if (notice.textContent !== words) notice.textContent = words; // after it is there, so that it is read out
}

for (const sign of ["bench-job", "bench-kept"]) addEventListener(sign, show);
document$.subscribe(show); // the theme's: each page that is shown, also without a reload
