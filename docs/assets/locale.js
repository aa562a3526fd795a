/**
 * Numbers and dates as the reader writes them, in what the elements show; the words stay English.
 *
 * Python prints a decimal point and the day before the month. Here, and only in what is shown, the point
 * becomes the comma of a reader who writes one, and the month goes before the day for who puts it there.
 * Both are asked of the reader's own language: of English in the reader's region a browser may know nothing.
 * What is kept, typed, exported, shared or spoken stays as Python has it.
 */

const AS_PRINTED = "en-GB";
const LEFT = 'input, textarea, select, code, pre, .bench-source, [data-locale="as-is"]';
const SHOWN = ["aria-label", "data-label"]; // attributes that are read aloud, or that the stylesheet writes
const DECIMAL = /([Cc]lass |steel |^head: |^|[^\w.])(\d+)\.(\d+)(?!\.?\d)/g; // no clause 4.3.7, no file name, no class of steel
const DECIMALS_IN_A_ROW = /(\d,\d+), (?=[±−+-]?\d+,\d)/g; // one comma cannot both part numbers and stand in them
const DAY =
  /\b(?:(Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?(\d{1,2}) (Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sep(?:tember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?)(?: (\d{4}))?\b/g;

/** @returns {string} the reader's language; some browsers name one that is none ("C") */
function readers() {
  try {
    return Intl.getCanonicalLocales(navigator.language)[0] ?? AS_PRINTED;
  } catch {
    return AS_PRINTED;
  }
}

const reader = readers();
/** @param {any} format @param {(part: any) => boolean} wanted */
const part = (format, wanted) => format.formatToParts(0.5).find(wanted);
const comma = part(new Intl.NumberFormat(reader, { numberingSystem: "latn" }), ({ type }) => type === "decimal").value === ",";
/** The mark that the reader writes before tenths. */
export const decimalMark = comma ? "," : ".";
const monthFirst = part(new Intl.DateTimeFormat(reader, { dateStyle: "long" }), () => true).type === "month";
const { hourCycle } = new Intl.DateTimeFormat(reader, { hour: "numeric" }).resolvedOptions();

/** @param {string} found @param {string} before @param {string} whole @param {string} rest */
const withComma = (found, before, whole, rest) => (before.length > 1 ? found : `${before}${whole},${rest}`);
/** @param {string} _ @param {string} weekday @param {string} day @param {string} month @param {string} year */
const monthBeforeDay = (_, weekday, day, month, year) => `${weekday ? `${weekday}, ` : ""}${month} ${day}${year ? `, ${year}` : ""}`;

/** @returns {string} a text that Python printed, as the reader writes it @param {string} text */
export function written(text) {
  if (comma && text.includes(".")) text = text.replace(DECIMAL, withComma).replace(DECIMALS_IN_A_ROW, "$1; ");
  return monthFirst && /\d [A-Z]/.test(text) ? text.replace(DAY, monthBeforeDay) : text;
}

/**
 * @returns {string} an instant in the reader's own time: its day, and if wanted its minute
 * @param {string} when
 * @param {boolean} [minute]
 */
export function writtenTime(when, minute = true) {
  /** @type {Intl.DateTimeFormatOptions} */
  const format = { dateStyle: "medium", ...(minute && { timeStyle: "short", hourCycle }) };
  return new Date(when).toLocaleString(monthFirst ? "en-US" : AS_PRINTED, format);
}

/** Write all that stands in an element as the reader writes it. A second time changes nothing. @param {ParentNode} root */
export function inReadersWay(root) {
  for (const time of root.querySelectorAll("time")) time.textContent = writtenTime(time.dateTime, time.textContent.includes(":"));
  if (!comma && !monthFirst) return;
  const texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let text; (text = /** @type {Text | null} */ (texts.nextNode())); ) {
    const words = written(text.data);
    if (words !== text.data && !text.parentElement?.closest(LEFT)) text.data = words;
  }
  for (const name of SHOWN)
    for (const element of root.querySelectorAll(`[${name}]`)) {
      const words = element.getAttribute(name) ?? "";
      if (words !== written(words) && !element.closest(LEFT)) element.setAttribute(name, written(words));
    }
}
