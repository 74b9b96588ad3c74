/** Leaving this phone for good: said first what goes, then done. */
import { useState } from 'preact/hooks';
import { signOut } from '../enrolment.js';
import { NoAnswer, NoSignal, Refused } from '../network.js';
import { asPerson, forget } from '../people.js';
import { t } from '../words.js';
import { Problem } from './states.jsx';

export function SignOut() {
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
      {problem ? (
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
