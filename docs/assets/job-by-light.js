/**
 * A job from one phone's screen to the other's camera, where there is no network: a row of codes (QR, ISO/IEC 18004)
 * that the one shows again and again until the other has seen each. What arrives is a file, and is looked at as one.
 *
 * A picture holds TB1:3:12:9F03A1C7: and a part of the gzipped text in Base45 (RFC 9285): the third of twelve, and the
 * number of this showing, so that two are never mixed. That nothing is damaged, gzip's own check sum says.
 */
import { button, make } from "./elements.js";
import { stayAwake } from "./full-screen.js";

const PART = 240; // bytes a picture: 61 modules a side, each 5 px on a phone
const TURN = 400; // ms a picture: under three changes in a second, which no eye suffers from (WCAG 2.3.1)
const MOST = 400; // pictures
const LARGEST = 20_000_000; // bytes of the text
const LOOK = 60; // ms between two looks through the camera
const WIDEST = 1000; // px of what is looked at
const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const PICTURE = /^TB1:(\d{1,3}):(\d{1,3}):([0-9A-F]{8}):(.*)$/;

/** @returns {string} bytes as Base45 @param {Uint8Array} bytes */
export function base45(bytes) {
  let text = "";
  for (let at = 0; at < bytes.length; at += 2) {
    const pair = at + 1 < bytes.length;
    let value = pair ? bytes[at] * 256 + bytes[at + 1] : bytes[at];
    for (let letter = pair ? 3 : 2; letter > 0; letter -= 1) {
      text += LETTERS[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return text;
}

/** @returns {Uint8Array} the bytes of a Base45 text; what is none throws @param {string} text */
export function fromBase45(text) {
  const bytes = [];
  for (let at = 0; at < text.length; at += 3) {
    const digits = Array.from(text.slice(at, at + 3), (letter) => LETTERS.indexOf(letter));
    const value = digits.reduceRight((sum, digit) => sum * 45 + digit, 0);
    if (digits.length < 2 || digits.includes(-1) || value > (digits.length === 3 ? 65_535 : 255)) throw new RangeError("no Base45 text");
    if (digits.length === 3) bytes.push(value >> 8);
    bytes.push(value & 255);
  }
  return Uint8Array.from(bytes);
}

/** @returns {Promise<string[]>} what the pictures say that carry a text @param {string} text @param {string} showing eight hexadecimal digits */
export async function pictures(text, showing) {
  const packed = new Uint8Array(await new Response(new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"))).arrayBuffer());
  const count = Math.ceil(packed.length / PART);
  return Array.from({ length: count }, (_, at) => `TB1:${at + 1}:${count}:${showing}:${base45(packed.subarray(at * PART, (at + 1) * PART))}`);
}

/** Gathers pictures in whatever order they are seen. */
export class Gathered {
  /** @type {Map<number, Uint8Array>} */
  #parts = new Map();
  #showing = "";
  of = 0;

  get seen() {
    return this.#parts.size;
  }

  /** @returns {boolean} whether it is one of ours, and all are there now @param {string} words */
  take(words) {
    const [, number, of, showing, text] = words.match(PICTURE) ?? [];
    if (!number || !(Number(number) >= 1 && Number(number) <= Number(of) && Number(of) <= MOST)) return false;
    if (showing !== this.#showing || Number(of) !== this.of) {
      this.#parts.clear();
      [this.#showing, this.of] = [showing, Number(of)];
    }
    try {
      this.#parts.set(Number(number), fromBase45(text));
    } catch {} // misread: it comes again
    return this.seen === this.of;
  }

  /** @returns {Promise<Uint8Array<ArrayBuffer> | undefined>} the text's bytes; nothing, and all from the beginning, where they are damaged */
  bytes() {
    return this.#unpacked().catch(() => void this.#parts.clear());
  }

  /** @returns {Promise<Uint8Array<ArrayBuffer>>} */
  async #unpacked() {
    const parts = Array.from({ length: this.of }, (_, at) => /** @type {Uint8Array<ArrayBuffer>} */ (this.#parts.get(at + 1)));
    const reader = new Blob(parts).stream().pipeThrough(new DecompressionStream("gzip")).getReader();
    /** @type {Uint8Array<ArrayBuffer>[]} */
    const pieces = [];
    let size = 0;
    for (let { done, value } = await reader.read(); !done && value; { done, value } = await reader.read()) {
      size += value.length;
      if (size > LARGEST) throw new RangeError("more than 20 MB");
      pieces.push(value);
    }
    return new Uint8Array(await new Blob(pieces).arrayBuffer());
  }
}

/** @returns {{dialog: HTMLDialogElement, gone: AbortController}} @param {string} label @param {Node[]} inside */
function opened(label, inside) {
  const dialog = make("dialog", { className: "bench-shared bench-light" }, ...inside);
  dialog.setAttribute("aria-label", label);
  const gone = new AbortController();
  const opener = document.activeElement;
  dialog.addEventListener("close", () => {
    gone.abort();
    dialog.remove();
    if (opener instanceof HTMLElement) opener.focus();
  });
  document.body.append(dialog);
  dialog.showModal();
  stayAwake(gone.signal);
  return { dialog, gone };
}

/** Show a text as a row of pictures until the reader shuts it. @param {string} text */
export async function show(text) {
  const showing = [...crypto.getRandomValues(new Uint8Array(4))].map((byte) => byte.toString(16).padStart(2, "0")).join("").toUpperCase();
  const [{ default: encode }, all] = await Promise.all([import("./qr/index.js"), pictures(text, showing)]);
  if (all.length > MOST) throw new Error("this job is too large to be shown. Export it, and import the file on the other phone.");
  const code = make("div", { className: "bench-code" });
  const count = make("p", { className: "bench-light-count" });
  let at = -1;
  const next = () => {
    at = (at + 1) % all.length;
    code.innerHTML = encode(all[at], "svg", { ecc: "medium" });
    code.firstElementChild?.setAttribute("role", "img");
    code.firstElementChild?.setAttribute("aria-label", "A part of the job, for the camera of the other phone");
    count.textContent = `Picture ${at + 1} of ${all.length}`;
  };
  let turning = 0;
  /** @param {boolean} on */
  const turn = (on) => {
    clearInterval(turning);
    turning = on ? setInterval(next, TURN) : 0;
    pause.textContent = on ? "Hold" : "Go on";
  };
  const pause = button("Hold", () => turn(!turning));
  const buttons = make("p", { className: "bench-buttons" }, pause, button("Next picture", () => (turn(false), next())), button("Close", () => dialog.close()));
  const told = make("p", {}, "On the other phone: Job sheet, Take a job from a screen. Hold its camera here until it has seen every picture.");
  const { dialog, gone } = opened("This job, for another phone", [told, code, count, buttons]);
  gone.signal.addEventListener("abort", () => clearInterval(turning));
  next();
  turn(!matchMedia("(prefers-reduced-motion: reduce)").matches);
}

/** Look through the camera until a whole job was seen. @returns {Promise<File | undefined>} nothing where the reader shuts it before */
export async function look() {
  const camera = await navigator.mediaDevices?.getUserMedia({ video: { facingMode: "environment" } }).catch(() => undefined);
  if (!camera) throw new Error("the book gets no camera here. Export the job on the other phone, and import the file on this one.");
  const { default: decode } = await import("./qr/decode.js");
  const video = make("video", { srcObject: camera, muted: true, autoplay: true, playsInline: true });
  const status = make("p", {}, "Hold the camera on the other phone’s screen.");
  status.setAttribute("role", "status");
  const { dialog, gone } = opened("Take a job from a screen", [video, status, make("p", { className: "bench-buttons" }, button("Close", () => dialog.close()))]);
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d", { willReadFrequently: true });
  const gathered = new Gathered();
  /** @returns {boolean} whether all is there */
  const seen = () => {
    const { videoWidth, videoHeight } = video;
    if (!videoWidth || !context) return false;
    const scale = Math.min(1, WIDEST / Math.max(videoWidth, videoHeight));
    Object.assign(canvas, { width: Math.round(videoWidth * scale), height: Math.round(videoHeight * scale) });
    context.drawImage(video, 0, 0, canvas.width, canvas.height);
    try {
      return gathered.take(decode(context.getImageData(0, 0, canvas.width, canvas.height)));
    } catch {
      return false; // no code in this look
    }
  };
  try {
    while (!gone.signal.aborted) {
      const before = gathered.seen;
      const all = seen();
      if (gathered.seen !== before) status.textContent = `${gathered.seen} of ${gathered.of} pictures seen`;
      const bytes = all && (await gathered.bytes());
      if (bytes) return new File([bytes], "The other phone’s job");
      await new Promise((done) => setTimeout(done, LOOK));
    }
    return undefined;
  } finally {
    for (const track of camera.getTracks()) track.stop();
    dialog.close();
  }
}
