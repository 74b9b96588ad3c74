/** Asking for a plan: which lots travel in which carton when, at the least cost. */
import { useEffect } from 'preact/hooks';
import { bringChoices, choices } from '../choices.js';
import { daysLater, todayIn } from '../format.js';
import { useForm } from '../form.js';
import { me } from '../people.js';
import { question, startQuestion } from '../question.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { Waiting } from '../parts/states.jsx';

const DAYS_AHEAD = 3;
const named = (list) => list.map((one) => [one.slug, one.name]);

function Filled({ known }) {
  const today = todayIn(me.value.cooperative.time_zone);
  const { route, buyer } = question.value;
  const fields = [
    { name: 'route', kind: 'choice', options: named(known.routes), start: route },
    { name: 'buyer', kind: 'choice', options: [], start: buyer },
    { name: 'from', kind: 'day', start: today },
    { name: 'to', kind: 'day', start: daysLater(today, DAYS_AHEAD) },
  ];
  const form = useForm({
    key: 'plan',
    fields,
    path: '/api/v1/plans/',
    shape: (body, id) => ({ id, ...body }),
    check: ({ from, to }) => (to < from ? { to: 'fault.days' } : {}),
    done: (plan) => go(`/plans/${plan.id}`),
  });
  const type = (name, text) => {
    form.type(name, text);
    if (name === 'route') form.type('buyer', known.buyersOn(text)[0]?.slug ?? '');
  };
  const shown = fields.map((field) => (field.name === 'buyer' ? { ...field, options: named(known.buyersOn(form.draft.route)) } : field));
  return (
    <>
      <Form form={{ ...form, type }} fields={shown} words={t('plan.ask')} />
      {form.sending && <p role="status">{t('plan.working')}</p>}
    </>
  );
}

export function PlanNew() {
  const known = choices.value;
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !question.value) startQuestion(known);
  }, [known]);
  return (
    <>
      <a class="back" href="/parcels">{t('parcels.back')}</a>
      <Heading words={t('plan.ask.title')} />
      <p>{t('plan.note')}</p>
      {known && question.value ? <Filled known={known} /> : <Waiting rows={2} />}
    </>
  );
}
