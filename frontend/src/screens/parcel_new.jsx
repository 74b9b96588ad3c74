/** Opening a shared carton: which safe departure, and how many cartons. */
import { useEffect } from 'preact/hooks';
import { bringChoices, choices } from '../choices.js';
import { longDay } from '../format.js';
import { useForm } from '../form.js';
import { departuresPath, question, startQuestion } from '../question.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { DeparturePicks, partsOf, safeOnes } from '../parts/departure_picks.jsx';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { questionWords } from '../parts/question_line.jsx';
import { Waiting } from '../parts/states.jsx';
import '../style/parcel.css';

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
      <DeparturePicks {...{ slots, value, choose }} chosen={form.draft.departure} />
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
  const slots = safeOnes(value);
  return slots.length ? <Filled {...{ buyer, value, slots }} /> : <p class="notice">{t('list.none.do')}</p>;
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
