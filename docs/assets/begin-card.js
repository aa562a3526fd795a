/**
 * A card of the reader's own from a layout and five facts, one row a fact: value, unit, where from.
 *
 * What else a question needs, it asks for itself. What is typed is read and judged by Python, as the long form is.
 */
import { find, findAll } from "./elements.js";
import { inReadersWay } from "./locale.js";
import { ask } from "./python.js";
import cards from "./cards.js";

/** @type {[string, string, string[]][]} path, what it is called, its usual units; the first questions of a job take these */
const FACTS = [
  ["dimensions.bore", "Bore", ["mm", "in"]],
  ["dimensions.stroke", "Stroke", ["mm", "in"]],
  ["torques.cylinder_head", "Torque of the head nuts", ["N·m", "lbf·ft"]],
  ["clearances.inlet", "Valve lash, inlet", ["mm", "in"]],
  ["clearances.exhaust", "Valve lash, exhaust", ["mm", "in"]],
];
const FROM = ["maker’s book", "measured", "told", "not known"];
const NAMES_UNIT = /[\p{L}°%"″′']/u; // as Python tells a number that brings its own
const LAYOUT = "layout-";

/** @param {string[]} words */
const options = (words) => words.map((one) => `<option>${one}</option>`).join("");
/** @param {string} path */
const boxOf = (path) => `bench-begin-${path.replace(".", "-")}`;

/** @param {[string, string, string[]]} fact */
const rowOf = ([path, label, units]) => `
<div class="bench-begin-row" data-path="${path}">
<label for="${boxOf(path)}">${label}</label>
<input id="${boxOf(path)}" data-part="value" type="text" inputmode="decimal" maxlength="60" aria-describedby="${boxOf(path)}-error">
<select data-part="unit" aria-label="Unit of ${label}">${options(units)}</select>
<select data-part="from" aria-label="Where ${label} is from">${options(FROM)}</select>
<p class="bench-error" id="${boxOf(path)}-error"></p>
</div>`;

/** @returns {string} the fold in which a card is begun */
export const begun = () => `
<details class="bench-more bench-begin">
<summary>Begin your engine’s card: its layout and five facts</summary>
<div class="bench-fields">
<div class="bench-field"><label for="bench-begin-name">Name of the engine</label><input id="bench-begin-name" type="text" maxlength="100"><p class="bench-error"></p></div>
<div class="bench-field"><label for="bench-begin-layout">Layout and firing order</label><select id="bench-begin-layout">${Object.entries(cards)
  .filter(([name]) => name.startsWith(LAYOUT))
  .sort(([one], [other]) => Number(other.startsWith("layout-flat")) - Number(one.startsWith("layout-flat")))
  .map(([name, card]) => `<option value="${name}">${card.name.replace("Layout: ", "")}</option>`)
  .join("")}</select></div>
</div>
<p class="bench-hint">Hold the numbering and the firing order against the maker’s. Leave empty what you do not have: a question that needs it asks for it.</p>
${FACTS.map(rowOf).join("")}
<div class="bench-buttons"><button type="button" data-do="begin">Make this the job’s card</button></div>
</details>`;

/** @returns {Promise<{data?: CardFacts, errors: number}>} the card that was typed; what is wrong stands beside its row @param {HTMLElement} host */
export async function readBegun(host) {
  const fold = find(host, ".bench-begin");
  const name = find(fold, "#bench-begin-name", HTMLInputElement);
  const layout = find(fold, "#bench-begin-layout", HTMLSelectElement);
  const rows = findAll(fold, "[data-path]", HTMLElement);
  const { texts } = await ask({ want: "card-form", card: layout.value });
  texts.name = name.value.trim();
  texts.about = `${layout.selectedOptions[0].text}; begun with five facts.`;
  for (const row of rows) {
    const [value, unit, from] = ["value", "unit", "from"].map((part) => /** @type {HTMLInputElement} */ (find(row, `[data-part=${part}]`)).value.trim());
    if (!value) continue;
    const { path = "" } = row.dataset;
    texts[path] = NAMES_UNIT.test(value) ? value : `${value} ${unit}`;
    texts[`${path}.source`] = from;
  }
  const { data, errors } = await ask({ want: "card-read", texts });
  const wrong = new Map(errors.map((/** @type {{field: string, message: string}} */ { field, message }) => [field, message]));
  /** @type {[HTMLInputElement, string][]} */
  const boxes = [[name, "name"], ...rows.map((row) => /** @type {[HTMLInputElement, string]} */ ([find(row, "input", HTMLInputElement), row.dataset.path ?? ""]))];
  for (const [box, field] of boxes) {
    const error = find(/** @type {HTMLElement} */ (box.parentElement), ".bench-error");
    error.textContent = wrong.get(field) ?? "";
    inReadersWay(error);
    box.setAttribute("aria-invalid", String(wrong.has(field)));
  }
  findAll(fold, "[aria-invalid=true]", HTMLElement)[0]?.focus();
  return { data, errors: errors.length };
}
