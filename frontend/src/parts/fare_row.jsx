/** One thing with its dates: what counts now and since when, what comes, whether it is old, and what can be done. */
import { age, day, dayWithYear, daysLater, todayIn } from '../format.js';
import { SUBJECTS } from '../fares.js';
import { useForm } from '../form.js';
import { me } from '../people.js';
import { t } from '../words.js';
import { Act } from './act.jsx';
import { Figures } from './fare_words.jsx';
import { Form } from './form.jsx';
import { Care, Label } from './pictures.jsx';

export const today = () => todayIn(me.value.cooperative.time_zone);
export const tomorrow = () => daysLater(today(), 1);

/** The address of a row; a carton is named by a day on which this version of it counts. */
export function pathOf(subject, row, step = '') {
  const first = row.valid_from > today() ? row.valid_from : today();
  return row.slug ? `/api/v1/${subject}/${row.slug}/${step}?on=${first}` : `/api/v1/${subject}/${row.id}/${step}`;
}

/** Days since somebody asked; null where it is not old. */
const Asked = ({ row, old }) => {
  if (!row.confirmed_on) return null;
  const since = age(Date.parse(`${row.confirmed_on}T00:00Z`));
  return old ? (
    <p class="state-line old"><Care /> <strong>{t('fares.old', { age: since })}</strong></p>
  ) : (
    <p class="state-line"><Label /> <span>{t('fares.confirmed', { age: since })}</span></p>
  );
};

const END = [{ name: 'valid_until', kind: 'day', called: 'fares.ends' }, { name: 'note', kind: 'text', called: 'fares.why', optional: true }];

function End({ subject, row, again }) {
  const fields = END.map((field) => (field.kind === 'day' ? { ...field, start: tomorrow() } : field));
  const path = pathOf(subject, row, 'end/');
  const form = useForm({ key: path, fields, path, seen: row.edition, done: again });
  return <Form form={form} words={t('fares.end')} second />;
}

const Coming = ({ subject, row, again }) => (
  <div class="coming">
    <p><strong>{t('fares.comes', { day: dayWithYear(row.valid_from) })}</strong></p>
    <Figures subject={subject} row={row} />
    <Act path={pathOf(subject, row, 'withdraw/')} words={t('fares.withdraw')} seen={row.edition} second undoable place={SUBJECTS[subject].name(row)} done={again} />
  </div>
);

const More = ({ subject, row, again }) => (
  <details>
    <summary>{t('fares.more')}</summary>
    <p class="quiet">{t('fares.source', { source: row.source })}</p>
    <a class="button wide-button" href={`/fares/history?subject=${subject}&id=${row.id}`}>{t('history.title')}</a>
    <p>{t('fares.end.note')}</p>
    <End subject={subject} row={row} again={again} />
  </details>
);

/** @param {{subject: string, now: any | null, coming: any[], old: any, again: () => any}} props old: what the server says of it, if it is */
export const FareRow = ({ subject, now, coming, old, again }) => (
  <li class="fare">
    <h2>{SUBJECTS[subject].name(now ?? coming[0])}</h2>
    {now && (
      <>
        <Figures subject={subject} row={now} />
        <p class="quiet">{t(now.valid_until ? 'fares.until' : 'fares.since', { from: dayWithYear(now.valid_from), until: now.valid_until && day(now.valid_until) })}</p>
        <Asked row={now} old={old} />
        <div class="row">
          {SUBJECTS[subject].confirmed && <Act path={pathOf(subject, now, 'confirm/')} words={t('fares.confirm')} seen={now.edition} second={!old} done={again} />}
          <a class="button" href={`/fares/change?subject=${subject}&id=${now.slug ?? now.id}`}>{t('fares.change')}</a>
        </div>
      </>
    )}
    {coming.map((row) => <Coming key={row.id} {...{ subject, row, again }} />)}
    {now && <More {...{ subject, again }} row={now} />}
  </li>
);
