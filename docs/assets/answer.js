/** Puts what Python answered into a calculator's place on the page; all HTML is Python's. */
import { inReadersWay, written } from "./locale.js";
import { showTicks } from "./walk.js";

/** Say beside each box what its text was taken for, where that is written otherwise. */
export function showUnderstood(host, understood) {
  for (const field of host.querySelectorAll("[data-field]")) {
    const read = field.querySelector(".bench-read");
    if (read) read.textContent = written(understood[field.dataset.field] ?? "");
  }
}

/** Say what is wrong, beside each box and in the summary. */
export function showErrors(host, { errors, summary }) {
  const wrong = new Map(errors.map(({ field, message }) => [field, message]));
  for (const field of host.querySelectorAll("[data-field]")) {
    const message = wrong.get(field.dataset.field) ?? "";
    field.querySelector(".bench-error").textContent = written(message);
    field.querySelector("[name]").setAttribute("aria-invalid", String(Boolean(message)));
  }
  const shown = host.querySelector(".bench-summary");
  shown.innerHTML = summary;
  inReadersWay(shown);
  shown.hidden = !errors.length;
}

/** The fold or the tick that has the focus keeps it, though it is another element now. */
export function showAnswer(host, html, place) {
  const shown = host.querySelector(".bench-answer");
  const focused = shown.contains(document.activeElement) && document.activeElement;
  const { step } = focused ? focused.dataset : {};
  const fold = focused && focused.closest("[data-fold]")?.dataset.fold;
  shown.innerHTML = html;
  inReadersWay(shown);
  showTicks(host, place);
  if (step) host.querySelector(`[data-step="${CSS.escape(step)}"]`)?.focus();
  else if (fold) host.querySelector(`[data-fold="${CSS.escape(fold)}"] > summary`)?.focus();
}

/** Add the rows that a table lacks, and hide those beyond its count; none is ever dropped. */
export function showRows(host, rows) {
  for (const [key, { count, more }] of Object.entries(rows)) {
    const table = host.querySelector(`[data-rows="${key}"]`);
    if (more) {
      table.insertAdjacentHTML("beforeend", more);
      inReadersWay(table);
    }
    [...table.children].forEach((row, index) => (row.hidden = index >= count));
  }
}
