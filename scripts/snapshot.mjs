/**
 * Boot the runtime once, import the calculators, and keep its memory.
 *
 *   node --import ./frozen_world.mjs snapshot.mjs RUNTIME OUTPUT
 *
 * RUNTIME: the folder made by browser_python.py; OUTPUT: the file to write. Prints what the snapshot
 * shares with the wasm file, as JSON. Wheels are unpacked, not loaded as packages: a memory that has
 * loaded packages cannot be restored. No calculator has answered before: what the interpreter writes
 * into code that has run would be shipped too, and makes the memory a seventh larger.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [runtime, output] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);

const pyodide = await loadPyodide({
  indexURL: runtime,
  _makeSnapshot: true,
  env: { HOME: "/home/pyodide", PYTHONHASHSEED: "0" },
});
for (const name of readdirSync(runtime).filter((name) => name.endsWith(".whl")).sort())
  pyodide.unpackArchive(new Uint8Array(readFileSync(`${runtime}/${name}`)), "wheel");

const program = JSON.stringify(readFileSync(new URL("snapshot.py", import.meta.url), "utf8"));
const modules = JSON.parse(
  pyodide.runPython(`(lambda space: [exec(${program}, space), space["make"](), space.clear()][1])({"__name__": "snapshot"})`),
);
zeroFreeMemory(pyodide._module);
const snapshot = pyodide.makeMemorySnapshot();
const wasm = readFileSync(`${runtime}/pyodide.asm.wasm`);
const shared = sharedSegments(wasm, snapshot);
for (const [from, to, length] of shared)
  for (let index = 0; index < length; index++) snapshot[to + index] ^= wasm[from + index];
writeFileSync(output, snapshot);
process.stdout.write(JSON.stringify({ length: snapshot.length, shared, modules }));
process.exit(0);

/**
 * The memory begins with what the wasm file puts there, and most of that never changes: the snapshot
 * holds only the difference. Returns [offset in the file, offset in the snapshot, length] of each
 * data segment, found from the file's data section (WebAssembly core specification 2.0, 5.5.14).
 *
 * @param {Uint8Array} wasm
 * @param {Uint8Array} snapshot
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

/**
 * Where most of a segment lies in the snapshot: found by a stretch of it that is there only once.
 *
 * @param {Uint8Array} segment
 * @param {Uint8Array} snapshot
 */
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

/**
 * What was freed still holds old bytes, which would be shipped: take every free block below the top of
 * the heap, fill it with 0, give it back. First the C library's blocks, then those of Python's own
 * allocator, whose arenas lie in between; small enough that no attempt makes the memory grow.
 *
 * @param {any} module the runtime's
 */
function zeroFreeMemory(module) {
  const top = module._sbrk(0);
  /** @type {(() => void)[]} */
  const taken = [];
  /** @type {(take: (size: number) => number, free: (block: number) => void, size: number) => void} */
  const take = (take, free, size) => {
    for (;;) {
      const block = take(size);
      if (!block) return;
      if (block + size > top) return free(block); // only what is new is left
      module.HEAPU8.fill(0, block, block + size);
      taken.push(() => free(block));
    }
  };
  for (let size = 1 << 16; size >= 16; size >>= 1) take(module._PyMem_RawMalloc, module._PyMem_RawFree, size);
  for (let size = 512; size > 0; size -= 16) take(module._PyObject_Malloc, module._PyObject_Free, size);
  for (const giveBack of taken.reverse()) giveBack();
  module.HEAPU8.fill(0, module._sbrk(0));
}
