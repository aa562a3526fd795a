/**
 * A folder of the shop's own choosing that every job of this browser is written to, at each change.
 *
 * Each device writes files of its own, and never another's: what another wrote is taken in by the reader, as any
 * file is. The browser gives the folder to whoever was asked by a tap, and may ask again when it was shut.
 */
import { allJobs, fromDesk, toDesk } from "./job.js";
import { exported, fileOf } from "./job-file.js";

const FOLDER = "folder";
const DEVICE = "device";
const WANTED = { id: "bench-jobs", mode: /** @type {const} */ ("readwrite") };
const LARGEST = 20_000_000; // bytes of a file that is looked at
const MOST = 500; // files that are

/** @type {FileSystemDirectoryHandle | undefined} */
let folder;
let device = "";
let setback = ""; // why the last writing failed
let writing = false;
let again = false;
/** @type {Map<string, string>} by job: what was written last, and under which name */
const written = new Map();

const known = (async () => {
  folder = await fromDesk(FOLDER);
  device = (await fromDesk(DEVICE)) ?? "";
})().catch(console.warn);

/** @returns {boolean} whether this browser can write to a folder at all */
export const canKeep = () => Boolean(globalThis.showDirectoryPicker);

/** @returns {Promise<{name: string, asks: boolean, setback: string} | undefined>} the folder, whether the browser asks first, and what failed */
export async function standing() {
  await known;
  return folder && { name: folder.name, asks: (await folder.queryPermission(WANTED)) !== "granted", setback };
}

/** Let the reader choose a folder, or give leave to the one that was chosen. @param {boolean} another */
export async function choose(another) {
  await known;
  if (!folder || another) {
    folder = await globalThis.showDirectoryPicker?.(WANTED);
    written.clear();
    device ||= [...crypto.getRandomValues(new Uint8Array(3))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    await toDesk(FOLDER, folder);
    await toDesk(DEVICE, device);
  } else await folder.requestPermission(WANTED);
  await writeAll();
}

/** Write to it no more; its files stay. */
export async function leave() {
  folder = undefined;
  written.clear();
  await toDesk(FOLDER, undefined);
}

/** A job that was only opened is nobody's yet. @param {Job} job */
const holdsSomething = ({ about, card, readings, ticks, ...lists }) =>
  Boolean(card) || Object.keys({ ...about, ...readings, ...ticks }).length > 0 || Object.values(lists).some((list) => Array.isArray(list) && list.length > 0);

/** Write each job that has changed since; one time at a time. */
async function writeAll() {
  await known;
  again = true;
  if (writing || !folder) return;
  writing = true;
  try {
    while (again && folder) {
      again = false;
      if ((await folder.queryPermission(WANTED)) !== "granted") break;
      for (const job of (await allJobs()).filter(holdsSomething)) await write(folder, job);
      setback = "";
    }
  } catch (error) {
    setback = `The folder ${folder?.name} could not be written: ${error.message}`;
  }
  writing = false;
  dispatchEvent(new Event("bench-folder"));
}

/** @param {FileSystemDirectoryHandle} into @param {Job} job */
async function write(into, job) {
  const mine = `-${job.id}-${device}.json`;
  const name = `${fileOf(job)}${mine}`;
  const mark = `${name} ${job.changed}`;
  if (written.get(job.id) === mark) return;
  const handle = await into.getFileHandle(name, { create: true });
  const stream = await handle.createWritable(); // another file until it is closed: never half of one
  await stream.write(exported([job]));
  await stream.close();
  if (!written.get(job.id)?.startsWith(`${name} `))
    for await (const other of into.keys()) if (other.endsWith(mine) && other !== name) await into.removeEntry(other); // its former name
  written.set(job.id, mark);
}

/** @returns {Promise<File[]>} what other devices wrote, the newest first */
export async function ofOthers() {
  const files = [];
  if (!folder) return [];
  for await (const handle of folder.values()) {
    if (handle.kind !== "file" || !/-[0-9a-f]{8,32}-[0-9a-f]{6}\.json$/.test(handle.name) || handle.name.endsWith(`-${device}.json`)) continue;
    const file = await handle.getFile();
    if (file.size < LARGEST) files.push(file);
    if (files.length === MOST) break;
  }
  return files.sort((one, other) => other.lastModified - one.lastModified);
}

addEventListener("bench-job", writeAll);
addEventListener("bench-kept", writeAll);
writeAll();
