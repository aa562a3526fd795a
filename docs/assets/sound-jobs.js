/**
 * What of a tree from outside is jobs as the schema has them: one bad entry never takes the others with it.
 */
import { Validator } from "./json-schema/index.js";
import jobSchema from "./job-schema.js";

const { $defs } = jobSchema;
const { properties } = $defs.job;
const FRAME = { $ref: "#/$defs/job" };
const checks = new Map(); // by the part of the schema
/** The maps of a job, by what is in them; its lists are those properties that are arrays. */
const MAPS = ["about", "about_orders", "readings", "clocks", "gone"];

/** @returns {boolean} whether a value is as a part of the schema has it @param {any} schema @param {unknown} value */
function fits(schema, value) {
  if (value === undefined) return false;
  if (!checks.has(schema)) checks.set(schema, new Validator({ ...schema, $defs }, "2020-12", true));
  return checks.get(schema).validate(value).valid;
}

/** @returns {value is Object<string, any>} @param {any} value */
const isMap = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
/** A time can be written as the schema has it and not be there: the 31st of a month of thirty days. */
const isTimed = (/** @type {Object<string, any>} */ { when, order, corrected, back }) => [when, order, corrected, back].every((time) => time === undefined || !Number.isNaN(Date.parse(time)));

/**
 * @param {unknown[]} jobs from outside
 * @returns {{jobs: Kept[], left: string[]}} the sound ones, each with its sound entries, and the places of what was left out
 */
export function soundJobs(jobs) {
  const left = [];
  const found = [];
  const ids = new Set();
  for (const [index, job] of jobs.entries()) {
    const own = `jobs/${index}`;
    const { id, made, changed } = isMap(job) ? job : /** @type {Object<string, any>} */ ({});
    const frame = { id, made, changed };
    if (!isMap(job) || !fits(FRAME, JSON.parse(JSON.stringify(frame))) || !isTimed({ when: made, order: changed }) || ids.has(id)) left.push(own);
    else {
      ids.add(id);
      found.push({ ...frame, ...soundParts(job, own, left) });
    }
  }
  return { jobs: found, left };
}

/** @param {Object<string, any>} job @param {string} own @param {string[]} left */
function soundParts(job, own, left) {
  /** @type {Object<string, any>} */
  const parts = {};
  for (const [name, value] of Object.entries(job)) {
    const schema = properties[name];
    const here = `${own}/${name}`;
    if (["id", "made", "changed"].includes(name)) continue;
    if (schema?.type === "array" && Array.isArray(value)) parts[name] = soundList(schema, value, here, left);
    else if (name === "ticks" && isMap(value)) {
      const walk = schema.additionalProperties;
      parts.ticks = Object.fromEntries(
        Object.entries(within(schema, value, here, left, isMap)).map(([key, ticks]) => [key, within(walk, ticks, `${here}/${key}`, left)]),
      );
    } else if (MAPS.includes(name) && isMap(value)) parts[name] = within(schema, value, here, left);
    else if (schema && fits(schema, value) && isTimed(isMap(value) ? value : { when: name === "about_when" ? value : undefined })) parts[name] = value;
    else left.push(here);
  }
  return parts;
}

/** @param {any} schema @param {any[]} entries @param {string} here @param {string[]} left */
function soundList({ items, maxItems }, entries, here, left) {
  const ids = new Set();
  return entries.filter((entry, index) => {
    const good = fits(items, entry) && isTimed(entry) && !(entry.id && ids.has(entry.id)) && ids.size < maxItems;
    if (good) ids.add(entry.id ?? index);
    else left.push(`${here}/${index}`);
    return good;
  });
}

/**
 * The entries of a map that fit, no more of them than the schema allows.
 * @param {any} schema
 * @param {Object<string, any>} map
 * @param {string} here
 * @param {string[]} left
 * @param {(value: any) => boolean} [good]
 */
function within({ properties: named, additionalProperties: other, propertyNames: names, maxProperties = Infinity }, map, here, left, good) {
  let count = 0;
  return Object.fromEntries(
    Object.entries(map).filter(([key, value]) => {
      const schema = named ? (Object.hasOwn(named, key) ? named[key] : undefined) : other;
      const time = isMap(value) ? value : { when: schema?.$ref === "#/$defs/time" ? value : undefined };
      const sound = count < maxProperties && (!names || fits(names, key)) && (good ? good(value) : schema && fits(schema, value) && isTimed(time));
      if (sound) count += 1;
      else left.push(`${here}/${key}`);
      return sound;
    }),
  );
}
