/** What a kept list of departures says of one of them, for as long as the whole is not here. */
import { useEffect, useState } from 'preact/hooks';
import { askedBy, departurePath, isDepartures } from './question.js';
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
