/** The own code of one person; wrong ones must wait, and nothing is lost by them. */
import { useEffect, useState } from 'preact/hooks';
import { countdown } from '../format.js';
import { WrongCode } from '../lock.js';
import { FREE_TRIES, MustWait, unlock, waitLeft } from '../unlocking.js';
import { t } from '../words.js';
import { roleWords } from './holder_line.jsx';
import { Keypad } from './keypad.jsx';

const SECOND_MS = 1000;

/** What is left to wait, read anew every second. */
function useWait(holder) {
  const [left, setLeft] = useState(waitLeft(holder));
  useEffect(() => {
    setLeft(waitLeft(holder));
    const timer = setInterval(() => setLeft(waitLeft(holder)), SECOND_MS);
    return () => clearInterval(timer);
  }, [holder]);
  return left;
}

const wrongWords = ({ tries }) => (tries < FREE_TRIES ? t('unlock.wrong', { count: FREE_TRIES - tries }) : t('unlock.wrong.wait'));

/** It stands where the digits were: there is nothing to touch. */
const MustRest = ({ left }) => (
  <div class="must-rest">
    <p class="fault" role="alert">{t('unlock.wait')}</p>
    <p class="wait-left" role="timer">{countdown(left)}</p>
  </div>
);

/** @param {{holder: import('../people.js').Holder, onOpen: () => void}} props */
export function Unlock({ holder, onOpen }) {
  const [typed, setTyped] = useState('');
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState(false);
  const left = useWait(holder);
  // A try is counted before its answer is known: until then she may still be right, and waits for nothing.
  const resting = left > 0 && !busy;
  const type = (digits) => {
    setTyped(digits);
    setWrong(false);
  };
  const open = async () => {
    setBusy(true);
    try {
      await unlock(holder.id, typed);
      onOpen();
    } catch (failure) {
      if (!(failure instanceof WrongCode || failure instanceof MustWait)) throw failure;
      setTyped('');
      setWrong(true);
    }
    setBusy(false);
  };
  return (
    <section aria-labelledby="unlock">
      <h2 id="unlock">{holder.name}</h2>
      <p>{roleWords(holder.role)} · {holder.cooperative}</p>
      {resting ? (
        <MustRest left={left} />
      ) : (
        <Keypad label={t('unlock.code')} done={t('unlock.open')} onType={type} onDone={open} fault={wrong && wrongWords(holder)} {...{ typed, busy }} />
      )}
      <details>
        <summary>{t('unlock.forgotten')}</summary>
        <p>{t('unlock.forgotten.do')}</p>
        <p><a class="button" href="/enrol">{t('enrol.open')}</a></p>
      </details>
    </section>
  );
}
