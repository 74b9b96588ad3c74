/** Who belongs to the cooperative: what each may do, a code for a phone, somebody new. */
import { refresh } from '../answers.js';
import { useForm } from '../form.js';
import { todayIn } from '../format.js';
import { me } from '../people.js';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { Form } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { roleWords } from '../parts/holder_line.jsx';
import { MemberCode } from '../parts/member_code.jsx';
import { Person } from '../parts/pictures.jsx';
import '../style/people.css';

const MEMBERS = '/api/v1/members/?page_size=100';
const ROLES = ['member', 'packer', 'manager'];

const again = () => refresh(MEMBERS);
const pathOf = (member) => `/api/v1/members/${member.id}/`;

const fieldsOf = ({ name = '', phone = '', role = 'member' }) => [
  { name: 'name', kind: 'text', start: name },
  { name: 'phone', kind: 'text', optional: true, start: phone },
  { name: 'role', kind: 'choice', options: ROLES.map((one) => [one, roleWords(one)]), start: role },
];

function Change({ member }) {
  // What was typed belongs to the row as it stood: after a change the form begins anew.
  const key = `member ${JSON.stringify(member)}`;
  const form = useForm({ key, fields: fieldsOf(member), method: 'PATCH', path: pathOf(member), seen: member.edition, done: again });
  return (
    <details>
      <summary>{t('members.edit')}</summary>
      <Form form={form} words={t('members.edit.do')} second />
    </details>
  );
}

/** She is out at once, on every phone; what she owes and is owed stays. */
function Leave({ member }) {
  const today = todayIn(me.value.cooperative.time_zone);
  const form = useForm({ key: `leave ${member.id}`, method: 'PATCH', path: pathOf(member), shape: () => ({ left_on: today }), done: again });
  return (
    <details>
      <summary>{t('members.leave')}</summary>
      <p>{t('members.leave.explain', { name: member.name })}</p>
      <Form form={form} words={t('members.leave.do')} second />
    </details>
  );
}

function Return({ member }) {
  const form = useForm({ key: `return ${member.id}`, method: 'PATCH', path: pathOf(member), shape: () => ({ left_on: null }), done: again });
  return <Form form={form} words={t('members.return')} second />;
}

const Here = ({ member }) => (
  <>
    <MemberCode member={member} />
    <Change member={member} />
    <Leave member={member} />
  </>
);

const Member = ({ member }) => (
  <details class="member">
    <summary>
      <Person />
      <span>
        <strong>{member.name}</strong>
        <span class="basis">{roleWords(member.role)}</span>
      </span>
    </summary>
    {member.phone && <p>{t('members.telephone')} <a class="button" href={`tel:${member.phone}`}>{member.phone}</a></p>}
    {member.left_on ? <Return member={member} /> : <Here member={member} />}
  </details>
);

function Add() {
  const form = useForm({ key: 'new member', fields: fieldsOf({}), path: '/api/v1/members/', done: again });
  return (
    <details class="sewn">
      <summary><h2>{t('members.add')}</h2></summary>
      <Form form={form} words={t('members.add.do')} />
    </details>
  );
}

const Rows = ({ members }) => <div class="members">{members.map((one) => <Member key={one.id} member={one} />)}</div>;

function Listed({ members }) {
  const left = members.filter((one) => one.left_on);
  return (
    <>
      <Rows members={members.filter((one) => !one.left_on)} />
      {left.length > 0 && (
        <details class="sewn">
          <summary><h2>{t('members.left')}</h2></summary>
          <Rows members={left} />
        </details>
      )}
    </>
  );
}

export const Members = () => (
  <>
    <a class="back" href="/who">{t('who.back')}</a>
    <Heading words={t('members.title')} />
    <p><a class="button" href="/phones">{t('phones.title')}</a></p>
    <Asked path={MEMBERS}>{({ results }) => <Listed members={results} />}</Asked>
    <Add />
  </>
);
