/** Choosing the own code of one person on this phone: twice, so that a slip is found. */
import { useState } from 'preact/hooks';
import { t } from '../words.js';
import { Keypad } from './keypad.jsx';

/** Guessed first by whoever finds the phone: one digit over and over, or digits in a row. */
export function isEasy(code) {
  const steps = [...code].slice(1).map((digit, place) => Number(digit) - Number(code[place]));
  return [-1, 0, 1].some((step) => steps.every((one) => one === step));
}

/** @param {{onChosen: (code: string) => void, busy: boolean}} props */
export function OwnCode({ onChosen, busy }) {
  const [first, setFirst] = useState('');
  const [typed, setTyped] = useState('');
  const [fault, setFault] = useState('');
  const start = (words) => {
    setFirst('');
    setTyped('');
    setFault(words);
  };
  const done = () => {
    if (!first && isEasy(typed)) return start(t('own.easy'));
    if (first) return first === typed ? onChosen(typed) : start(t('own.unlike'));
    setFirst(typed);
    setTyped('');
    setFault('');
  };
  return (
    <>
      <p>{t('own.explain')}</p>
      <Keypad label={t(first ? 'own.again' : 'own.choose')} done={t(first ? 'own.done' : 'own.next')} onType={setTyped} onDone={done} {...{ typed, busy, fault }} />
      <p class="quiet">{t('own.forgotten')}</p>
    </>
  );
}
