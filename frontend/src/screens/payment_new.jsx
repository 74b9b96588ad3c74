/** Writing down that money changed hands. */
import { todayIn } from '../format.js';
import { useForm } from '../form.js';
import { me } from '../people.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';

function Filled({ members, member }) {
  const fields = [
    { name: 'member', kind: 'choice', options: members.map((one) => [String(one.id), one.name]), start: member ?? String(members[0].id) },
    { name: 'direction', kind: 'choice', options: [['in', t('payment.in')], ['out', t('payment.out')]], start: 'in' },
    { name: 'amount_minor', kind: 'money' },
    { name: 'paid_on', kind: 'day', start: todayIn(me.value.cooperative.time_zone) },
    { name: 'note', kind: 'text', optional: true },
  ];
  const form = useForm({
    key: `payment ${member ?? ''}`,
    fields,
    path: '/api/v1/payments/',
    shape: (body, id) => ({ id, ...body, member: Number(body.member) }),
    done: (_, { member: whose }) => go(`/statements/${whose}`),
  });
  return <Form form={form} words={t('payment.record')} />;
}

/** @param {{query: {member?: string}}} props */
export const PaymentNew = ({ query: { member } }) => (
  <>
    <a class="back" href={member ? `/statements/${member}` : '/statements'}>{t('statements.back')}</a>
    <Heading words={t('payment.record')} />
    <Asked quiet path="/api/v1/members/?page_size=100">{({ results }) => <Filled members={results} member={member} />}</Asked>
  </>
);
