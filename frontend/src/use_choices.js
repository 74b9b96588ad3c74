/** What a question can be made of and what was asked last, once both are here. */
import { useEffect } from 'preact/hooks';
import { bringChoices, choices } from './choices.js';
import { question, startQuestion } from './question.js';

/** @returns {import('./choices.js').Choices | null} */
export function useChoices() {
  const known = choices.value;
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !question.value) startQuestion(known);
  }, [known]);
  return known && question.value ? known : null;
}
