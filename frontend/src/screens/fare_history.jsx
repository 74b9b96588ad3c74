/** Who changed what, when, from which day on, and what it was before. */
import { useState } from 'preact/hooks';
import { dayWithYear, hourOfDay } from '../format.js';
import { SUBJECTS } from '../fares.js';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { Changed } from '../parts/fare_words.jsx';
import { Heading } from '../parts/heading.jsx';
import '../style/quotes.css';

const FIRST_ONES = 20;

const Entry = ({ entry }) => (
  <li class="entry-line plain">
    <strong class="line-title">{t(`fares.subject.${entry.subject}`)}: {entry.name}</strong>
    <strong>{t(`history.kind.${entry.kind}`, { day: dayWithYear(entry.valid_from), until: entry.valid_until ? dayWithYear(entry.valid_until) : '' })}</strong>
    {entry.changes.map((change) => <Changed key={change.field} subject={entry.subject} change={change} />)}
    {entry.note && <p>“{entry.note}”</p>}
    <span class="quiet">{t('history.by', { hour: `${dayWithYear(entry.at.slice(0, 10))}, ${hourOfDay(entry.at)}`, name: entry.by?.name ?? t('history.by.server') })}</span>
  </li>
);

const Choose = ({ subject, choose }) => (
  <select class="choice wide-button" aria-label={t('history.of')} value={subject} onChange={(event) => choose(event.currentTarget.value)}>
    <option value="">{t('history.all')}</option>
    {Object.keys(SUBJECTS).map((one) => <option key={one} value={one} selected={one === subject}>{t(`fares.subject.${one}`)}</option>)}
  </select>
);

/** @param {{query: {subject?: string, id?: string}}} props of one row, of one subject, or of all */
export function FareHistory({ query: { subject: asked = '', id } }) {
  const [subject, setSubject] = useState(asked in SUBJECTS ? asked : '');
  const [page, setPage] = useState(1);
  const choose = (one) => {
    setSubject(one);
    setPage(1);
  };
  const which = new URLSearchParams({ page, page_size: FIRST_ONES, ...(subject && { subject }), ...(id && subject === asked && { id }) });
  return (
    <>
      <a class="back" href={asked ? `/fares?subject=${asked}` : '/fares'}>{t('fares.back')}</a>
      <Heading words={t('history.title')} />
      <Choose subject={subject} choose={choose} />
      <Asked path={`/api/v1/history/?${which}`}>
        {({ results, count }) => (
          <>
            {!results.length && <p class="notice">{t('history.none')}</p>}
            <ul>{results.map((entry, place) => <Entry key={place} entry={entry} />)}</ul>
            <div class="row">
              {page > 1 && <button type="button" class="button" onClick={() => setPage(page - 1)}>{t('history.newer')}</button>}
              {page * FIRST_ONES < count && <button type="button" class="button" onClick={() => setPage(page + 1)}>{t('history.older')}</button>}
            </div>
          </>
        )}
      </Asked>
    </>
  );
}
