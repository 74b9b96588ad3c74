/** Brings the first departures in full while the line is idle, so that touching one opens it without a signal. */
import { bring, isFresh, recall } from './answers.js';
import { arrange, confidenceOf } from './chance.js';
import { online, sparing } from './network.js';
import { departurePath, reckoningPath } from './question.js';

const FIRST_ONES = 4;
const FIRST_ONES_SPARING = 2;

export const idle = () =>
  new Promise((go) => (window.requestIdleCallback ? requestIdleCallback(go, { timeout: 4000 }) : setTimeout(go, 500)));

/** Those that a person most likely opens: the cheapest safe ones first. */
function likely(value) {
  const groups = arrange(value.results, { confidence: confidenceOf(value), onlySafe: false, sorting: 'cheapest' });
  return groups.slice(0, sparing() ? FIRST_ONES_SPARING : FIRST_ONES).map((group) => group.lead);
}

/** @param {{others?: boolean}} [how] others: only what tells other weights, where the departures in full come otherwise @returns {() => void} call it to stop */
export function prefetch(value, asked, { others: alone = false } = {}) {
  let stopped = false;
  const run = async () => {
    const slots = likely(value);
    const inFull = alone ? [] : slots.map((slot) => departurePath(slot.id, asked));
    // What tells other weights takes the server longer: it comes last, and of the first one only.
    const others = slots.slice(0, 1).map((slot) => reckoningPath(slot.id, asked));
    for (const path of [...inFull, ...others]) {
      await idle();
      if (stopped || !online.value) return;
      if (!isFresh(await recall(path))) await bring(path);
    }
  };
  run();
  return () => (stopped = true);
}
