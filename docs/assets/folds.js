/** Opens the fold round the place that a link or the search leads to. Browsers of today do so for a link by themselves. */
import { findAll } from "./elements.js";

/** @param {Element} place */
function open(place) {
  /** @type {HTMLDetailsElement[]} */
  const shut = [];
  for (let fold = place.closest("details"); fold; fold = fold.parentElement?.closest("details") ?? null) if (!fold.open) shut.push(fold);
  for (const fold of shut) fold.open = true;
  if (shut.length) place.scrollIntoView();
}

function toLink() {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (place?.closest("details.fold")) open(place);
}

/** @param {string} text */
const words = (text) => text.toLowerCase().match(/[\p{L}\d]+/gu) ?? [];

/** What was searched for stands in the address: the line that is called so, else the first that says it. */
function toSearched() {
  const asked = words(new URLSearchParams(location.search).get("h") ?? "");
  if (!asked.length || location.hash) return;
  /** @param {string} text */
  const says = (text) => asked.every((begins) => words(text).some((word) => word.startsWith(begins)));
  const lines = findAll(document, ".fold tr[id]", HTMLTableRowElement);
  const line = lines.find(({ cells }) => says(cells[0].textContent)) ?? lines.find(({ textContent }) => says(textContent));
  if (line) open(line);
}

export function arrive() {
  toLink();
  toSearched();
}

addEventListener("hashchange", toLink);
