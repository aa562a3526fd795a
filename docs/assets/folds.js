/** Opens the fold round the place that a link or the search leads to. Browsers of today do so for a link by themselves. */
import { findAll } from "./elements.js";

/** @returns {boolean} whether anything was shut @param {Element} place */
function open(place) {
  /** @type {HTMLDetailsElement[]} */
  const shut = [];
  for (let fold = place.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) if (!fold.open) shut.push(fold);
  for (const fold of shut) fold.open = true;
  return shut.length > 0;
}

/** While the search covers a phone the theme lets nothing scroll. @param {Element} place */
function goTo(place) {
  if (document.body.hasAttribute("data-md-scrolllock")) requestAnimationFrame(() => goTo(place));
  else place.scrollIntoView();
}

/** @returns {Element | null} what the address leads to, where that is in a fold */
function linked() {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  return place?.closest("details.fold") ? place : null;
}

/** @param {string} text */
const words = (text) => text.toLowerCase().match(/[\p{L}\d]+/gu) ?? [];

/** What was searched for stands in the address: the line that is called so, else the first that says it. */
function searched() {
  const asked = words(new URLSearchParams(location.search).get("h") ?? "");
  if (!asked.length || location.hash) return undefined;
  /** @param {string} text */
  const says = (text) => asked.every((begins) => words(text).some((word) => word.startsWith(begins)));
  const lines = findAll(document, ".fold tr[id]", HTMLTableRowElement);
  return lines.find(({ cells }) => says(cells[0].textContent)) ?? lines.find(({ textContent }) => says(textContent));
}

/** Whoever opened the fold first, the theme or the browser, need not have gone to the place itself. */
export function arrive() {
  const place = linked() ?? searched();
  if (!place) return;
  open(place);
  goTo(place);
}

addEventListener("hashchange", () => {
  const place = linked();
  if (place && open(place)) goTo(place);
});
