/**
 * Write Brotli-compressed copies of files: from standard input a list of [file, copy, quality], as JSON.
 *
 *   node brotli.mjs < LIST
 */
import { createReadStream, createWriteStream, readFileSync, statSync } from "node:fs";
import { pipeline } from "node:stream/promises";
import { constants, createBrotliCompress } from "node:zlib";

const WINDOW = 24; // as a power of two: the largest that every browser takes (RFC 7932, 9.1)
const AT_ONCE = 2;

/** @type {[string, string, number][]} */
const waiting = JSON.parse(readFileSync(0, "utf8"));
waiting.sort(([one], [other]) => statSync(one).size - statSync(other).size); // the largest, taken last, come first

async function work() {
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const [file, copy, quality] = next;
    const { BROTLI_PARAM_QUALITY, BROTLI_PARAM_LGWIN, BROTLI_PARAM_SIZE_HINT } = constants;
    const params = { [BROTLI_PARAM_QUALITY]: quality, [BROTLI_PARAM_LGWIN]: WINDOW, [BROTLI_PARAM_SIZE_HINT]: statSync(file).size };
    await pipeline(createReadStream(file), createBrotliCompress({ params }), createWriteStream(copy));
  }
}

await Promise.all(Array.from({ length: AT_ONCE }, work));
