/** A surcharge on every fare, tried before anybody writes it into one: when fuel is dear, what would it do? */
import { useState } from 'preact/hooks';
import { choices } from '../choices.js';
import { useForm } from '../form.js';
import { question } from '../question.js';
import { t } from '../words.js';
import { tomorrow } from './fare_row.jsx';
import { Tried, WHAT_IF, trialOf } from './fare_tried.jsx';
import { Form } from './form.jsx';
import { useChoices } from '../use_choices.js';

const PERCENT = 100;

function Asked() {
  const [found, setFound] = useState(null);
  let asked;
  const form = useForm({
    key: 'surcharge',
    path: WHAT_IF,
    fields: [
      { name: 'route', kind: 'choice', options: choices.value.routes.map((one) => [one.slug, one.name]), start: question.value.route },
      { name: 'surcharge_share', called: 'rule.share', kind: 'degrees' },
      { name: 'valid_from', called: 'fares.from', kind: 'day', start: tomorrow() },
    ],
    shape: ({ route, surcharge_share: share, ...change }) => (asked = trialOf(route, { ...change, tariffs: [], surcharge_share: share / PERCENT })),
    done: (tried) => setFound({ tried, asked }),
  });
  return (
    <>
      <Form form={form} words={t('tried.do')} second />
      {form.sending && <p role="status">{t('quote.working')}</p>}
      {found && <Tried {...found} />}
    </>
  );
}

export const Surcharge = () => (
  <details class="sewn">
    <summary><h2>{t('tried.surcharge')}</h2></summary>
    <p>{t('tried.surcharge.note')}</p>
    {useChoices() && <Asked />}
  </details>
);
