/** Unlocking with an own code; wrong ones make the next wait longer, and lose nothing. */
import { openKey } from './lock.js';
import { enter, freshenMe, noteOf, readHolders } from './people.js';
import { changeHolder } from './store.js';

export const FREE_TRIES = 5;
const FIRST_WAIT_MS = 30_000;
const LONGEST_WAIT_MS = 3_600_000;

/** Too many wrong codes: `left_ms` until the next may be tried. */
export class MustWait extends Error {
  constructor(left_ms) {
    super();
    this.left_ms = left_ms;
  }
}

/** @param {number} tries wrong codes so far */
export const waitAfter = (tries) => (tries < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (tries - FREE_TRIES)));

/** A clock that was set back makes nobody wait longer than the wait itself. @param {{tries: number, tried_at: number}} holder */
export function waitLeft({ tries, tried_at }, now = Date.now()) {
  const wait = waitAfter(tries);
  return Math.max(0, Math.min(wait, tried_at + wait - now));
}

function countedTry(holder) {
  const left = waitLeft(holder);
  if (left) throw new MustWait(left);
  return { ...holder, tries: holder.tries + 1, tried_at: Date.now() };
}

/**
 * @param {string} id of a holder @param {string} code
 * @throws {MustWait} @throws {import('./lock.js').WrongCode}
 */
export async function unlock(id, code) {
  // Counted before the code is tried: closing the page gives no try for nothing.
  const holder = await changeHolder(id, countedTry);
  await readHolders();
  const key = await openKey(holder.lock, code);
  await noteOf(id, { tries: 0 });
  await enter(key, holder);
  freshenMe();
}
