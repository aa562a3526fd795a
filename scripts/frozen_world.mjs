/** Loaded before anything else (node --import), so that the snapshot is the same bytes on every machine. */
import crypto from "node:crypto";
import { syncBuiltinESMExports } from "node:module";

const CHANCE = { state: 1 };
const roll = () => (CHANCE.state = (CHANCE.state * 48271) % 2147483647);

process.argv[1] = "/snapshot.mjs";
process.env.TZ = "UTC";
Date.now = () => 0;
globalThis.Date = new Proxy(Date, { construct: (target, given) => Reflect.construct(target, given.length ? given : [0]) });
performance.now = () => 0;
Math.random = () => roll() / 2147483647;
const fill = (/** @type {any} */ array) => {
  const bytes = new Uint8Array(array.buffer, array.byteOffset, array.byteLength);
  for (let index = 0; index < bytes.length; index++) bytes[index] = roll() & 255;
  return array;
};
Object.defineProperty(globalThis.crypto, "getRandomValues", { value: fill });
crypto.randomFillSync = fill;
crypto.randomBytes = (size) => Buffer.from(fill(new Uint8Array(size)));
syncBuiltinESMExports();
