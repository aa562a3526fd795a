/**
 * Boot the runtime once, import the calculators, and keep its memory.
 *
 *   node --import ./frozen_world.mjs snapshot.mjs RUNTIME OUTPUT STAYS
 *
 * RUNTIME: the folder made by browser_python.py; OUTPUT: the file to write, and beside it the parts of the code
 * that come later; STAYS: what a making before this one found to stay (close_together.mjs), written anew when this
 * one finds more: then there is no output, it prints nothing and wants to be repeated. Else it prints as JSON which
 * modules are in the memory, and where its chain of objects begins. Wheels are unpacked, not loaded as packages: a
 * memory that has loaded packages cannot be restored. No calculator has answered before: what the interpreter writes
 * into code that has run would be shipped too, and makes the memory a seventh larger.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { APART, layCloseTogether, nothingKnown } from "./close_together.mjs";

const [runtime, output, known] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);

const pyodide = await loadPyodide({
  indexURL: runtime,
  _makeSnapshot: true,
  env: { HOME: "/home/pyodide", PYTHONHASHSEED: "0" },
});
for (const name of readdirSync(runtime).filter((name) => name.endsWith(".whl")).sort())
  pyodide.unpackArchive(new Uint8Array(readFileSync(`${runtime}/${name}`)), "wheel");

const stays = existsSync(known) ? new Uint8Array(readFileSync(known)) : nothingKnown();
const laid = layCloseTogether(pyodide._module, stays);
const usual = JSON.stringify(readFileSync(new URL("usual_functions.txt", import.meta.url), "utf8"));
const program = JSON.stringify(readFileSync(new URL("snapshot.py", import.meta.url), "utf8"));
const { modules, looked_after } = JSON.parse(
  pyodide.runPython(`(lambda space: [exec(${program}, space), space["make"](${usual}), space.clear()][1])({"__name__": "snapshot"})`),
);
for (const name of pyodide.FS.readdir("/later")) {
  if (!name.endsWith(".bin")) continue;
  writeFileSync(join(dirname(output), name), pyodide.FS.readFile(`/later/${name}`));
  pyodide.FS.unlink(`/later/${name}`);
}
zeroFreeMemory(pyodide._module, 0); // or what was freed would still point at names
forgetNames(pyodide._module, laid.words());
const left = laid.done();
if (left) {
  writeFileSync(known, stays);
  process.exit(0);
}
zeroFreeMemory(pyodide._module, 512);
const whole = pyodide.makeMemorySnapshot();
const [, head] = new Uint32Array(whole.buffer, 0, 2);
const snapshot = whole.slice(0, head + pyodide._module._sbrk(0));
const chain = shorten(pyodide._module, snapshot, looked_after);
clearGaps(pyodide._module, snapshot);
const tables = leaveOutTables(pyodide._module, snapshot);
writeFileSync(output, snapshot);
process.stdout.write(JSON.stringify({ modules, chain, tables }));
process.exit(0);

/**
 * Write what is different in each object, and can be had again, as what is alike in all.
 *
 * All objects that the collector looks after are one chain through the words before them. Instead of who is next and
 * who was before, each says how far it is to the next in the memory; the order does not matter. Marks by which the
 * interpreter tells one state of a function, its code, or a dictionary from another become 0: not yet marked. A
 * function has its mark in word 17, and its code in word 6; code has its constants in word 3 and its mark in word 17;
 * a dictionary has a gap in word 3 and its mark above the lowest 12 bits of words 4 and 5 (CPython 3.13, Include).
 *
 * @param {any} module the runtime's
 * @param {Uint8Array} snapshot
 * @param {number} object one that the collector looks after
 * @returns {[number, number]} where in the snapshot the chain is held, and its first link
 */
