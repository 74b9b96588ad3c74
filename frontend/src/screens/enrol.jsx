/** Taking a person onto this phone: who she is first, then a code of her own, then the server is asked. */
import { useEffect, useState } from 'preact/hooks';
import { codeToLookAs, enrol, readCode, signIn } from '../enrolment.js';
import { canLock } from '../lock.js';
import { NoAnswer, NoSignal, Refused } from '../network.js';
import { go } from '../router.jsx';
import { lasting } from '../store.js';
import { t } from '../words.js';
import { CodeForm } from '../parts/code_form.jsx';
import { Heading } from '../parts/heading.jsx';
import { LookAs } from '../parts/look_as.jsx';
import { NoLock } from '../parts/no_lock.jsx';
import { OwnCode } from '../parts/own_code.jsx';
import { PasswordForm } from '../parts/password_form.jsx';
import { Problem } from '../parts/states.jsx';
import '../style/people.css';

/**
 * @typedef {{by: 'code', code: string, phone_name: string}
 *   | {by: 'look', member: {id: number, name: string}}
 *   | {by: 'password', name: string, password: string}} Way how she proves who she is
 */

/** The code of a link stands behind #; it leaves the address at once, so that it stays in no history. */
function codeOfLink() {
  const code = location.hash.slice(1);
  if (code) history.replaceState(history.state, '', location.pathname);
  return code;
}

function useLinkCode() {
  const [code, setCode] = useState(codeOfLink);
  useEffect(() => {
    const take = () => setCode((before) => codeOfLink() || before);
    addEventListener('hashchange', take);
    return () => removeEventListener('hashchange', take);
  }, []);
  return code;
}

const TAKE = {
  code: ({ code, phone_name }, own) => enrol(code, own, phone_name),
  look: async ({ member }, own) => enrol(await codeToLookAs(member.id), own),
  password: ({ name, password }, own) => signIn(name, password, own),
};

const expected = (failure) => [Refused, NoSignal, NoAnswer].some((kind) => failure instanceof kind);

const Ways = ({ linked, setWay, way }) => (
  <>
    <CodeForm start={way?.code ?? linked} onCode={(code, phone_name) => setWay({ by: 'code', code, phone_name })} />
    <LookAs onChoose={(member) => setWay({ by: 'look', member })} />
    <PasswordForm start={way?.name ?? ''} onGiven={(name, password) => setWay({ by: 'password', name, password })} />
  </>
);

/** Her own code, and the server's answer; what was typed before stays while there is no signal. */
function Own({ way, onRefused, onBack }) {
  const [sending, setSending] = useState(false);
  const [failed, setFailed] = useState(null);
  const take = async (own) => {
    setSending(true);
    setFailed(null);
    try {
      await TAKE[way.by](way, own);
      go('/');
    } catch (problem) {
      if (!expected(problem)) throw problem;
      if (problem instanceof Refused) onRefused(problem);
      else setFailed({ problem, own });
      setSending(false);
    }
  };
  if (failed) {
    return (
      <Problem problem={failed.problem} own={{ silent: 'enrol.silent' }}>
        <button type="button" class="button first" onClick={() => take(failed.own)}>{t('again')}</button>
      </Problem>
    );
  }
  return (
    <>
      {way.by === 'look' && <h2>{way.member.name}</h2>}
      <OwnCode onChosen={take} busy={sending} />
      <button type="button" class="button" disabled={sending} onClick={onBack}>{t('enrol.back')}</button>
    </>
  );
}

export function Enrol() {
  const linked = useLinkCode();
  const [way, setWay] = useState(() => (readCode(linked) ? { by: 'code', code: readCode(linked), phone_name: '' } : null));
  const [step, setStep] = useState(way ? 'own' : 'way');
  const [refused, setRefused] = useState(null);
  useEffect(() => {
    if (readCode(linked)) begin({ by: 'code', code: readCode(linked), phone_name: '' });
  }, [linked]);
  const begin = (chosen) => {
    setWay(chosen);
    setRefused(null);
    setStep('own');
  };
  const back = (problem = null) => {
    setRefused(problem);
    setStep('way');
  };
  const able = canLock() && lasting.value;
  return (
    <>
      {step === 'way' && <a class="back" href="/who">{t('who.back')}</a>}
      <Heading words={t('enrol.title')} />
      {!able && <NoLock />}
      {refused && <Problem problem={refused} own={{ unknown: 'enrol.refused', refused: 'enrol.refused' }} />}
      {able && step === 'way' && <Ways linked={linked} way={way} setWay={begin} />}
      {able && step === 'own' && <Own way={way} onRefused={back} onBack={() => back()} />}
    </>
  );
}
