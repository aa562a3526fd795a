/**
 * Take a memory as it comes, without its gaps, in which all is 0: to inflate these would be two fifths of the work.
 *
 * @param {Uint8Array} memory
 * @param {[number, number][]} gaps from where to where
 * @returns {(piece: Uint8Array) => number} puts the next piece in its place, and says where the one after it begins
 */
export function filler(memory, gaps) {
  let at = 0;
  let passed = 0;
  return (piece) => {
    for (let rest = piece; rest.length; ) {
      const next = rest.subarray(0, (gaps[passed]?.[0] ?? Infinity) - at);
      memory.set(next, at); // throws when there is more than there should be
      at += next.length;
      if (at === gaps[passed]?.[0]) at = gaps[passed++][1];
      rest = rest.subarray(next.length);
    }
    return at;
  };
}

/**
 * What the build wrote shorter in the memory that Python starts from, written out again (scripts/browser_python.py).
 *
 * @param {Uint8Array<ArrayBuffer>} memory
 * @param {Uint8Array} wasm of which the memory holds the difference
 * @param {{ shared: [number, number, number], chain: [number, number], tables: number }} how
 */
export function writeOut(memory, wasm, { shared: [from, to, length], chain: [held, first], tables }) {
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
  for (let at = tables, far = at; far; at += far) {
    far = words[(at + TABLE) >> 2];
    fillTable(memory, words, at);
  }
}

const TABLE = 20; // bytes of a dictionary's keys before its table

/**
 * Fill the table by which a dictionary finds its entries, as CPython does when it makes one anew (Objects/dictobject.c,
 * build_indices): of each entry its number, where its hash says, or at the next free place that follows from it.
 *
 * @param {Uint8Array<ArrayBuffer>} memory
 * @param {Uint32Array} words
 * @param {number} at
 */
function fillTable(memory, words, at) {
  const keys = at >> 2;
  const shape = words[keys + 1];
  const slots = shape & 255; // as a power of two, as is
  const bytes = (shape >> 8) & 255;
  const of_names = shape >> 16 & 255;
  const Numbers = [Int8Array, Int16Array, Int32Array][bytes - slots];
  const numbers = new Numbers(memory.buffer, memory.byteOffset + at + TABLE, 1 << slots).fill(-1);
  const last = (1 << slots) - 1;
  const first = (at + TABLE + (1 << bytes)) >> 2;
  const size = of_names ? 2 : 3; // words of an entry
  const hashes = (words[1] >> 2) + 3;
  for (let number = 0, entry = first, end = first + size * words[keys + 4]; entry < end; entry += size, number++) {
    if (!words[of_names ? entry : entry + 1]) continue; // taken out
    let hash = of_names ? words[hashes + (words[entry] >> 2)] : words[entry];
    let place = hash & last;
    while (numbers[place] !== -1) place = (place * 5 + (hash >>>= 5) + 1) & last;
    numbers[place] = number;
  }
}
