/** One step of whoever packs: close a carton, it has left or was called off, it was handed over, settle, a later cost. */
import { clockIn } from '../format.js';
import { useForm } from '../form.js';
import { me } from '../people.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import '../style/parcel.css';

/** Fields of each step; `now` begins with the hour of the place. */
const STEPS = {
  close: {
    path: ({ carton }) => `cartons/${carton}/close`,
    // Written down here: without a signal it is sent hours later.
    fields: [{ name: 'closed_at', kind: 'hour', now: true }, { name: 'gross_mass_kg', kind: 'number', optional: true }, { name: 'core_temperature_c', kind: 'degrees', optional: true }],
  },
  depart: {
    path: () => 'depart',
    fields: [{ name: 'departed_at', kind: 'hour', now: true }, { name: 'driver', kind: 'text', optional: true }, { name: 'plate', kind: 'text', optional: true }, { name: 'note', kind: 'text', optional: true }],
  },
  hand_over: {
    path: () => 'hand-over',
    fields: [
      { name: 'handed_over_at', kind: 'hour', now: true }, { name: 'arrived_at', kind: 'hour', optional: true },
      { name: 'is_hard', kind: 'yes', start: 'yes' }, { name: 'soft_kg', kind: 'number', start: '0' },
      { name: 'core_temperature_c', kind: 'degrees', optional: true }, { name: 'received_by', kind: 'text', optional: true }, { name: 'note', kind: 'text', optional: true },
    ],
  },
  call_off: { path: () => 'call-off', fields: [{ name: 'note', kind: 'text' }] },
  settle: { path: () => 'settle', fields: [{ name: 'received_minor', kind: 'money', optional: true }] },
  correct: { path: () => 'corrections', fields: [{ name: 'amount_minor', kind: 'money' }, { name: 'note', kind: 'text' }] },
};

/** Money that came back makes a bill smaller: which way is chosen in words, never typed as a sign. */
const WAY = { name: 'way', kind: 'choice', start: 'more' };
const ways = () => ({ ...WAY, options: [['more', t('correct.more')], ['less', t('correct.less')]] });
const shapes = { correct: ({ way, amount_minor: amount, ...body }, id) => ({ id, ...body, amount_minor: way === 'less' ? -amount : amount }) };

/** Soft fish is weighed; hard fish weighs nothing of it. */
const checks = {
  hand_over: ({ is_hard: hard, soft_kg: soft }) => {
    if (hard === 'no' && !(parseFloat(soft.replace(',', '.')) > 0)) return { soft_kg: 'fault.soft' };
    return {};
  },
};

function StepForm({ parcel, does, query }) {
  const step = STEPS[does];
  const now = clockIn(me.value.cooperative.time_zone);
  const fields = step.fields.map((field) => (field.now ? { ...field, start: now } : field));
  const path = `/api/v1/parcels/${parcel.id}/${step.path(query)}/`;
  const form = useForm({
    key: path,
    fields: does === 'correct' ? [ways(), ...fields] : fields,
    path,
    shape: shapes[does],
    check: checks[does],
    done: () => go(`/parcels/${parcel.id}`),
  });
  return <Form form={form} words={t(`step_of.${does}.do`)} />;
}

/** @param {{id: string, query: {do: string, carton?: string}}} props */
export function ParcelStep({ id, query }) {
  const does = query.do in STEPS ? query.do : 'close';
  return (
    <>
      <a class="back" href={`/parcels/${id}`}>{t('parcel.back')}</a>
      <Heading words={does === 'close' ? t('carton.close', { number: query.carton ?? '1' }) : t(`step_of.${does}`)} />
      <p>{t(`step_of.${does}.note`)}</p>
      <Asked quiet path={`/api/v1/parcels/${id}/`}>{(parcel) => <StepForm parcel={parcel} does={does} query={query} />}</Asked>
      <Cautions codes={ALWAYS} />
    </>
  );
}
