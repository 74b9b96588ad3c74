/** What a screen says besides its answer: waiting, old, refused, nothing kept. */
import { age, dayAndHour, instantIn } from '../format.js';
import { NoSignal, Refused, online } from '../network.js';
import { me } from '../people.js';
import { language, t } from '../words.js';
import { Care, Mast } from './pictures.jsx';

export const Waiting = ({ rows = 4 }) => (
  <div role="status">
    <span class="unseen">{t('waiting')}</span>
    {Array.from({ length: rows }, () => <div class="waiting" />)}
  </div>
);

/** How old an answer is, and how to have it anew: worked out, or seen. */
export const Age = ({ answer, onAgain, seen }) => (
  <p class="offline-line" role="status" aria-busy={Boolean(answer.waiting)}>
    <Mast silent={!online.value} />
    <span>
      {!online.value && `${t('frame.silent')}. `}
      {answer.waiting ? t('age.asking') : answer.kept_at && t(seen ? 'age.seen' : 'age.worked', { age: age(answer.kept_at) })}
    </span>
    {!answer.waiting && <button type="button" class="plain-button" onClick={onAgain}>{t('again')}</button>}
  </p>
);

const INSTANT = /\d{4}-\d\d-\d\dT\d\d:\d\d(:[\d.]+)?(Z|[+-]\d\d:\d\d)/g;

/** The hours of the server as hours of the place. */
const inHours = (words) => words.replace(INSTANT, (instant) => dayAndHour(me.value ? instantIn(instant, me.value.cooperative.time_zone) : instant));

/** The server's own words, marked with their language where the screen speaks another. */
export const ServerWords = ({ said = 'en', children }) => (
  <span lang={language.value === said ? undefined : said}>{[children].flat().map((one) => (typeof one === 'string' ? inHours(one) : one))}</span>
);

/** @param {{fault: import('../network.js').FieldFault}} props */
export const ServerFault = ({ fault }) => (
  <ServerWords said={fault.language}>
    {fault.problem}
    {fault.right && `: ${fault.right}`}
  </ServerWords>
);

const Refusal = ({ problem }) =>
  problem.fields.length ? (
    <ul>{problem.fields.map((one) => <li><ServerFault fault={one} /></li>)}</ul>
  ) : (
    <p><ServerWords said={problem.language}>{problem.message}</ServerWords></p>
  );

/** What went wrong, by its words in the catalogue. */
function kindOf(problem) {
  if (problem instanceof NoSignal) return 'silent';
  if (!(problem instanceof Refused)) return 'broken';
  return { 401: 'unknown', 403: 'closed', 404: 'absent', 429: 'often' }[problem.status] ?? 'refused';
}

/** Why there is no answer, and what to do. @param {{problem: Error, own?: Record<string, string>, children?: any}} props own: words by kind, where the usual ones do not fit */
export function Problem({ problem, own = {}, children }) {
  const kind = kindOf(problem);
  const words = own[kind] ?? `problem.${kind}`;
  return (
    <div class="notice" role="alert">
      {kind === 'silent' ? <Mast silent /> : <Care />}
      <div>
        <p><strong>{t(words)}</strong></p>
        <p>{t(`${words}.do`)}</p>
        {problem instanceof Refused && <Refusal problem={problem} />}
        <div class="row">
          {words === 'problem.unknown' && <a class="button first" href="/who">{t('who.title')}</a>}
          {children}
        </div>
      </div>
    </div>
  );
}

/** An old answer stays on the screen; this says why it is old. */
export const StillOld = ({ answer }) =>
  answer.problem && answer.value && !answer.waiting ? (
    <p class="notice" role="status"><Care /> <span>{t(answer.problem instanceof NoSignal ? 'old.silent' : 'old.broken')}</span></p>
  ) : null;
