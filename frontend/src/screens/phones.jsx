/** The phones of the cooperative, and turning one out: a phone that is lost or sold. */
import { refresh } from '../answers.js';
import { day } from '../format.js';
import { me } from '../people.js';
import { t } from '../words.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { Heading } from '../parts/heading.jsx';
import { Phone } from '../parts/pictures.jsx';
import '../style/people.css';

const PHONES = '/api/v1/phones/?page_size=100';

const names = (phone) => phone.holders.map((one) => one.member.name).join(', ');
const isThis = (phone) => phone.id === me.value.phone?.id;

const Revoke = ({ phone }) => (
  <>
    <p>{t('phones.revoke.explain', { names: names(phone) || t('phones.nobody') })}</p>
    {isThis(phone) && <p><strong>{t('phones.revoke.this')}</strong></p>}
    <Act path={`/api/v1/phones/${phone.id}/revoke/`} words={t('phones.revoke.do')} second undoable place={[names(phone), phone.name].filter(Boolean).join(' · ')} done={() => refresh(PHONES)} />
  </>
);

const Line = ({ phone }) => (
  <details class="member">
    <summary>
      <Phone />
      <span>
        <strong>{names(phone) || t('phones.nobody')}</strong>
        <span class="basis">{[phone.name, isThis(phone) && t('phones.this')].filter(Boolean).join(' · ')}</span>
      </span>
    </summary>
    <p>{t('phones.since', { date: day(phone.enrolled_at.slice(0, 10)) })}</p>
    {phone.revoked_at ? <p><strong>{t('phones.revoked', { date: day(phone.revoked_at.slice(0, 10)) })}</strong></p> : <Revoke phone={phone} />}
  </details>
);

function Listed({ phones }) {
  const out = phones.filter((one) => one.revoked_at);
  return (
    <>
      <div class="members">{phones.filter((one) => !one.revoked_at).map((one) => <Line key={one.id} phone={one} />)}</div>
      {out.length > 0 && (
        <details class="sewn">
          <summary><h2>{t('phones.out')}</h2></summary>
          {out.map((one) => <Line key={one.id} phone={one} />)}
        </details>
      )}
    </>
  );
}

export const Phones = () => (
  <>
    <a class="back" href="/members">{t('members.back')}</a>
    <Heading words={t('phones.title')} />
    <p>{t('phones.explain')}</p>
    <Asked path={PHONES}>{({ results }) => <Listed phones={results} />}</Asked>
  </>
);
