/** Digits large enough for wet hands in the sun. A keyboard and a reader aloud use the field itself. */
import { useEffect, useRef } from 'preact/hooks';
import { t } from '../words.js';
import { Back } from './pictures.jsx';

const LEAST = 4;
const MOST = 8;
const DIGITS = ['1', '2', '3', '4', '5', '6', '7', '8', '9'];

const onlyDigits = (text) => text.replace(/\D/g, '').slice(0, MOST);

const Digit = ({ digit, onTouch }) => <button type="button" class="digit" onClick={() => onTouch(digit)}>{digit}</button>;

/** A mark for each digit, so that she sees her finger was felt. */
const Marks = ({ count }) => (
  <p class="digit-marks" aria-hidden="true">
    {Array.from({ length: Math.max(LEAST, count) }, (_, place) => <span class={place < count ? 'typed' : ''} />)}
  </p>
);

/**
 * @param {{label: string, typed: string, onType: (digits: string) => void, onDone: () => void, busy?: boolean, fault?: string, done: string}} props
 */
export function Keypad({ label, typed, onType, onDone, busy, fault, done }) {
  const field = useRef(null);
  useEffect(() => field.current.focus({ preventScroll: true }), [label]);
  const type = (text) => {
    // The field is ahead of what is drawn: two quick touches are two digits.
    field.current.value = onlyDigits(text);
    onType(field.current.value);
  };
  const add = (digit) => type(field.current.value + digit);
  const submit = (event) => {
    event.preventDefault();
    if (typed.length >= LEAST && !busy) onDone();
  };
  return (
    <form class="keypad" onSubmit={submit} noValidate>
      <label for="own-code">{label}</label>
      <input
        id="own-code"
        ref={field}
        class="digit-field"
        type="password"
        inputmode="none"
        autocomplete="off"
        value={typed}
        aria-invalid={fault ? 'true' : undefined}
        aria-describedby={fault ? 'own-code-fault' : undefined}
        onInput={(event) => type(event.currentTarget.value)}
      />
      <Marks count={typed.length} />
      <div role="status">{busy && <p>{t('keypad.busy')}</p>}</div>
      {fault && <p class="fault" id="own-code-fault" role="alert">{fault}</p>}
      <div class="digits">
        {DIGITS.map((digit) => <Digit key={digit} digit={digit} onTouch={add} />)}
        <button type="button" class="digit" onClick={() => type(field.current.value.slice(0, -1))}><Back /><span class="unseen">{t('keypad.back')}</span></button>
        <Digit digit="0" onTouch={add} />
        <button class="digit done" disabled={typed.length < LEAST || busy}>{done}</button>
      </div>
    </form>
  );
}
