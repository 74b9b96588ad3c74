/** A code that takes one member onto one phone, once: large enough to be read out, and as a picture for a camera. */
import { useState } from 'preact/hooks';
import { dayAndHour, instantIn } from '../format.js';
import { me } from '../people.js';
import { t } from '../words.js';
import { Act } from './act.jsx';
import { Phone } from './pictures.jsx';
import { Qr } from './qr.jsx';

const Code = ({ code }) => (
  <div class="code-card" role="status">
    <p>{t('code.for', { name: code.member.name })}</p>
    <p class="code-value">{code.code}</p>
    <Qr qr={code.qr} words={t('code.picture')} />
    <p><strong>{t('code.until', { hour: dayAndHour(instantIn(code.expires_at, me.value.cooperative.time_zone)) })}</strong></p>
    <ol class="plain-steps">
      <li>{t('code.step.camera')}</li>
      <li>{t('code.step.or', { address: `${location.host}/enrol` })}</li>
      <li>{t('code.step.own')}</li>
    </ol>
    <p class="quiet">{t('code.once')}</p>
  </div>
);

/** @param {{member: {id: number, name: string}}} props */
export function MemberCode({ member }) {
  const [code, setCode] = useState(null);
  return (
    <>
      {code && <Code code={code} />}
      <div class="with-picture">
        <Phone />
        <Act path="/api/v1/enrolment-codes/" body={{ member: member.id }} words={t(code ? 'code.another' : 'code.make')} second={Boolean(code)} done={setCode} />
      </div>
    </>
  );
}
