/** What the cooperative counts with: each subject with what is old; of one, what counts now and what comes. */
import { refresh } from '../answers.js';
import { SUBJECTS } from '../fares.js';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { FareRow, today } from '../parts/fare_row.jsx';
import { Heading } from '../parts/heading.jsx';
import { Care } from '../parts/pictures.jsx';
import { Surcharge } from '../parts/fare_surcharge.jsx';
import { useNow } from '../now.js';
import { daysLater } from '../format.js';
import '../style/quotes.css';

const OLD = '/api/v1/old-prices/';
const YEAR_DAYS = 365;

const listPath = (subject) => `/api/v1/${subject}/?page_size=100`;
/** Cartons are told by a day: the versions of a year from now are those that come. */
const laterPath = (subject) => (subject === 'carton-designs' ? `${listPath(subject)}&on=${daysLater(today(), YEAR_DAYS)}` : null);

const Whole = ({ name, old }) => (
  <li class="entry-line">
    <a href={`/fares?subject=${name}`}>
      <strong class="line-title">{t(`fares.subject.${name}`)}</strong>
      {old > 0 && <span class="state-line"><Care /> {t('fares.old.count', { count: old })}</span>}
    </a>
  </li>
);

const Subjects = () => (
  <>
    <a class="back" href="/who">{t('who.back')}</a>
    <Heading words={t('fares.title')} />
    <p>{t('fares.note')}</p>
    <Asked path={OLD}>
      {({ old_prices: old }) => <ul>{Object.keys(SUBJECTS).map((name) => <Whole key={name} name={name} old={old.filter((one) => one.subject === name).length} />)}</ul>}
    </Asked>
    <div class="row">
      <a class="button" href="/fares/history">{t('history.title')}</a>
      <a class="button" href="/imports">{t('imports.title')}</a>
    </div>
  </>
);

/** Rows that follow each other, by what they are about: the one that counts now and those that come. */
export function byThing(subject, rows, day) {
  const things = new Map();
  for (const row of rows.filter((one) => !one.valid_until || one.valid_until > day)) {
    const key = SUBJECTS[subject].alike(row);
    const { now = null, coming = [] } = things.get(key) ?? {};
    things.set(key, row.valid_from <= day ? { now: row, coming } : { now, coming: [...coming, row] });
  }
  const sooner = (one, other) => one.valid_from.localeCompare(other.valid_from);
  return [...things.values()].map(({ now, coming }) => ({ now, coming: coming.sort(sooner) }));
}

function Rows({ subject, rows, again }) {
  const { value: old } = useNow(OLD);
  const oldOnes = new Map(old?.old_prices.filter((one) => one.subject === subject).map((one) => [one.id, one]));
  const things = byThing(subject, rows, today());
  const askedLongAgo = ({ now }) => Number(oldOnes.has(now?.id));
  things.sort((one, other) => askedLongAgo(other) - askedLongAgo(one));
  const anew = () => Promise.all([again(), refresh(OLD)]);
  return <ul>{things.map(({ now, coming }) => <FareRow key={(now ?? coming[0]).id} {...{ subject, now, coming }} old={oldOnes.get(now?.id)} again={anew} />)}</ul>;
}

/** Each version once, though several days tell of it. */
const once = (rows) => [...new Map(rows.map((row) => [row.id, row])).values()];

function Subject({ subject }) {
  const later = laterPath(subject);
  const { value: more } = useNow(later);
  return (
    <>
      <a class="back" href="/fares">{t('fares.back')}</a>
      <Heading words={t(`fares.subject.${subject}`)} />
      {SUBJECTS[subject].fresh && <p><a class="button wide-button" href={`/fares/change?subject=${subject}`}>{t('fares.add')}</a></p>}
      <Asked path={listPath(subject)}>
        {({ results }, again) => (
          <Rows subject={subject} rows={once([...results, ...(more?.results ?? [])])} again={() => Promise.all([again(), later && refresh(later)])} />
        )}
      </Asked>
      {subject === 'tariffs' && <Surcharge />}
    </>
  );
}

/** @param {{query: {subject?: string}}} props */
export const Fares = ({ query: { subject } }) => (subject in SUBJECTS ? <Subject subject={subject} /> : <Subjects />);
