/**
 * What the build wrote shorter in the memory that Python starts from, written out again (scripts/browser_python.py).
 *
 * @param {Uint8Array} memory
 * @param {Uint8Array} wasm of which the memory holds the difference
 * @param {{ shared: [number, number, number], chain: [number, number] }} how
 */
export function writeOut(memory, wasm, { shared: [from, to, length], chain: [held, first] }) {
  for (let index = 0; index < length; index++) memory[to + index] ^= wasm[from + index];
  const words = new Uint32Array(memory.buffer, memory.byteOffset, memory.length >> 2);
  const before = words[1];
  let last = held;
  for (let far = first - held, at = held; far; last = at) {
    at += far;
    far = words[at >> 2];
    words[last >> 2] = at - before;
    words[(at >> 2) + 1] |= last - before;
  }
  words[last >> 2] = held - before;
  words[(held >> 2) + 1] = last - before;
}
