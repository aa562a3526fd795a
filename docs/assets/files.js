/** Files that the reader takes away. */

/** @returns {string} words as the name of a file @param {string} words @param {string} otherwise */
export const fileName = (words, otherwise) => String(words).toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || otherwise;

/** @param {string} name @param {string} type @param {BlobPart} content */
export function download(name, type, content) {
  const href = URL.createObjectURL(new Blob([content], { type }));
  Object.assign(document.createElement("a"), { download: name, href }).click();
  setTimeout(() => URL.revokeObjectURL(href), 60_000);
}
