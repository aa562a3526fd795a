/** A job as a file: its text, its name, and what it is called. */
import { fileName } from "./files.js";
import jobSchema from "./job-schema.js";
import { writtenTime } from "./locale.js";

/** The formats of a file that this edition reads; it writes the last. @type {number[]} */
export const FORMATS = jobSchema.properties.format.enum;

/** @returns {string} @param {Job[]} jobs */
export const exported = (jobs) => `${JSON.stringify({ format: FORMATS.at(-1), written: new Date().toISOString(), jobs }, null, 1)}\n`;

/** @param {{about?: Object<string, string>, made: string}} job @returns {string} */
export const nameOf = ({ about = {}, made }, day = writtenTime(made, false)) => about.name || about.vehicle || `Job of ${day}`;

/** @param {Job} job */
export const fileOf = (job) => fileName(nameOf(job, job.made.slice(0, 10)), job.id);
