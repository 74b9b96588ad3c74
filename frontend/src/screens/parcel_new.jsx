/** Opening a shared carton: which safe departure, and how many cartons. */
import { useEffect } from 'preact/hooks';
import { cheapestSafe, confidenceOf, isSafe } from '../chance.js';
import { bringChoices, choices } from '../choices.js';
import { dayAndHour, longDay } from '../format.js';
import { useForm } from '../form.js';
import { departuresPath, question, startQuestion } from '../question.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { questionWords } from '../parts/question_line.jsx';
import { perKilogram } from '../parts/slot.jsx';
import { Waiting } from '../parts/states.jsx';
import '../style/parcel.css';

const FIRST_ONES = 5;

const coming = (slot) => Date.parse(slot.departs_at) > Date.now();

const Departure = ({ slot, value, chosen, choose }) => (
  <button type="button" class="pick" aria-pressed={chosen} onClick={() => choose(slot.id)}>
    <span class="line-top"><strong class="line-title">{dayAndHour(slot.departs_at)}</strong> <span class="price">{perKilogram(slot, value)}</span></span>
    <span>{slot.carrier.name} · {slot.carton_design.name}</span>
  </button>
);

/** A departure's key names its timetable, its day and its carton design. */
export function partsOf(key) {
  const [, timetable, digits, carton_design] = key.match(/^(\d+)-(\d{8})-(.+)$/);
  return { timetable: Number(timetable), date: digits.replace(/(\d{4})(\d\d)(\d\d)/, '$1-$2-$3'), carton_design };
}

const Picks = ({ slots, value, choose, form }) => (
  <div class="picks">
    {slots.map((slot) => <Departure key={slot.id} {...{ slot, value, choose }} chosen={slot.id === form.draft.departure} />)}
  </div>
);

const CARTONS = { name: 'cartons', kind: 'number', start: '1' };

const useOpening = (key, fields, buyer) =>
  useForm({
    key,
    fields,
    path: '/api/v1/parcels/',
    shape: ({ departure, cartons }, id) => ({ id, ...partsOf(departure), buyer, cartons }),
    done: (parcel) => go(`/parcels/${parcel.id}`),
  });

function Filled({ slots, buyer, value }) {
  const fields = [{ name: 'departure', kind: 'text', start: slots[0].id }, CARTONS];
  const form = useOpening('open a parcel', fields, buyer);
  const choose = (id) => form.type('departure', id);
  return (
    <>
      <div role="group" aria-label={t('field.departure')}>
        <Picks slots={slots.slice(0, FIRST_ONES)} {...{ value, choose, form }} />
        {slots.length > FIRST_ONES && (
          <details>
            <summary>{t('pick.more')}</summary>
            <Picks slots={slots.slice(FIRST_ONES)} {...{ value, choose, form }} />
          </details>
        )}
      </div>
      <Form form={form} fields={[CARTONS]} words={t('parcel.open')} />
    </>
  );
}

/** A departure that was named already: only the number of cartons is asked. */
function Named({ departure, buyer }) {
  const fields = [{ name: 'departure', kind: 'text', start: departure }, CARTONS];
  const form = useOpening(`open ${departure}`, fields, buyer);
  return (
    <>
      <p class="big">{longDay(`${partsOf(departure).date}T00:00`)}</p>
      <Form form={form} fields={[CARTONS]} words={t('parcel.open')} />
    </>
  );
}

function Safe({ value, buyer }) {
  const confidence = confidenceOf(value);
  const slots = value.results.filter((slot) => coming(slot) && isSafe(slot, confidence));
  if (!slots.length) return <p class="notice">{t('list.none.do')}</p>;
  const cheapest = cheapestSafe(slots, confidence);
  // The cheapest stands first; the others come by their hour.
  const first = [...slots].sort((a, b) => (b === cheapest) - (a === cheapest));
  return <Filled {...{ buyer, value }} slots={first} />;
}

/** Among the safe departures for what was asked last. */
function Chosen() {
  const known = choices.value;
  const asked = question.value;
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !asked) startQuestion(known);
  }, [known]);
  if (!known || !asked) return <Waiting rows={2} />;
  return (
    <>
      <p>{t('parcel.new.asked', questionWords(asked, known))} <a class="back" href="/">{t('question.change')}</a></p>
      <Asked quiet path={departuresPath(asked)}>{(value) => <Safe value={value} buyer={asked.buyer} />}</Asked>
    </>
  );
}

/** @param {{query: {departure?: string, buyer?: string}}} props a departure that was offered, or none */
export const ParcelNew = ({ query: { departure, buyer } }) => (
  <>
    <a class="back" href="/parcels">{t('parcels.back')}</a>
    <Heading words={t('parcel.open')} />
    {departure ? <Named departure={departure} buyer={buyer} /> : <Chosen />}
    <Cautions codes={ALWAYS} />
  </>
);
