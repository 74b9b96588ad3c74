/** Leaving this phone for good: said first what goes, then done. */
import { useState } from 'preact/hooks';
import { signOut } from '../enrolment.js';
import { NoAnswer, NoSignal, Refused } from '../network.js';
import { asPerson, forget, who } from '../people.js';
import { counts } from '../waiting.js';
import { t } from '../words.js';
import { Care } from './pictures.jsx';
import { Problem } from './states.jsx';

/** What waits goes with her: that is an act of its own. */
const WaitsStill = ({ count, drop }) => (
  <div class="notice" role="alert">
    <Care />
    <div>
      <p><strong>{t('leave.waits', { count })}</strong></p>
      <div class="row">
        <a class="button first" href="/outbox">{t('outbox.title')}</a>
        <button type="button" class="button" onClick={drop}>{t('leave.drop', { count })}</button>
      </div>
    </div>
  </div>
);

export function SignOut() {
  const [dropped, setDropped] = useState(false);
  const count = counts.value[who.value] ?? 0;
  const [problem, setProblem] = useState(null);
  const [busy, setBusy] = useState(false);
  const leave = async () => {
    setBusy(true);
    try {
      await signOut();
    } catch (failure) {
      if (![NoSignal, NoAnswer, Refused].some((kind) => failure instanceof kind)) throw failure;
      setProblem(failure);
      setBusy(false);
    }
  };
  return (
    <details class="sewn">
      <summary>{t('leave.title')}</summary>
      <p>{t('leave.explain')}</p>
      {count > 0 && !dropped ? (
        <WaitsStill count={count} drop={() => setDropped(true)} />
      ) : problem ? (
        <Problem problem={problem} own={{ silent: 'leave.silent' }}>
          <button type="button" class="button first" onClick={leave}>{t('again')}</button>
          <button type="button" class="button" onClick={() => forget(asPerson().holder)}>{t('leave.anyway')}</button>
        </Problem>
      ) : (
        <button type="button" class="button" disabled={busy} onClick={leave}>{t('leave.do')}</button>
      )}
    </details>
  );
}
