/** A dated change: from which day, and the figures from then on; a fare is tried on what is coming before it is saved. */
import { useState } from 'preact/hooks';
import { SUBJECTS, figuresOf, readRules, typedFigure } from '../fares.js';
import { day } from '../format.js';
import { useForm } from '../form.js';
import { useNow } from '../now.js';
import { go, toTop } from '../router.jsx';
import { useChoices } from '../use_choices.js';
import { t } from '../words.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { DayPicks } from '../parts/day_picks.jsx';
import { pathOf, today, tomorrow } from '../parts/fare_row.jsx';
import { Tried, WHAT_IF, trialOf } from '../parts/fare_tried.jsx';
import { Form, TypedField } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { RuleFields } from '../parts/rule_fields.jsx';
import { Waiting } from '../parts/states.jsx';
import '../style/quotes.css';

const OWN = { days: DayPicks, rules: RuleFields };

const FROM = { name: 'valid_from', called: 'fares.from', kind: 'day' };
const LATER = [
  { name: 'note', called: 'fares.why', kind: 'text', optional: true, start: '' },
  { name: 'valid_until', called: 'fares.ends', kind: 'day', optional: true, more: true, start: '' },
];

/** The fields of a change: what it is about where that is new, its figures as they were, and its days. */
function fieldsOf(subject, row, lists, kept) {
  const { fresh, figures } = SUBJECTS[subject];
  const about = row ? [] : fresh(lists).map((field) => ({ ...field, start: field.options?.[0][0] ?? '' }));
  const known = figures().map((figure) => ({ ...figure, start: typedFigure(figure, row) || firstOf(figure) }));
  return [...about, { ...FROM, start: tomorrow() }, ...known, ...LATER].map((field) => ({ ...field, start: kept?.[field.name] ?? field.start }));
}

const firstOf = ({ kind, options }) => ({ rules: '[]', days: '0,1,2,3,4,5,6', yes: 'no', choice: options?.[0][0] })[kind] ?? '';

/** Every figure goes along with a change, those in the fold too: what is left out would be guessed. */
function bodyOf(subject, row, body, figures) {
  const said = figuresOf(figures, body);
  if (said.carrier) said.carrier = Number(said.carrier);
  return { ...(row && SUBJECTS[subject].given(row)), ...said };
}

const Fields = ({ fields, form }) => (
  <div class="fields">
    {fields.map((field) => {
      const Shown = OWN[field.kind] ?? TypedField;
      return <Shown key={field.name} field={field} form={form} />;
    })}
  </div>
);

function Filled({ subject, row, lists, kept, look }) {
  const fields = fieldsOf(subject, row, lists, kept);
  const tries = subject === 'tariffs';
  let body;
  const shape = (typed) => {
    body = bodyOf(subject, row, typed, fields);
    const { valid_from, route, carrier, rules } = body;
    return tries ? trialOf(route, { valid_from, tariffs: [{ carrier, route, rules }], surcharge_share: null }) : body;
  };
  const form = useForm({
    key: `change ${subject} ${JSON.stringify(row)}`,
    fields,
    path: tries ? WHAT_IF : `/api/v1/${subject}/`,
    shape: (typed) => shape(typed),
    check: ({ rules }) => (rules ? readRules(rules).faults : {}),
    done: (answer, draft) => (tries ? look(answer, body, draft) : go(`/fares?subject=${subject}`)),
  });
  const folded = fields.filter(({ more }) => more);
  return (
    <Form form={form} fields={[]} words={tries ? t('tried.do') : t('fares.save', { day: day(form.draft.valid_from || today()) })}>
      <Fields fields={fields.filter(({ more }) => !more)} form={form} />
      <details open={folded.some(({ name }) => form.faults[name])}>
        <summary>{t('fares.figures')}</summary>
        <Fields fields={folded} form={form} />
      </details>
      {form.sending && tries && <p role="status">{t('quote.working')}</p>}
    </Form>
  );
}

const Looked = ({ subject, looked: { tried, body, asked }, back }) => (
  <>
    <Tried tried={tried} asked={asked} />
    <Act path={`/api/v1/${subject}/`} body={body} words={t('fares.save', { day: day(body.valid_from) })} done={() => go(`/fares?subject=${subject}`)} />
    <button type="button" class="button wide-button" onClick={back}>{t('question.change')}</button>
  </>
);

/** The form, or what it would change; what was typed comes back with "Change". */
function Changing({ subject, row, lists }) {
  const [looked, setLooked] = useState(null);
  const [kept, setKept] = useState(null);
  const look = (tried, body, draft) => {
    setKept(draft);
    setLooked({ tried, body, asked: trialOf(body.route, body) });
    toTop();
  };
  if (looked) return <Looked subject={subject} looked={looked} back={() => setLooked(null)} />;
  return <Filled {...{ subject, row, lists, kept, look }} />;
}

const rows = (path) => useNow(path).value?.results;

/** @param {{query: {subject?: string, id?: string}}} props without an id it is a new one */
export function FareChange({ query: { subject: asked, id } }) {
  const subject = asked in SUBJECTS ? asked : 'tariffs';
  const known = useChoices();
  const carriers = rows('/api/v1/carriers/?page_size=100');
  const materials = rows('/api/v1/materials/?page_size=100');
  const lists = known && carriers && materials && { ...known, carriers, materials };
  const which = subject === 'carton-designs' ? { slug: id } : { id };
  return (
    <>
      <a class="back" href={`/fares?subject=${subject}`}>{t('fares.back')}</a>
      {!id && <Heading words={t('fares.add.title', { subject: t(`fares.subject.${subject}`) })} />}
      {!lists && <Waiting rows={3} />}
      {lists && !id && <Changing subject={subject} lists={lists} />}
      {lists && id && (
        <Asked quiet path={pathOf(subject, { ...which, valid_from: '' })} heading={(row) => SUBJECTS[subject].name(row)}>
          {(row) => <Changing subject={subject} row={row} lists={lists} />}
        </Asked>
      )}
    </>
  );
}
