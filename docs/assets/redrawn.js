/**
 * Drawings that are another for another engine: the build draws them from the site's own card, and here they are
 * drawn again from the card that the job has. Python draws; what it drew is kept for the tab.
 */
import { find } from "./elements.js";
import { theJob } from "./job.js";
import { ask } from "./python.js";
import release from "./release.js";

const OURS = ". Drawn for the demonstration engine, not for the card’s.";
const INHERITED = ". Some of it is still the example’s.";
/** @type {WeakMap<HTMLElement, string>} what the build drew, by figure */
const built = new WeakMap();
/** @typedef {{title: string, shows: string, height: number, inside: string, inherited: boolean}} Drawn */
/** @type {Object<string, string> | undefined} of what draws, fetched when the first drawing is drawn again */
let sources;
/** @type {{of: string, drawings: Object<string, Drawn>}} what Python drew, for the card last asked for */
const drawn = { of: "", drawings: {} };

/** @returns {HTMLElement[]} the figures of the page that follow the card */
const figures = () => [...document.querySelectorAll("figure[data-drawing]")].filter((figure) => figure instanceof HTMLElement);

/** What drawings of a card hang on; empty for the card that the pages are built with. @param {Card | undefined} card */
function nameOf(card) {
  if (!card || (!card.data && card.name === release.card)) return "";
  return `${card.name} ${card.data ? card.when : ""}`;
}

/** Put a drawing in the place of another; its ids stay, so that what names it still does. @param {HTMLElement} figure @param {Drawn} drawing */
function put(figure, { title, shows, height, inside, inherited }) {
  const svg = find(figure, "svg", SVGSVGElement);
  const said = [...svg.children].slice(0, 2);
  said[0].textContent = title;
  said[1].textContent = shows;
  svg.setAttribute("viewBox", `0 0 ${svg.viewBox.baseVal.width} ${height}`);
  const shapes = new DOMParser().parseFromString(`<svg xmlns="${svg.namespaceURI}" xmlns:xlink="http://www.w3.org/1999/xlink">${inside}</svg>`, "image/svg+xml");
  svg.replaceChildren(...said, ...document.adoptNode(shapes.documentElement).children);
  const caption = find(figure, "figcaption").lastChild;
  const words = inherited ? `${title}${INHERITED}` : title;
  if (caption) caption.textContent = figure.querySelector(".bench-at") ? ` ${words}` : words;
}

/** @param {HTMLElement} figure */
const nameIn = (figure) => figure.dataset.drawing ?? "";

async function show() {
  const here = figures();
  if (!here.length) return;
  for (const figure of here) if (!built.has(figure)) built.set(figure, figure.innerHTML);
  const { card } = await theJob();
  const of = nameOf(card);
  if (!card || !of) {
    for (const figure of here) if (figure.innerHTML !== built.get(figure)) figure.innerHTML = built.get(figure) ?? "";
    for (const figure of here) delete figure.dataset.of;
    return;
  }
  if (drawn.of !== of) Object.assign(drawn, { of, drawings: {} });
  const wanted = here.filter((figure) => figure.dataset.of !== of);
  const names = [...new Set(wanted.map(nameIn))].filter((name) => !drawn.drawings[name]);
  for (const figure of wanted) figure.ariaBusy = "true";
  try {
    if (names.length) {
      const given = card.data ? { name: card.name, data: card.data } : card.name;
      sources ??= await (await fetch(new URL("drawings.json", import.meta.url))).json();
      const { drawings } = await ask({ want: "drawings", card: given, names, sources });
      if (nameOf((await theJob()).card) !== of) return;
      Object.assign(drawn.drawings, drawings);
    }
    for (const figure of wanted) {
      figure.innerHTML = built.get(figure) ?? "";
      put(figure, drawn.drawings[nameIn(figure)]);
      figure.dataset.of = of;
    }
  } catch (error) {
    console.warn(error); // Python does not run here: whose the drawing is, is said below it
    for (const figure of wanted) {
      const caption = find(figure, "figcaption");
      if (!caption.textContent?.endsWith(OURS)) caption.append(OURS);
    }
  } finally {
    for (const figure of wanted) figure.ariaBusy = null;
  }
}

addEventListener("bench-job", ({ detail }) => (!detail.paths || detail.paths.includes("card")) && show());
if (globalThis.document$) document$.subscribe(show); // the theme's: also each page that it puts in place
else show();
