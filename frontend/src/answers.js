/** Answers of the server, kept on the phone: what is kept comes first, then what the server says now. */
import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { getWhole } from './network.js';
import { keepAnswer, readAnswer } from './store.js';
import { language } from './words.js';

/** How many questions are on their way. */
export const asking = signal(0);

const FRESH_MS = 10 * 60_000;

/** @typedef {{value: any, kept_at: number | null, waiting: boolean, problem: Error | null}} Answer */

/** @type {Map<string, import('@preact/signals').Signal<Answer>>} */
const answers = new Map();

/** @param {string} path @returns {import('@preact/signals').Signal<Answer>} */
export function answerTo(path) {
  if (!answers.has(path)) answers.set(path, signal({ value: null, kept_at: null, waiting: true, problem: null }));
  return answers.get(path);
}

/** @param {Answer} answer */
export const isFresh = (answer) => answer.kept_at !== null && Date.now() - answer.kept_at < FRESH_MS;

/** Brings what the phone kept. @param {string} path */
export async function recall(path) {
  const answer = answerTo(path);
  if (answer.value.value) return answer.value;
  const kept = await readAnswer(path);
  if (kept) answer.value = { ...answer.value, value: kept.value, kept_at: kept.kept_at };
  return answer.value;
}

/** Asks the server and keeps what it says; a failure leaves the old answer standing. @param {string} path */
export async function refresh(path) {
  const answer = answerTo(path);
  answer.value = { ...answer.value, waiting: true, problem: null };
  asking.value += 1;
  try {
    const value = await getWhole(path, language.value);
    const { kept_at } = await keepAnswer(path, value);
    answer.value = { value, kept_at, waiting: false, problem: null };
  } catch (problem) {
    answer.value = { ...answer.value, waiting: false, problem };
  } finally {
    asking.value -= 1;
  }
  return answer.value;
}

/** @param {string} path */
export async function bring(path) {
  const kept = await recall(path);
  if (!isFresh(kept)) return refresh(path);
  answerTo(path).value = { ...kept, waiting: false, problem: null };
  return answerTo(path).value;
}

/** @param {string | null} path */
export function useAnswer(path) {
  useEffect(() => {
    if (path) bring(path);
  }, [path]);
  return path ? answerTo(path).value : NOTHING_ASKED;
}

const NOTHING_ASKED = { value: null, kept_at: null, waiting: true, problem: null };
