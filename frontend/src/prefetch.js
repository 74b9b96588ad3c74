/** Brings the first departures in full while the line is idle, so that touching one opens it without a signal. */
import { bring, isFresh, recall, whenQuiet } from './answers.js';
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

const quiet = () => new Promise((go) => whenQuiet(go));

/** @param {[string, () => Promise<any>][]} wanted paths asked one after the other, and what each waits for @returns {() => void} call it to stop */
function fetchIdly(wanted) {
  let stopped = false;
  const run = async () => {
    for (const [path, waits] of wanted) {
      await waits();
      if (stopped || !online.value) return;
      if (!isFresh(await recall(path))) await bring(path);
    }
  };
  run();
  return () => (stopped = true);
}

/** What tells other weights takes the server long: it is asked for the first one only, and what waits for a quiet line goes before. */
const otherWeights = (value, asked) => likely(value).slice(0, 1).map((slot) => [reckoningPath(slot.id, asked), quiet]);

/** Departures in full, and last what tells other weights. */
export const prefetchInFull = (value, asked) => fetchIdly([...likely(value).map((slot) => [departurePath(slot.id, asked), idle]), ...otherWeights(value, asked)]);

/** Only what tells other weights, where the departures in full come otherwise. */
export const prefetchOtherWeights = (value, asked) => fetchIdly(otherWeights(value, asked));
