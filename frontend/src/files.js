/** A file that the server gave, laid where the phone keeps what was downloaded. */

const UNTIL_TAKEN_MS = 60_000;

/** @param {Blob} file @param {string} name */
export function saveFile(file, name) {
  const href = URL.createObjectURL(file);
  // It hangs on no page, so no screen follows it.
  Object.assign(document.createElement('a'), { href, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(href), UNTIL_TAKEN_MS);
}
