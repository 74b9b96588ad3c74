/** What was just taken back, on every screen as long as it can be undone; and whether the server would not have it. */
import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { discard } from '../outbox.js';
import { address } from '../router.jsx';
import { UNDO_MS, isUndoable, outbox } from '../waiting.js';
import { t } from '../words.js';
import { kindOf } from '../written.js';
import { Care } from './pictures.jsx';
import { ServerWords } from './states.jsx';

/** What could not be undone any more. */
const late = signal('');

const told = (one) => `${t(kindOf(one))} (${one.place})`;

async function undo(one) {
  if (await discard(one)) return;
  late.value = told(one);
  setTimeout(() => (late.value = ''), UNDO_MS);
}

function Undoable({ one }) {
  const button = useRef(null);
  // The button that was touched is gone: whoever uses a keyboard goes on here.
  useEffect(() => {
    const { activeElement: at } = document;
    if (at === document.body || at.disabled) button.current.focus();
  }, []);
  return (
    <p class="undo">
      <span>{t('undo.line', { what: told(one) })}</span>
      <button type="button" class="button" ref={button} onClick={() => undo(one)}>{t('outbox.undo')}</button>
    </p>
  );
}

const NotDone = ({ one }) => (
  <p class="undo">
    <Care />
    <span>{t('undo.refused', { what: told(one) })} <ServerWords said={one.problem.language}>{one.problem.message}</ServerWords></span>
    <a class="button" href="/outbox">{t('outbox.look')}</a>
  </p>
);

export function UndoLine() {
  const list = outbox.value;
  const refused = address.value === '/outbox' ? [] : list.filter(({ undoable, state }) => undoable && state === 'refused');
  return (
    <>
      {late.value && <p class="undo">{t('undo.late', { what: late.value })}</p>}
      {refused.map((one) => <NotDone key={one.n} one={one} />)}
      {list.filter((one) => isUndoable(one)).map((one) => <Undoable key={one.n} one={one} />)}
    </>
  );
}
