/** Photographs of the job: scaled down before they are kept. */
import { make } from "./elements.js";
import { addPhotograph } from "./job.js";

const WIDEST = 1600; // px of a kept photograph

/** @returns {Promise<string>} the id under which a picture is kept @param {File} file @param {string} caption */
export async function keepPicture(file, caption) {
  const image = await createImageBitmap(file);
  const scale = Math.min(1, WIDEST / Math.max(image.width, image.height));
  const canvas = make("canvas", {
    width: Math.max(1, Math.round(image.width * scale)),
    height: Math.max(1, Math.round(image.height * scale)),
  });
  canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.8));
  return addPhotograph(blob, { caption, width: canvas.width, height: canvas.height });
}

/** @returns {string} why a picture is not kept, in the reader's words @param {any} error */
export function whyNoPicture({ name, message }) {
  if (name === "QuotaExceededError") return "The storage of this browser is full: the photograph is not kept.";
  return message === "this browser keeps no photographs" ? "This browser keeps no photographs." : "This browser cannot read the file as a picture.";
}
