/**
 * Two copies of one job become one: tabs, devices and files meet here and nowhere else.
 *
 * Each entry stands for itself: of two, the later edit stays, and what was taken out later stays out.
 * Later is what `order` says, or `when` where the clock can be trusted: a stamp in `order` is later than
 * all that the job held when it was made, whatever the clock said. Which copy is the first makes no difference.
 */
/** @type {Listed[]} */
const LISTS = ["decisions", "parts", "tags", "notes", "checks", "photographs"];
const MOST_ASIDE = 50; // cards laid aside that a job keeps, the newest ones

/** @returns {string} an instant as it compares: 08:00:00Z is before 08:00:00.5Z @param {string} time */
const comparable = (time) => (time.slice(0, -1) + (time.includes(".") ? "" : ".")).padEnd(26, "0");

/** @returns {boolean} whether an instant is after another @param {string} one @param {string} other */
export const isLater = (one, other) => comparable(one) > comparable(other);

/** @param {{when?: string, order?: string, corrected?: string}} entry @returns {string} when it was last edited, in the order of edits */
export function editOf({ order, when = "", corrected = "" }) {
  return order ?? (corrected && isLater(corrected, when) ? corrected : when);
}

/** @returns {string} the same text for the same value, however its keys stand @param {any} value */
export function canonical(value) {
  if (typeof value !== "object" || !value) return JSON.stringify(value) ?? "null";
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`;
  const known = Object.keys(value).filter((key) => value[key] !== undefined);
  return `{${known.sort().map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`).join()}}`;
}

/**
 * The later of two entries; of one time, the one whose text is greater, so that both sides come to the same.
 *
 * @param {any} one
 * @param {any} other
 */
function later(one, other) {
  if (one === undefined || other === undefined) return one ?? other;
  const [edit, otherEdit] = [editOf(one), editOf(other)].map(comparable);
  if (edit !== otherEdit) return edit > otherEdit ? one : other;
  return canonical(one) >= canonical(other) ? one : other;
}

/** The later entry of each key, in the order of keys. @param {Object<string, any>} one @param {Object<string, any>} other */
function latest(one, other) {
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort();
  return Object.fromEntries(keys.map((key) => [key, later(at(one, key), at(other, key))]));
}

/** What a map from outside holds itself, and not what every object has. @param {any} map @param {string} key */
const at = (map, key) => (map && Object.hasOwn(map, key) ? map[key] : undefined);

/** @param {Object<string, string> | undefined} gone */
const stamped = (gone) => Object.fromEntries(Object.entries(gone ?? {}).map(([key, when]) => [key, { when }]));
/** @param {Entry[] | undefined} entries */
const byId = (entries) => Object.fromEntries((entries ?? []).map((entry) => [entry.id, entry]));

/** What a job is about, each entry with its own edit. @param {Partial<Job>} job */
const aboutOf = (job) =>
  Object.fromEntries(
    Object.entries(job.about ?? {}).map(([key, text]) => [key, { when: job.about_orders?.[key] ?? job.about_when ?? "", text }]),
  );

/** The cards that a job has and had, by what they hold. @param {Partial<Job>} job */
function cardsOf(job) {
  /** @type {Object<string, Card>} */
  const found = {};
  for (const card of [...(job.cards_aside ?? []), ...(job.card?.data ? [job.card] : [])]) {
    const key = canonical([card.name, card.data]);
    found[key] = later(found[key], card);
  }
  return found;
}

/** @param {any} part @returns {part is Object<string, any>} */
const isMap = (part) => typeof part === "object" && part !== null && !Array.isArray(part);

/** @returns {boolean} whether a source only says more than another; that one is not known says nothing @param {any} source @param {any} whole */
const saysMore = (source, whole) => typeof whole === "string" && `${whole}; `.startsWith(`${source}; `.replace(/(^|; )([^;:]+: )?not known; $/, "$1"));

/** @returns {boolean} whether all that a part of a card says stands on another's @param {any} part @param {any} whole */
function isIn(part, whole) {
  if (!isMap(part) || !isMap(whole)) return canonical(part) === canonical(whole);
  return Object.keys(part).every((key) => (key === "source" && saysMore(part[key], at(whole, key))) || isIn(part[key], at(whole, key)));
}

/**
 * @returns {Card[]} the reader's own cards that these jobs have or had, but for the one that is in use, and for those
 *   that were only added to: all that such a card says stands on the later one
 * @param {Card | undefined} inUse
 * @param {...Kept} jobs
 */
export function laidAside(inUse, ...jobs) {
  const cards = jobs.map(cardsOf).reduce(latest);
  if (inUse?.data) delete cards[canonical([inUse.name, inUse.data])];
  const known = [...Object.values(cards), ...(inUse?.data ? [inUse] : [])];
  const apart = Object.entries(cards).filter(([, card]) => !known.some((one) => one !== card && one.name === card.name && isIn(card.data, one.data)));
  const all = inOrder(apart, ([, card]) => card.when ?? "", ([key]) => key);
  return all.slice(-MOST_ASIDE).map(([, card]) => card);
}

/**
 * @param {Kept} one
 * @param {Kept} other
 * @returns {Job} one job out of two copies, with which it shares its entries: none is ever changed in place
 */
export function merged(one, other) {
  const [left, right] = [one, other].map(({ changed }) => comparable(changed));
  const [older, newer] = (left === right ? canonical(one) <= canonical(other) : left < right) ? [one, other] : [other, one];
  const gone = latest(stamped(older.gone), stamped(newer.gone));
  const isGone = (/** @type {string} */ key, /** @type {Stamp} */ entry) => key in gone && !isLater(editOf(entry), gone[key].when);
  /** The later entries of one kind, without those that were taken out after they were made. */
  const kept = (/** @type {string} */ kind, /** @type {object} */ mine, /** @type {object} */ theirs) => {
    const entries = Object.entries(latest(mine, theirs));
    for (const [key, entry] of entries) if (!isGone(`${kind} ${key}`, entry)) delete gone[`${kind} ${key}`];
    return entries.filter(([key]) => !(`${kind} ${key}` in gone));
  };
  const whole = /** @type {Job} */ ({ id: newer.id, made: isLater(older.made, newer.made) ? newer.made : older.made, changed: newer.changed });
  whole.about = {};
  /** @type {Object<string, string>} */
  const orders = {};
  for (const [key, { when, text }] of Object.entries(latest(aboutOf(older), aboutOf(newer)))) {
    whole.about[key] = text;
    if (when) orders[key] = when;
  }
  if (Object.keys(orders).length) whole.about_orders = orders;
  const card = older.card && newer.card ? later(older.card, newer.card) : (older.card ?? newer.card);
  if (card) whole.card = card;
  const aside = laidAside(card, older, newer);
  if (aside.length) whole.cards_aside = aside;
  whole.readings = Object.fromEntries(kept("readings", older.readings ?? {}, newer.readings ?? {}));
  whole.ticks = {};
  for (const walk of [...new Set([older, newer].flatMap(({ ticks }) => Object.keys(ticks ?? {})))].sort()) {
    const ticks = kept(`ticks ${walk}`, at(older.ticks, walk) ?? {}, at(newer.ticks, walk) ?? {});
    if (ticks.length) whole.ticks[walk] = Object.fromEntries(ticks);
  }
  whole.clocks = Object.fromEntries(kept("clocks", older.clocks ?? {}, newer.clocks ?? {}));
  for (const list of LISTS) {
    const entries = kept(list, byId(older[list]), byId(newer[list])).map(([, entry]) => entry);
    whole[list] = inOrder(entries, ({ when }) => when, ({ id }) => id);
  }
  whole.gone = Object.fromEntries(Object.keys(gone).sort().map((key) => [key, gone[key].when]));
  return whole;
}

/**
 * @template One
 * @param {One[]} entries
 * @param {(entry: One) => string} when
 * @param {(entry: One) => string} key
 */
function inOrder(entries, when, key) {
  const rank = (/** @type {One} */ entry) => `${when(entry) && comparable(when(entry))} ${key(entry)}`;
  return entries.map((entry) => /** @type {const} */ ([rank(entry), entry])).sort(([one], [other]) => (one < other ? -1 : 1)).map(([, entry]) => entry);
}

/** @param {Partial<Job>} job @returns {Iterable<[string, {when?: string}]>} every entry of a job with its edit, named as `gone` names it */
function* entriesOf(job) {
  for (const [path, reading] of Object.entries(job.readings ?? {})) yield [`readings ${path}`, reading];
  for (const [walk, ticks] of Object.entries(job.ticks ?? {}))
    for (const [step, tick] of Object.entries(ticks)) yield [`ticks ${walk} ${step}`, tick];
  for (const [name, clock] of Object.entries(job.clocks ?? {})) yield [`clocks ${name}`, clock];
  for (const list of LISTS) for (const entry of job[list] ?? []) yield [`${list} ${entry.id}`, entry];
  for (const [key, about] of Object.entries(aboutOf(job))) yield [`about ${key}`, about];
  if (job.card) yield ["card", job.card];
}

/** @returns {string} the last edit that a job knows of, its own or taken over; "" for none @param {Partial<Job>} job */
export function lastEdit(job) {
  const edits = [...entriesOf(job)].map(([, entry]) => editOf(entry)).concat(Object.values(job.gone ?? {}));
  return edits.filter(Boolean).reduce((last, edit) => (!last || isLater(edit, last) ? edit : last), "");
}

/** Names under which older editions kept what is now asked under another; Python's `RENAMED` has them too. */
const RENAMED = {
  cranking_exponent: "polytropic_exponent",
  cranking_exponent_error: "polytropic_exponent_error",
  deck_difference_allowed: "height_tolerance",
  "lash.marks.end": "stands_at",
  "lash.plan.end": "stands_at",
  "measuring.even.may_differ": "chamber_difference",
};

/**
 * A job as this edition keeps it: in older ones a unit was chosen beside a box, apart from the number that stood in it,
 * and what calculators worked out stood among the readings, each with the calculator that it was from; some names were
 * others.
 *
 * @returns {Job} each number with its unit, where the job says which; one without stands in its entry's own
 * @param {Job} job
 */
export function withUnits(job) {
  const readings = Object.fromEntries(Object.entries(job.readings ?? {}).filter(([, reading]) => !("from" in reading)));
  for (const [path, { text }] of Object.entries(readings)) {
    const column = path.endsWith(".unit") && path.slice(0, -".unit".length);
    if (!column) continue;
    delete readings[path];
    for (const [other, reading] of Object.entries(readings)) {
      const inColumn = other === column || (other.startsWith(`${column}.`) && /^\d+$/.test(other.slice(column.length + 1)));
      if (inColumn && reading.unit === undefined) readings[other] = { ...reading, unit: text };
    }
  }
  for (const [before, now] of Object.entries(RENAMED)) {
    if (!(before in readings)) continue;
    readings[now] ??= readings[before];
    delete readings[before];
  }
  const clocks = Object.fromEntries(
    Object.entries(job.clocks ?? {}).map(([name, clock]) => [name, typeof clock === "number" ? { until: clock, when: job.made } : clock]),
  );
  return { ...job, readings, clocks };
}
