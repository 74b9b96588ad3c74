/** What kept lists of departures still say: of one of them while the whole is not here, and of days asked about before. */
import { useEffect, useState } from 'preact/hooks';
import { askedBy, departurePath, departuresPath, isDepartures } from './question.js';
import { listKept } from './answers.js';

/** The newest kept slot of this id that was asked for the same fish. */
export function listedSlot(kept, id, asked) {
  const path = departurePath(id, asked);
  const same = kept.filter((one) => isDepartures(one.path) && departurePath(id, askedBy(one.path)) === path);
  for (const { value } of same) {
    const slot = value.results.find((one) => one.id === id);
    if (slot) return { ...slot, question: value.question, currency: value.currency, currency_decimals: value.currency_decimals };
  }
  return null;
}

/** @param {string} id @param {import('./question.js').Question} asked */
export function useListed(id, asked) {
  const [slot, setSlot] = useState(null);
  useEffect(() => {
    listKept().then((kept) => setSlot(listedSlot(kept, id, asked)));
  }, [departurePath(id, asked)]);
  return slot;
}

/** The newest kept list for the same fish and way whose days reach into those asked: after midnight yesterday's still serves. */
export const listedBefore = (kept, asked) =>
  kept.find(({ path }) => {
    if (!isDepartures(path)) return false;
    const { from, to } = askedBy(path);
    return from < asked.from && to >= asked.from && departuresPath({ ...asked, from, to }) === path;
  }) ?? null;

/** @param {import('./question.js').Question} asked @param {boolean} missing whether what was asked is not here @returns {import('./store.js').Kept | null} */
export function useListedBefore(asked, missing) {
  const [found, setFound] = useState(null);
  useEffect(() => {
    setFound(null);
    if (missing) listKept().then((kept) => setFound(listedBefore(kept, asked)));
  }, [departuresPath(asked), missing]);
  return missing ? found : null;
}
