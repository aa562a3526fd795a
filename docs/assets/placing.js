/**
 * Placing by hand, on a card's drawings: a stud is dragged to where it stands, and a cylinder onto the one
 * whose number it takes. What comes of it is typed into the boxes below, as a reader would.
 */
import { find } from "./elements.js";

const FINEST = 0.5; // mm: no hand on a drawing places finer
const HELD_STILL = 3; // units of the drawing: less is a tap and moves nothing
const BANKS = "layout.banks";

/** @param {HTMLElement} host with the drawings and the boxes in it @param {AbortSignal} signal */
export function listenForPlacing(host, signal) {
  /** @typedef {{mark: SVGGElement, pointer: number, before: Object<string, string>, x: number, y: number}} Held since where */
  /** @type {Held | undefined} */
  let held;
  /** @param {PointerEvent} event */
  const heldBy = (event) => (held?.pointer === event.pointerId ? held : undefined);
  /** @param {string} name */
  const boxOf = (name) => find(host, `[name="${CSS.escape(name)}"]`, HTMLInputElement);
  /** @param {string} sign @param {(event: any) => void} deed */
  const on = (sign, deed) => host.addEventListener(sign, deed, { signal });

  on("pointerdown", (event) => {
    const mark = event.target.closest("g[data-row], g[data-cylinder]");
    if (!mark || !event.isPrimary || event.button) return;
    event.preventDefault();
    host.setPointerCapture(event.pointerId); // the drawing may be drawn anew meanwhile
    held = { mark, pointer: event.pointerId, before: textsOf(mark), ...onDrawing(mark, event) };
    mark.classList.add("held");
  });
  on("pointermove", (event) => {
    const one = heldBy(event);
    if (!one?.mark.isConnected) return;
    const { x, y } = wayOf(one, event);
    one.mark.setAttribute("transform", `translate(${x} ${y})`);
    if (one.mark.dataset.row) put(placeOf(one.mark, x, y), false);
  });
  on("pointerup", (event) => {
    const one = heldBy(event);
    if (!one) return;
    const { mark, before } = one;
    const { x, y } = wayOf(one, event);
    letGo();
    if (!mark.isConnected || Math.hypot(x, y) < HELD_STILL) return put(before, false);
    if (mark.dataset.row) put(placeOf(mark, x, y), true);
    else changeNumbers(mark, document.elementFromPoint(event.clientX, event.clientY)?.closest("g[data-cylinder]"));
  });
  on("pointercancel", (event) => {
    const one = heldBy(event);
    if (!one) return;
    put(one.before, false);
    letGo();
  });

  /** @returns {Object<string, string>} what stands in the boxes of a stud, to be put back as it was typed @param {SVGGElement} mark */
  function textsOf(mark) {
    const names = mark.dataset.row ? Object.keys(placeOf(mark, 0, 0)) : [];
    return Object.fromEntries(names.map((name) => [name, boxOf(name).value]));
  }

  function letGo() {
    held?.mark.removeAttribute("transform");
    held?.mark.classList.remove("held");
    held = undefined;
  }

  /** @param {Held} one @param {PointerEvent} event */
  function wayOf(one, event) {
    const { x, y } = onDrawing(one.mark, event);
    return { x: x - one.x, y: y - one.y };
  }

  /**
   * @returns {Object<string, string>} what stands in the boxes of a stud that is moved so far, in units of the drawing
   * @param {SVGGElement} mark
   * @param {number} right
   * @param {number} down
   */
  function placeOf(mark, right, down) {
    const { row, x, y, scale } = mark.dataset;
    const section = /** @type {HTMLElement} */ (mark.closest("[data-section]"));
    const table = find(section, "[data-rows]").dataset.rows;
    const near = (/** @type {number} */ length) => `${(Math.round(length / FINEST) * FINEST).toFixed(1).replace(/^-(?=0\.0$)|\.0$/g, "")} mm`;
    return { [`${table}.${row}.x`]: near(Number(x) + right / Number(scale)), [`${table}.${row}.y`]: near(Number(y) - down / Number(scale)) };
  }

  /** @param {SVGGElement} mark @param {SVGGElement | null | undefined} other */
  function changeNumbers(mark, other) {
    if (!other || other === mark) return;
    const [one = "", two = ""] = [mark.dataset.cylinder, other.dataset.cylinder];
    put({ [BANKS]: boxOf(BANKS).value.replace(/\d+/g, (number) => ({ [one]: two, [two]: one })[number] ?? number) }, true);
  }

  /** Put texts into boxes; as typed, where the hand has let go. @param {Object<string, string>} texts @param {boolean} typed */
  function put(texts, typed) {
    for (const [name, text] of Object.entries(texts)) {
      const box = boxOf(name);
      box.value = text;
      if (typed) box.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }
}

/** Where a pointer is, in units of the drawing; it cannot leave it. @param {SVGGElement} mark @param {PointerEvent} event */
function onDrawing({ ownerSVGElement }, { clientX, clientY }) {
  const drawing = /** @type {SVGSVGElement} */ (ownerSVGElement);
  const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(drawing.getScreenCTM()?.inverse());
  const { width, height } = drawing.viewBox.baseVal;
  const within = (/** @type {number} */ place, /** @type {number} */ most) => Math.min(Math.max(place, 0), most);
  return { x: within(x, width), y: within(y, height) };
}
