/** What a number means, what it rests on and whom to ask: a touch on its name tells. */
import { useState } from 'preact/hooks';
import { hasWords, t } from '../words.js';

/** @param {string} name of a number @param {string} [words] @param {string} [only] where it shows @returns {[any, any]} its name, to be touched where there is something to tell, and what is told */
export function useHelp(name, words = t(name), only = '') {
  const [open, setOpen] = useState(false);
  const means = `means.${name}`;
  if (!hasWords(means)) return [words, null];
  const touch = (
    <button type="button" class={`help-name ${only}`} aria-expanded={open} onClick={() => setOpen(!open)}>
      {words} <span class="help-mark" aria-hidden="true">?</span>
    </button>
  );
  return [touch, open && t(means)];
}

/** @param {{name: string, words?: string}} props words: what is touched, where something that is shown is explained */
export function Help({ name, words }) {
  const [touch, told] = useHelp(name, words ?? t('means.what'), words ? '' : 'on-screen');
  return (
    <>
      {touch}
      {told && <p class="help">{told}</p>}
    </>
  );
}
