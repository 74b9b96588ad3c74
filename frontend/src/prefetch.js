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

/** @param {string[]} paths asked one after the other @returns {() => void} call it to stop */
function fetchIdly(paths) {
  let stopped = false;
  const run = async () => {
    for (const path of paths) {
      await idle();
      if (stopped || !online.value) return;
      if (!isFresh(await recall(path))) await bring(path);
    }
  };
  run();
  return () => (stopped = true);
}

/** What tells other weights takes the server long: it is asked for the first one only. */
const otherWeights = (value, asked) => likely(value).slice(0, 1).map((slot) => reckoningPath(slot.id, asked));

/** Departures in full, and last what tells other weights. */
export const prefetchInFull = (value, asked) => fetchIdly([...likely(value).map((slot) => departurePath(slot.id, asked)), ...otherWeights(value, asked)]);

/** Only what tells other weights, where the departures in full come otherwise. */
export const prefetchOtherWeights = (value, asked) => fetchIdly(otherWeights(value, asked));