function shorten(module, snapshot, object) {
  const [, before] = new Uint32Array(snapshot.buffer, 0, 2);
  const words = new Uint32Array(snapshot.buffer, before);
  const heap = module._emscripten_stack_get_base(); // above the stack begins what is allocated
  /** @type {number[]} */
  const links = [];
  let held = 0;
  for (let link = (object - 8) >> 2, begun = link; ; ) {
    if (link * 4 < heap) held = link;
    else links.push(link);
    link = words[link] >> 2;
    if (link === begun) break;
  }
  links.sort((one, other) => one - other);
  const { _PyFunction_Type: of_function, _PyDict_Type: of_dictionary, _PyCode_Type: of_code } = module;
  /** @param {number} code */
  const unmark = (code) => {
    if (!words[code + 17]) return;
    words[code + 17] = 0;
    const constants = words[code + 3] >> 2;
    for (let at = constants + 3; at < constants + 3 + words[constants + 2]; at++)
      if (words[(words[at] >> 2) + 1] === of_code) unmark(words[at] >> 2);
  };
  links.forEach((link, index) => {
    const [, , , type] = words.subarray(link, link + 4);
    words[link] = ((links[index + 1] ?? link) - link) * 4;
    words[link + 1] &= 3; // what else stands in this word
    if (type === of_function) {
      words[link + 2 + 17] = 0;
      unmark(words[link + 2 + 6] >> 2);
    } else if (type === of_dictionary) {
      words[link + 2 + 3] = words[link + 2 + 5] = 0;
      words[link + 2 + 4] &= 0xfff;
    }
  });
  words[held] = words[held + 1] = 0;
  return [before + held * 4, before + links[0] * 4];
}

/**
 * Clear what the interpreter never writes: above the lowest byte of the word in which a text says of what kind it is
 * stands what was there before. A text is {references, type, length, hash, kind, letters and a 0}; the lowest byte is
 * 0x64 and whether the text is interned, where all letters are of ASCII (CPython, Include/cpython/unicodeobject.h).
 *
 * @param {any} module the runtime's
 * @param {Uint8Array} snapshot
 */
function clearGaps(module, snapshot) {
  const [, before] = new Uint32Array(snapshot.buffer, 0, 2);
  const words = new Uint32Array(snapshot.buffer, before);
  const { _PyUnicode_Type: of_text } = module;
  for (let at = module._emscripten_stack_get_base() >> 2; at < words.length - 4; at++) {
    if (words[at] !== of_text || (words[at + 3] & 0xfc) !== 0x64) continue;
    const letters = before + (at + 4) * 4;
    const end = letters + words[at + 1];
    if (end >= snapshot.length || snapshot.subarray(letters, end + 1).findIndex((one) => !one || one > 127) !== words[at + 1]) continue;
    words[at + 3] &= 0xff;
  }
}

/**
 * Leave out the tables by which dictionaries find their entries: they follow from the hashes of the entries, and
 * ``memory.js`` fills them again. In the first word of each stands how far it is to the next.
 *
 * The keys of a dictionary are as ``forgetNames`` has them. What is taken for such is one for certain: by its table,
 * each of its entries is found.
 *
 * @param {any} module the runtime's
 * @param {Uint8Array<ArrayBuffer>} snapshot
 * @returns {number} where in the snapshot the first keys are
 */
function leaveOutTables(module, snapshot) {
  const [, before] = new Uint32Array(snapshot.buffer, 0, 2);
  const words = new Uint32Array(snapshot.buffer, before);
  const heap = module._emscripten_stack_get_base(); // above the stack begins what is allocated
  /** @type {number[]} */
  const found = [];
  for (let at = heap >> 2; at < words.length - 8; at++) {
    const [slots, bytes, kind, count] = [words[at + 1] & 255, (words[at + 1] >> 8) & 255, (words[at + 1] >> 16) & 255, words[at + 4]];
    if (slots < 3 || slots > 20 || kind > 2 || !count || words[at + 3] + count !== Math.trunc((2 << slots) / 3)) continue;
    const width = slots < 8 ? 0 : slots < 16 ? 1 : 2;
    const end = at + 5 + ((2 ** bytes) >> 2) + count * (kind ? 2 : 3);
    if (bytes !== slots + width || end > words.length) continue;
    const Numbers = [Int8Array, Int16Array, Int32Array][width];
    const numbers = new Numbers(snapshot.buffer, before + (at + 5) * 4, 2 ** slots);
    if (finds(words, numbers, at + 5 + ((2 ** bytes) >> 2), count, kind > 0, module._PyUnicode_Type)) found.push(at);
  }
  found.forEach((at, index) => {
    words.fill(0, at + 5, at + 5 + (2 ** ((words[at + 1] >> 8) & 255) >> 2));
    words[at + 5] = ((found[index + 1] ?? at) - at) * 4;
  });
  return before + found[0] * 4;
}

/**
 * @returns {boolean} whether by this table each entry is found, and there is one
 * @param {Uint32Array} words
 * @param {Int8Array | Int16Array | Int32Array} numbers
 * @param {number} entries
 * @param {number} count
 * @param {boolean} of_names
 * @param {number} of_text
 */
