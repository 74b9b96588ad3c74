/** Offering fish: what it is, how cold, for whom; or again what did not leave; or changing what was offered. */
import { useEffect } from 'preact/hooks';
import { bringChoices, choices, speciesName } from '../choices.js';
import { clockIn } from '../format.js';
import { useForm } from '../form.js';
import { useNow } from '../now.js';
import { me } from '../people.js';
import { question, startQuestion } from '../question.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { packs } from '../who.js';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Form, TypedField } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';
import { Waiting } from '../parts/states.jsx';
import '../style/lots.css';

const named = (list) => list.map((one) => [one.slug, one.name]);
/** The clock of the place where an instant is told. */
const typedHour = (instant) => instant?.slice(0, 16) ?? '';

const minus = (celsius) => String(celsius).replace('-', '−');

/** What stands in the form at first: what was offered before, or what was asked last. */
function startsWith(lot, again, mass, note = '') {
  const asked = question.value;
  const now = clockIn(me.value.cooperative.time_zone);
  if (!lot) return { ...asked, member: String(me.value.member.id), mass_kg: '', frozen_since: '', ready_at: now, deliver_by: '', may_be_split: 'no', note };
  const before = {
    member: String(lot.member.id), route: lot.route.slug, buyer: lot.buyer.slug, species: lot.species.code, note: lot.note,
    mass_kg: String(lot.mass_kg), start_temperature_c: minus(lot.start_temperature_c), frozen_since: lot.frozen_since.slice(0, 10),
    ready_at: typedHour(lot.ready_at), deliver_by: typedHour(lot.deliver_by), may_be_split: lot.may_be_split ? 'yes' : 'no',
  };
  // It was out of the freezer since: how cold it is now, whoever offers it has to say.
  return again ? { ...before, mass_kg: mass ?? before.mass_kg, start_temperature_c: '', ready_at: now, deliver_by: '' } : before;
}

/** @returns {import('../typed.js').FieldSpec[]} */
function fieldsOf(known, members, start) {
  const all = [
    { name: 'mass_kg', kind: 'number' },
    { name: 'start_temperature_c', kind: 'degrees' },
    { name: 'species', kind: 'choice', options: known.species.map((one) => [one.code, speciesName(one)]) },
    { name: 'route', kind: 'choice', options: named(known.routes) },
    { name: 'buyer', kind: 'choice', options: named(known.buyers) },
    { name: 'frozen_since', kind: 'since' },
    ...(members ? [{ name: 'member', kind: 'choice', options: members.map((one) => [String(one.id), one.name]) }] : []),
    { name: 'ready_at', kind: 'hour' },
    { name: 'deliver_by', kind: 'hour', optional: true },
    { name: 'may_be_split', kind: 'yes' },
    { name: 'note', kind: 'text', optional: true },
  ];
  return all.map((field) => ({ ...field, start: start[field.name] ?? '' }));
}

const MORE = new Set(['ready_at', 'deliver_by', 'may_be_split', 'note']);

/** Only what was changed: an hour that the form does not show stays as it is. */
const changesOf = (body, fields, draft) =>
  Object.fromEntries(fields.filter(({ name, start }) => draft[name] !== start).map(({ name }) => [name, body[name]]));

function Filled({ known, members, lot: before, again, mass, note }) {
  const fields = fieldsOf(known, members, startsWith(before, again, mass, note));
  const lot = !again && before;
  const form = useForm({
    key: lot ? `change ${lot.id}` : `offer ${before?.id ?? ''}`,
    fields,
    method: lot ? 'PATCH' : 'POST',
    path: lot ? `/api/v1/lots/${lot.id}/` : '/api/v1/lots/',
    seen: lot?.edition,
    shape: (body, id, draft) => (lot ? changesOf(body, fields, draft) : { ...body, id, ...(body.member && { member: Number(body.member) }) }),
    done: (saved) => go(`/lots/${saved.id}`),
  });
  const shown = fields.map((field) => (field.name === 'buyer' ? { ...field, options: named(known.buyersOn(form.draft.route)) } : field));
  const takeRoute = (name, text) => {
    form.type(name, text);
    if (name === 'route') form.type('buyer', known.buyersOn(text)[0]?.slug ?? '');
  };
  const more = shown.filter(({ name }) => MORE.has(name));
  const wiring = { ...form, type: takeRoute };
  return (
    <Form form={wiring} fields={shown.filter(({ name }) => !MORE.has(name))} words={t(lot ? 'lot.save' : 'lots.offer')}>
      <details open={more.some(({ name, start }) => form.faults[name] || (name === 'note' && start))}>
        <summary>{t('lot.more')}</summary>
        <div class="fields">{more.map((field) => <TypedField key={field.name} field={field} form={wiring} />)}</div>
      </details>
    </Form>
  );
}

/** @param {{query: {change?: string, again?: string, mass?: string, note?: string}}} props again: a lot of which so many kg were called off; note: what another app shared */
export function LotNew({ query: { change, again, mass, note } }) {
  const known = choices.value;
  const before = change ?? again;
  const { value: lot } = useNow(before ? `/api/v1/lots/${before}/` : null);
  const { value: members } = useNow(packs() && !change ? '/api/v1/members/?page_size=100' : null);
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !question.value) startQuestion(known);
  }, [known]);
  const ready = known && question.value && (!before || lot) && (!packs() || change || members);
  return (
    <>
      <a class="back" href={before ? `/lots/${before}` : '/lots'}>{t('lots.back')}</a>
      <Heading words={t(change ? 'lot.change' : 'lots.offer')} />
      {ready ? <Filled known={known} members={members?.results} lot={lot} again={again} mass={mass} note={note} /> : <Waiting rows={3} />}
      <Cautions codes={ALWAYS} />
    </>
  );
}
