/** What a screen says besides its answer: waiting, old, refused, nothing kept. */
import { age } from '../format.js';
import { NoSignal, Refused, online } from '../network.js';
import { language, t } from '../words.js';
import { Care, Mast } from './pictures.jsx';

export const Waiting = ({ rows = 4 }) => (
  <div role="status">
    <span class="unseen">{t('waiting')}</span>
    {Array.from({ length: rows }, () => <div class="waiting" />)}
  </div>
);

/** How old an answer is, and how to have it anew. */
export const Age = ({ answer, onAgain }) => (
  <p class="offline-line" role="status">
    <Mast silent={!online.value} />
    <span>
      {!online.value && `${t('frame.silent')}. `}
      {answer.waiting ? t('age.asking') : answer.kept_at && t('age.worked', { age: age(answer.kept_at) })}
    </span>
    {!answer.waiting && <button type="button" class="plain-button" onClick={onAgain}>{t('again')}</button>}
  </p>
);

/** The server's own words, marked as English where the screen speaks another language. */
export const ServerWords = ({ children }) => <span lang={language.value === 'en' ? undefined : 'en'}>{children}</span>;

/** @param {{fault: import('../network.js').FieldFault}} props */
export const ServerFault = ({ fault }) => (
  <ServerWords>
    {fault.problem}
    {fault.right && `: ${fault.right}`}
  </ServerWords>
);

const Refusal = ({ problem }) =>
  problem.fields.length ? (
    <ul>{problem.fields.map((one) => <li><ServerFault fault={one} /></li>)}</ul>
  ) : (
    <p><ServerWords>{problem.message}</ServerWords></p>
  );

/** Why there is no answer, and what to do. */
export function Problem({ problem, children }) {
  const key = problem instanceof NoSignal ? 'silent' : problem instanceof Refused ? 'refused' : 'broken';
  return (
    <div class="notice" role="alert">
      {key === 'silent' ? <Mast silent /> : <Care />}
      <div>
        <p><strong>{t(`problem.${key}`)}</strong></p>
        <p>{t(`problem.${key}.do`)}</p>
        {problem instanceof Refused && <Refusal problem={problem} />}
        <div class="row">{children}</div>
      </div>
    </div>
  );
}

/** An old answer stays on the screen; this says why it is old. */
export const StillOld = ({ answer }) =>
  answer.problem && answer.value && !answer.waiting ? (
    <p class="notice" role="status"><Care /> <span>{t(answer.problem instanceof NoSignal ? 'old.silent' : 'old.broken')}</span></p>
  ) : null;
