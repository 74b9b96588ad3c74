/** What a file would change, and what is wrong with it: where, and what would be right. */
import { Refused } from '../network.js';
import { t } from '../words.js';
import { Care, Label } from './pictures.jsx';
import { Problem, ServerFault, ServerWords } from './states.jsx';

const MOST_LINES = 100;

const none = (text) => (text === null || text === '' ? t('losing.nothing') : text);

const Difference = ({ one }) => (
  <li class="entry-line plain">
    <strong>{t(`imports.kind.${one.kind}`)}: {one.name}</strong>
    {one.changes.map((change) => <span key={change.field}>{change.field}: <span class="before">{none(change.before)}</span> → <strong>{none(change.after)}</strong></span>)}
    <span class="quiet"><ServerWords>{one.line}</ServerWords></span>
  </li>
);

/** @param {{told: {dry_run: boolean, counts: Record<string, number>, differences: any[]}}} props */
export function Differences({ told: { dry_run: dry, counts, differences } }) {
  const moved = differences.filter(({ kind }) => kind !== 'same');
  return (
    <section aria-labelledby="differences" role="status">
      <h3 id="differences" class="state-line"><Label /> {t(dry ? 'imports.would' : 'imports.done')}</h3>
      <p class="big">{t('imports.counts', counts)}</p>
      {!moved.length && <p>{t('imports.same')}</p>}
      <ul>{moved.slice(0, MOST_LINES).map((one, place) => <Difference key={place} one={one} />)}</ul>
      {moved.length > MOST_LINES && <p>{t('imports.more', { count: moved.length - MOST_LINES })}</p>}
    </section>
  );
}

const Fault = ({ fault }) => (
  <li class="entry-line plain">
    <strong><ServerWords>{fault.field}{fault.value !== null && `: ${fault.value}`}</ServerWords></strong>
    <ServerFault fault={fault} />
  </li>
);

/** @param {{problem: Error}} props */
export const FileFaults = ({ problem }) => {
  if (!(problem instanceof Refused) || !problem.fields.length) return <Problem problem={problem} />;
  return (
    <div class="notice" role="alert">
      <Care />
      <div>
        <p><strong>{t('imports.wrong')}</strong></p>
        {problem.fields.length >= MOST_LINES && <p><ServerWords said={problem.language}>{problem.message}</ServerWords></p>}
        <ul>{problem.fields.map((fault, place) => <Fault key={place} fault={fault} />)}</ul>
      </div>
    </div>
  );
};
