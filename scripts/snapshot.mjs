/**
 * Boot the runtime once, import the calculators, answer each one's example, and keep its memory.
 *
 *   node --import ./frozen_world.mjs snapshot.mjs RUNTIME CARD OUTPUT
 *
 * RUNTIME: the folder made by browser_python.py; CARD: an engine card as JSON; OUTPUT: the file to
 * write, gzip-compressed. Prints what the snapshot shares with the wasm file, as JSON. Wheels are unpacked, not loaded as packages: a memory that has loaded
 * packages cannot be restored.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";

const [runtime, card, output] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);

const pyodide = await loadPyodide({
  indexURL: runtime,
  _makeSnapshot: true,
  env: { HOME: "/home/pyodide", PYTHONHASHSEED: "0" },
});
for (const name of readdirSync(runtime).filter((name) => name.endsWith(".whl")).sort())
  pyodide.unpackArchive(new Uint8Array(readFileSync(`${runtime}/${name}`)), "wheel");

pyodide.globals.set("card_text", readFileSync(card, "utf8"));
pyodide.runPython(`
import gc, json, linecache, random, re, sys, zipimport
from calculators._catalogue import catalogue
from calculators._engine_card import EngineCard
from calculators._questions import answer_message

def warm():
    card = json.loads(card_text)
    for name, found in catalogue().items():
        typed = found.form.prefilled(EngineCard(**card), None, True)
        rows = {rows.key: 1 for rows in found.form.rows}
        for texts in (typed, typed | {next(iter(typed)): "?"}):
            answer_message(json.dumps(dict(calculator=name, card=card, typed=texts, prefix=name, rows=rows, opened=())))

warm()
warm()
del warm, card_text
linecache.clearcache()
re.purge()
random.seed(0)  # seeded anew wherever it is restored
sys.path_importer_cache.clear()
zipimport._zip_directory_cache.clear()
for _ in range(3):
    gc.collect()
`);
zeroFreeMemory(pyodide._module);
const snapshot = pyodide.makeMemorySnapshot();
const wasm = readFileSync(`${runtime}/pyodide.asm.wasm`);
const shared = sharedSegments(wasm, snapshot);
for (const [from, to, length] of shared)
  for (let index = 0; index < length; index++) snapshot[to + index] ^= wasm[from + index];
writeFileSync(output, gzipSync(snapshot, { level: 9 }));
process.stdout.write(JSON.stringify({ length: snapshot.length, shared }));
process.exit(0);

/**
 * The memory begins with what the wasm file puts there, and most of that never changes: the snapshot
 * holds only the difference. Returns [offset in the file, offset in the snapshot, length] of each
 * data segment, found from the file's data section (WebAssembly core specification 2.0, 5.5.14).
 */
function sharedSegments(wasm, snapshot) {
  let at = 8;
  const number = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = wasm[at++];
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  };
  const found = [];
  while (at < wasm.length) {
    const section = wasm[at++];
    const size = number();
    const end = at + size;
    if (section === 11) {
      for (let left = number(); left; left--) {
        const flags = number();
        if (flags === 0) while (wasm[at++] !== 0x0b);
        const length = number();
        const to = placeOf(wasm.subarray(at, at + length), snapshot);
        if (to >= 0) found.push([at, to, length]);
        at += length;
      }
    }
    at = end;
  }
  return found;
}

/** Where most of a segment lies in the snapshot: found by a stretch of it that is there only once. */
function placeOf(segment, snapshot) {
  const memory = Buffer.from(snapshot.buffer, snapshot.byteOffset, snapshot.byteLength);
  const votes = new Map();
  for (let start = 0; start + 64 <= segment.length; start += Math.max(64, segment.length >> 6)) {
    const stretch = segment.subarray(start, start + 64);
    if (new Set(stretch).size < 16) continue;
    const place = memory.indexOf(stretch) - start;
    if (place >= 0) votes.set(place, (votes.get(place) ?? 0) + 1);
  }
  const [place] = [...votes].sort((one, other) => other[1] - one[1])[0] ?? [-1];
  return place + segment.length <= memory.length ? place : -1;
}

/** What was freed still holds old bytes, which would be shipped: take every free block, fill it with 0, give it back. */
function zeroFreeMemory(module) {
  const top = module._sbrk(0);
  const taken = [];
  for (let size = 1 << 16; size >= 16; size >>= 1) { // small enough that no attempt makes the memory grow
    for (;;) {
      const block = module._PyMem_RawMalloc(size);
      if (!block) break;
      if (module._sbrk(0) !== top) {
        module._PyMem_RawFree(block);
        module._sbrk(top - module._sbrk(0));
        break;
      }
      module.HEAPU8.fill(0, block, block + size);
      taken.push(block);
    }
  }
  for (const block of taken) module._PyMem_RawFree(block);
  module.HEAPU8.fill(0, module._sbrk(0));
}
