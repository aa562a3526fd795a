/**
 * Lay what stays in the memory close together while it is made.
 *
 * Most of what Python allocates on the way is freed again, and what stays would lie scattered between the gaps. The
 * making is the same every time, so a first one tells which allocations stay; in the next, these are laid by the C
 * library, one after another, and all others far above, where the memory is cut off at the end. A few are foreseen
 * wrongly: names to which a number points by chance (``forgetNames``), which is another at other addresses. These
 * are laid into one stretch that is held free for them, so that nothing else moves, and the making is repeated until
 * nothing is left above.
 *
 * Our allocator stands in for those of Python's objects and memory (CPython, Include/cpython/pymem.h); an allocation
 * above has four words before it: its size, its number, its room, and whether it is in use.
 */
/** Where in the memory begins what goes. */
export const APART = 48 << 20;
const END = 128 << 20;
const HEAD = 16;
const ALLOCATIONS = 16 << 20;
const STRETCH = 1 << 16;
const [STAYS, FORESEEN_WRONGLY] = [1, 2];
const IN_USE = 3; // what the C library's block says of itself and of the one before, in the word of its length
const [OF_MEMORY, OF_OBJECTS] = [1, 2];
const ALLOCATOR = 20; // bytes: a context and four functions

const { Memory } = WebAssembly;
WebAssembly.Memory = class extends Memory {
  /** @param {WebAssembly.MemoryDescriptor} asked the runtime's has the greatest maximum; others are trials */
  constructor(asked) {
    super(asked.maximum === 65536 ? { ...asked, initial: END >> 16 } : asked);
  }
};

/**
 * @param {any} module the runtime's
 * @param {Uint8Array} stays of each allocation by its number whether it stays, as far as is known
 */
export function layCloseTogether(module, stays) {
  const isFirst = !stays.includes(STAYS);
  const bytes = module.HEAPU8;
  const words = new Uint32Array(bytes.buffer);
  const free = new Uint32Array(1 << 20); // by room: the last that was freed, which holds the one before
  let number = 0;
  let top = APART;
  const stretch = module._PyMem_RawMalloc(STRETCH);
  const end = stretch + lengthOf(stretch) + 4;
  let next = stretch;
  bytes.fill(0, stretch, end - 4);
  /** What keeps above the place of each block in the stretch. @type {Map<number, number>} */
  const placeAbove = new Map();
  /** @type {number[]} blocks of the stretch that are free again */
  const over = [];

  /** @param {number} at a block of the C library @returns {number} how much it holds */
  function lengthOf(at) {
    return module._malloc_usable_size(at);
  }

  /** @param {number} size @returns {number} */
  function takeAbove(size) {
    const room = (Math.max(size, 4) + HEAD + 15) & ~15;
    let at = free[room >> 4];
    if (at) free[room >> 4] = words[at >> 2];
    else {
      at = top + HEAD;
      top += room;
      if (top > END) throw new Error("what is laid above is too much");
    }
    words.set([size, number - 1, room, 1], (at - HEAD) >> 2);
    return at;
  }

  /** @param {number} size @returns {number} */
  function takeOfStretch(size) {
    const [at, room] = [next, (size + 4 + 15) & ~15];
    next += room;
    if (next + HEAD > end) throw new Error("too much was foreseen wrongly");
    words[(at >> 2) - 1] = room | IN_USE;
    placeAbove.set(at, takeAbove(size));
    return at;
  }

  /** @param {number} size @returns {number} */
  function take(size) {
    const foreseen = stays[number++];
    if (foreseen === FORESEEN_WRONGLY) return takeOfStretch(size);
    if (foreseen !== STAYS) return takeAbove(size);
    const at = module._PyMem_RawMalloc(size);
    bytes.fill(0, at, at + lengthOf(at)); // what was there before points at things by chance
    return at;
  }

  /** @param {number} at */
  function give(at) {
    if (!at) return;
    if (at >= APART) {
      const [size, , room] = words.subarray((at - HEAD) >> 2, at >> 2);
      bytes.fill(0, at, at + size);
      words[(at >> 2) - 1] = 0;
      words[at >> 2] = free[room >> 4];
      free[room >> 4] = at;
      return;
    }
    bytes.fill(0, at, at + lengthOf(at));
    const above = placeAbove.get(at);
    if (!above) return module._PyMem_RawFree(at);
    placeAbove.delete(at);
    over.push(at);
    give(above);
  }

  const functions = [
    module.addFunction((/** @type {number} */ _, /** @type {number} */ size) => take(size), "iii"),
    module.addFunction((/** @type {number} */ _, /** @type {number} */ count, /** @type {number} */ each) => {
      const at = take(count * each);
      bytes.fill(0, at, at + count * each);
      return at;
    }, "iiii"),
    module.addFunction((/** @type {number} */ _, /** @type {number} */ at, /** @type {number} */ size) => {
      const to = take(size);
      if (!at) return to;
      const had = at < APART ? lengthOf(at) : words[(at - HEAD) >> 2];
      bytes.copyWithin(to, at, at + Math.min(had, size));
      give(at);
      return to;
    }, "iiii"),
    module.addFunction((/** @type {number} */ _, /** @type {number} */ at) => give(at), "vii"),
  ];
  const [ours, ofMemory, ofObjects] = [0, 1, 2].map(() => module._PyMem_RawMalloc(ALLOCATOR));
  words.set([0, ...functions], ours >> 2);
  module._PyMem_GetAllocator(OF_MEMORY, ofMemory);
  module._PyMem_GetAllocator(OF_OBJECTS, ofObjects);
  module._PyMem_SetAllocator(OF_MEMORY, ours);
  module._PyMem_SetAllocator(OF_OBJECTS, ours);

  return {
    /** Go back to the allocators that were there. @returns {number} how many are left above, now known to stay */
    done() {
      module._PyMem_SetAllocator(OF_MEMORY, ofMemory);
      module._PyMem_SetAllocator(OF_OBJECTS, ofObjects);
      for (const above of placeAbove.values()) give(above);
      words[(next >> 2) - 1] = (end - next) | IN_USE; // the rest of the stretch
      for (const each of [next, ...over, ours, ofMemory, ofObjects]) module._PyMem_RawFree(each);
      let left = 0;
      for (let at = APART >> 2; at < top >> 2; at += words[at + 2] >> 2) {
        if (!words[at + 3]) continue;
        stays[words[at + 1]] = isFirst ? STAYS : FORESEEN_WRONGLY;
        left += 1;
      }
      return left;
    },
    /** All that Python has: what stays, the gap, what lies above. */
    words: () => words.subarray(0, top >> 2),
  };
}

/** @returns {Uint8Array<ArrayBuffer>} nothing is known yet */
export const nothingKnown = () => new Uint8Array(ALLOCATIONS);
