/** What waits on this phone, in words: each with its state, and what a person can do about it. */
import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { age, dayAndHour } from '../format.js';
import { mend, namedBy } from '../form.js';
import { again, deliver, discard, settle, undo } from '../outbox.js';
import { me } from '../people.js';
import { lasting } from '../store.js';
import { outbox } from '../waiting.js';
import { kindOf } from '../written.js';
import { t } from '../words.js';
import { Heading } from '../parts/heading.jsx';
import { Care, Mast } from '../parts/pictures.jsx';
import { ServerFault, ServerWords } from '../parts/states.jsx';
import '../style/lots.css';

/** Fields of a form that tell what was written. */
const MOST_TOLD = 5;
/** A phone that is fuller than this may soon keep nothing more. */
const FULL = 0.9;

/** What was discarded last, for whoever changes her mind. */
const gone = signal(null);

const away = async (one) => {
  if (await discard(one)) gone.value = one;
};

const back = (one) => {
  gone.value = null;
  return undo(one);
};

const Do = ({ act, first, words }) => <button type="button" class={`button ${first ? 'first' : ''}`} onClick={act}>{words}</button>;

const Away = ({ one, words = t('outbox.discard') }) => <Do act={() => away(one)} words={words} />;

/** A value of a row, as a person reads it. */
function told(value) {
  if (value === true || value === false) return t(value ? 'yes' : 'no');
  return /^\d{4}-\d\d-\d\dT/.test(value) ? dayAndHour(value) : value?.name ?? value ?? '–';
}

/** Only what she wrote stands beside what others wrote there since. */
const Both = ({ one: { typed, body, problem } }) => (
  <table>
    <thead><tr><td /><th scope="col">{t('outbox.mine')}</th><th scope="col">{t('outbox.theirs')}</th></tr></thead>
    <tbody>
      {typed.filter(([name]) => name in body).map(([name, called, text]) => (
        <tr><th scope="row">{t(`field.${called}`)}</th><td>{text || '–'}</td><td>{told(problem.current[name])}</td></tr>
      ))}
    </tbody>
  </table>
);

/** Whether its form can help: no field of hers opens a parcel that others closed. */
function canBeMended({ typed, problem: { fields } }) {
  const names = new Set(fields.flatMap(namedBy));
  return typed.length > 0 && (!fields.length || typed.some(([name]) => names.has(name)));
}

const STATES = {
  waits: ({ one }) => (
    <>
      <p class="state-line"><Mast silent /> <span>{t('outbox.kept')}</span></p>
      <div class="row"><Away one={one} /></div>
    </>
  ),
  refused: ({ one }) => (
    <>
      <p class="state-line"><Care /> <strong>{t('send.refused')}</strong></p>
      <p><ServerWords said={one.problem.language}>{one.problem.message}</ServerWords></p>
      {one.problem.fields.map((fault) => <p><ServerFault fault={fault} /></p>)}
      <div class="row">
        {canBeMended(one) ? <Do act={() => mend(one)} first words={t('outbox.mend')} /> : <Do act={() => again(one)} first words={t('outbox.again')} />}
        <Away one={one} />
      </div>
    </>
  ),
  conflict: ({ one }) => (
    <>
      <p class="state-line"><Care /> <strong>{t('outbox.conflict')}</strong></p>
      <Both one={one} />
      <div class="row">
        <Do act={() => again(one)} words={t('outbox.keep.mine')} />
        <Away one={one} words={t('outbox.keep.theirs')} />
      </div>
    </>
  ),
  locked: ({ one }) => <div class="row"><Away one={one} /></div>,
};

const Line = ({ one }) => {
  const State = STATES[one.state];
  const whose = one.typed.find(([name]) => name === 'member')?.[2] ?? me.value.member.name;
  const texts = one.typed.filter(([, , text]) => text && !/^\d{4}-/.test(text)).map(([, called, text]) => `${t(`field.${called}`)}: ${text}`).slice(0, MOST_TOLD);
  return (
    <li class="entry-line plain">
      <strong class="line-title">{one.path ? t(kindOf(one)) : t('outbox.locked')}</strong>
      {one.path && <p>{texts.join(' · ') || one.place}<br />{t('outbox.written', { age: age(one.made_at), name: whose })}</p>}
      <State one={one} />
    </li>
  );
};

/** Whether the browser promised to keep what is here, and has room for more. */
function useRoom() {
  const [room, setRoom] = useState(true);
  useEffect(() => {
    const asked = navigator.storage;
    asked && Promise.all([asked.persisted(), asked.estimate()]).then(([promised, { usage, quota }]) => setRoom(promised && usage < FULL * quota), () => {});
  }, []);
  return room;
}

export function Outbox() {
  const room = useRoom();
  const list = outbox.value;
  return (
    <>
      <Heading words={t('outbox.title')} />
      <p>{t(list.length ? 'outbox.explain' : 'outbox.empty')}</p>
      {list.length > 0 && <p><Do act={() => settle().then(deliver)} first words={t('outbox.now')} /></p>}
      {gone.value && <p class="notice" role="status"><span>{t('outbox.gone', { what: t(kindOf(gone.value)) })}</span> <Do act={() => back(gone.value)} words={t('outbox.undo')} /></p>}
      <ul>{list.map((one) => <Line key={one.n} one={one} />)}</ul>
      {!lasting.value || !room ? <p class="notice"><Care /> <span>{t(lasting.value ? 'outbox.unsure' : 'kept.fleeting')}</span></p> : null}
    </>
  );
}