function finds(words, numbers, entries, count, of_names, of_text) {
  const last = numbers.length - 1;
  let held = 0;
  for (let number = 0; number < count; number++) {
    const entry = entries + number * (of_names ? 2 : 3);
    const name = words[of_names ? entry : entry + 1];
    if (!name) continue;
    if (of_names && words[(name >> 2) + 1] !== of_text) return false;
    let hash = of_names ? words[(name >> 2) + 3] : words[entry];
    let place = hash & last;
    for (let tried = 0; numbers[place] !== number; tried++) {
      if (numbers[place] === -1 || tried > last) return false;
      place = (place * 5 + (hash >>>= 5) + 1) & last;
    }
    held += 1;
  }
  return held > 0;
}

/**
 * The interpreter keeps each name that it ever read in a dictionary, for ever: of code that went, of modules that are
 * over. Take those out to which nothing else points, anywhere in the memory, and free them.
 *
 * A dictionary is {references, type, how many, version (8), keys, values}; its keys are {references, log2 of the
 * slots, log2 of their bytes, kind, version, room, count, slots, entries}; an entry is {key, value}; a slot has an
 * entry's number, -1 (never used) or -2 (left) (CPython, Include/internal/pycore_dict.h).
 *
 * @param {any} module the runtime's
 * @param {Uint32Array} words all that Python has
 */
function forgetNames(module, words) {
  const bytes = module.HEAPU8;
  const heap = module._emscripten_stack_get_base(); // above the stack begins what is allocated
  const dictionary = module._PyDict_Type;
  bytes.fill(0, module._emscripten_stack_get_end(), module._emscripten_stack_get_current()); // what calls left there
  let names = 0;
  for (let at = 0; at < words.length; at++)
    if (words[at] === dictionary && words[at + 1] > 5000 && words[at + 1] < 1e6) {
      const keys = words[at + 5] >> 2;
      const entries = (words[at + 5] + 20 + 2 ** bytes[words[at + 5] + 5]) >> 2;
      const own = words[keys + 4] >= words[at + 1] && words[entries] && words[entries] === words[entries + 1];
      if (own && (!names || words[at + 1] > words[names + 1])) names = at;
    }
  if (!names) throw new Error("where are the names?");
  const keys = words[names + 5];
  const slots = keys + 20;
  const width = 2 ** (bytes[keys + 5] - bytes[keys + 4]);
  const entries = (slots + 2 ** bytes[keys + 5]) >> 2;
  const count = words[(keys >> 2) + 4];
  /** @type {Map<number, number>} */
  const entryOf = new Map();
  for (let entry = 0; entry < count; entry++) {
    const name = words[entries + 2 * entry];
    if (name > heap) entryOf.set(name, entry);
  }
  for (let at = 0; at < words.length; at++)
    if ((at < entries || at >= entries + 2 * count) && entryOf.has(words[at])) entryOf.delete(words[at]);
  const left = new Map([...entryOf].map(([name, entry]) => [entry, name]));
  if (width !== 4) throw new Error(`slots of ${width} bytes`);
  const slot = new Int32Array(bytes.buffer, slots, 2 ** bytes[keys + 4]);
  for (let at = 0; at < slot.length; at++) {
    const name = left.get(slot[at]);
    if (name === undefined) continue;
    words[entries + 2 * slot[at]] = words[entries + 2 * slot[at] + 1] = 0;
    slot[at] = -2;
    words[names + 1] -= 1;
    module._PyObject_Free(name);
  }
}

/**
 * What was freed still holds old bytes, which would be shipped: take every free block below the top of
 * the heap, fill it with 0, and give it back if it is worth it: a free block says who is free before and
 * after it, and tens of thousands of small ones would say it to every reader. They are the C library's, small
 * enough that no attempt makes the memory grow; this Python has no allocator of its own.
 *
 * @param {any} module the runtime's
 * @param {number} worth smaller blocks are kept for good
 */
function zeroFreeMemory(module, worth) {
  const top = module._sbrk(0);
  /** @type {number[]} */
  const taken = [];
  for (let size = 1 << 16; size >= 16; size >>= 1)
    for (;;) {
      const block = module._PyMem_RawMalloc(size);
      if (block + size > top) {
        module._PyMem_RawFree(block); // only what is new is left
        break;
      }
      module.HEAPU8.fill(0, block, block + size);
      if (size >= worth) taken.push(block);
    }
  for (const block of taken.reverse()) module._PyMem_RawFree(block);
  module.HEAPU8.fill(0, module._sbrk(0), APART);
}
