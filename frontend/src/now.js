/** Answers that other people change all day: what is kept comes first, and the server is asked each time. */
import { useEffect } from 'preact/hooks';
import { answerTo, recall, refresh } from './answers.js';
import { who } from './people.js';
import { delivered } from './waiting.js';

const NOTHING_ASKED = { value: null, kept_at: null, waiting: false, problem: null };

/** @param {string | null} path @returns {import('./answers.js').Answer} */
export function useNow(path) {
  useEffect(() => {
    if (path) recall(path).then(() => refresh(path));
  }, [path, who.value, delivered.value]);
  return path ? answerTo(path).value : NOTHING_ASKED;
}
