/**
 * A card of the reader's own from a layout and five facts, one row a fact: value, unit, where from.
 *
 * What else a question needs, it asks for itself. What is typed is read and judged by Python, as the long form is.
 */
import { inReadersWay } from "./locale.js";
import { ask } from "./python.js";
import facts from "./facts.js";

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

const options = (words) => words.map((one) => `<option>${one}</option>`).join("");
const boxOf = (path) => `bench-begin-${path.replace(".", "-")}`;

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
<div class="bench-field"><label for="bench-begin-layout">Layout and firing order</label><select id="bench-begin-layout">${Object.entries(facts.cards)
  .filter(([name]) => name.startsWith(LAYOUT))
  .sort(([one], [other]) => Number(other.startsWith("layout-flat")) - Number(one.startsWith("layout-flat")))
  .map(([name, card]) => `<option value="${name}">${card.name.replace("Layout: ", "")}</option>`)
  .join("")}</select></div>
</div>
<p class="bench-hint">Hold the numbering and the firing order against the maker’s. Leave empty what you do not have: a question that needs it asks for it.</p>
${FACTS.map(rowOf).join("")}
<div class="bench-buttons"><button type="button" data-do="begin">Make this the job’s card</button></div>
</details>`;

/** @returns {Promise<{data?: object, errors: number}>} the card that was typed; what is wrong stands beside its row */
export async function readBegun(host) {
  const fold = host.querySelector(".bench-begin");
  const name = fold.querySelector("#bench-begin-name");
  const { texts } = await ask({ want: "card-form", card: fold.querySelector("#bench-begin-layout").value });
  texts.name = name.value.trim();
  texts.about = `${fold.querySelector("#bench-begin-layout").selectedOptions[0].text}; begun with five facts.`;
  for (const row of fold.querySelectorAll("[data-path]")) {
    const [value, unit, from] = ["value", "unit", "from"].map((part) => row.querySelector(`[data-part=${part}]`).value.trim());
    if (!value) continue;
    texts[row.dataset.path] = NAMES_UNIT.test(value) ? value : `${value} ${unit}`;
    texts[`${row.dataset.path}.source`] = from;
  }
  const { data, errors } = await ask({ want: "card-read", texts });
  const wrong = new Map(errors.map(({ field, message }) => [field, message]));
  for (const [box, field] of [[name, "name"], ...[...fold.querySelectorAll("[data-path]")].map((row) => [row.querySelector("input"), row.dataset.path])]) {
    const error = box.parentElement.querySelector(".bench-error");
    error.textContent = wrong.get(field) ?? "";
    inReadersWay(error);
    box.setAttribute("aria-invalid", String(wrong.has(field)));
  }
  fold.querySelector("[aria-invalid=true]")?.focus();
  return { data, errors: errors.length };
}
