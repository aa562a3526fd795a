/**
 * A form as a sheet: over the page on a phone, beside the text where there is room for both.
 *
 * Escape, its Done and the browser's Back close it; the page then stands where it stood, and the focus is
 * where it came from. On a phone it fills what the keyboard leaves, so that its top stays in sight.
 */
import { enterEntry, leaveEntries } from "./full-screen.js";

const beside = matchMedia("(min-width: 1000px)"); // as in question.css

/** @type {{dialog: HTMLDialogElement, opener: () => HTMLElement | null, top: number, entry: boolean, land?: () => void} | undefined} */
let open;
/** @type {ScrollRestoration} how the page's entry was to be scrolled before */
let scrolls = "auto";

/** @returns {number} where the opener stands in the window, so that it can stand there again @param {() => HTMLElement | null} opener */
const placeOf = (opener) => opener()?.getBoundingClientRect().top ?? 0;

/**
 * Put the page back to where the opener stood before the sheet changed what is around it.
 * @param {() => HTMLElement | null} opener
 * @param {number} top
 */
function settle(opener, top) {
  const shift = opener()?.isConnected ? placeOf(opener) - top : 0; // a link may have led elsewhere by now
  if (Math.abs(shift) > 1) scrollBy({ top: shift, behavior: "instant" });
}

/**
 * The browser may anchor its scrolling too, once it lays the page out: look again then.
 * @param {() => HTMLElement | null} opener
 * @param {number} top
 */
function settleTwice(opener, top) {
  settle(opener, top);
  requestAnimationFrame(() => requestAnimationFrame(() => settle(opener, top)));
}

/** Keep the sheet in what the keyboard leaves of the window. */
function fit() {
  if (!open || !visualViewport) return;
  const { style } = open.dialog;
  style.setProperty("--q-sheet-top", `${visualViewport.offsetTop}px`);
  style.setProperty("--q-sheet-height", `${visualViewport.height}px`);
}

/**
 * Open a sheet, or show it anew in the place of one that was replaced.
 *
 * @param {HTMLDialogElement} dialog
 * @param {() => HTMLElement | null} opener the button that gets the focus back; asked for anew, for an answer replaces it
 */
export function openSheet(dialog, opener) {
  closedMeanwhile();
  const again = Boolean(open);
  const top = open?.top ?? placeOf(opener);
  open = { dialog, opener, top, entry: Boolean(open?.entry) };
  fit();
  if (beside.matches) dialog.show();
  else dialog.showModal();
  document.documentElement.dataset.sheet = beside.matches ? "beside" : "over"; // for the stylesheet: a :has() there is asked for each element that comes
  if (!beside.matches) dialog.querySelector(".q-sheet-answer")?.setAttribute("role", "status"); // beside the text, the answer there speaks
  dialog.addEventListener("close", closedMeanwhile);
  settleTwice(opener, top);
  if (again) return;
  enterEntry(() => {
    if (!open || open.entry) return;
    open.entry = true;
    history.replaceState({ x: scrollX, y: scrollY }, ""); // as the theme keeps it: where Back leads to
    scrolls = history.scrollRestoration;
    history.scrollRestoration = "manual"; // for this entry: the way back puts the page where closed() wants it
    history.pushState(null, "");
  });
}

/** Close the sheet. @param {() => void} [land] puts the focus elsewhere than on its opener */
export function closeSheet(land) {
  if (!open) return;
  open.land = land;
  open.dialog.close();
  closedMeanwhile(); // what is pressed before the browser has told finds the way back begun
}

/** @param {HTMLDialogElement | null} dialog @returns {boolean} whether this is the sheet that stands open */
export const isOpen = (dialog) => Boolean(dialog?.open) && open?.dialog === dialog;

/** The page of the sheet is gone, or its element: nothing is to be put back. @param {Element} host */
export function forget(host) {
  if (!open || !host.contains(open.dialog)) return;
  open = undefined;
  delete document.documentElement.dataset.sheet;
}

/** The browser tells a dialog that it has closed when it has time for it: it may be opened again by then. */
function closedMeanwhile() {
  if (open && !open.dialog.open) closed();
}

function closed() {
  if (!open) return;
  const { opener, top, entry, land } = open;
  open = undefined;
  delete document.documentElement.dataset.sheet;
  const back = () => {
    if (land) return land();
    settleTwice(opener, top);
    opener()?.focus({ preventScroll: true });
  };
  back();
  if (entry) leaveEntries(() => (back(), (history.scrollRestoration = scrolls)));
}

/** The way back to the page under the sheet is no news for the theme, which would fetch that page anew: see early.js. */
addEventListener("bench-back", (event) => {
  if (!open?.entry || event.defaultPrevented) return; // pressed twice, the second is there before the first has closed it
  event.preventDefault();
  open.entry = false;
  open.dialog.close();
  history.scrollRestoration = scrolls;
});
addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !open || open.dialog.matches(":modal") || event.defaultPrevented) return;
  event.preventDefault();
  closeSheet();
});
for (const sign of ["resize", "scroll"]) visualViewport?.addEventListener(sign, fit);
