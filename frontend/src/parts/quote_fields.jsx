/** What a quote is made of, as it is typed. */
import { speciesName } from '../choices.js';
import { clockIn } from '../format.js';
import { useForm } from '../form.js';
import { me } from '../people.js';
import { LANGUAGES, t } from '../words.js';
import { packs } from '../who.js';
import { Form, TypedField } from './form.jsx';

/** @typedef {{known: any, lot?: any, named?: string, members?: any[], asked: any, departure: string, route: string, kept: Record<string, string> | null}} About */

const FISH = ['species', 'mass_kg', 'frozen_since', 'ready_at', 'start_temperature_c', 'member'];
const MORE = new Set(['ready_at', 'valid_until', 'deliver_by', 'language']);

/** What stands in the form at first. @param {About} about */
function startsWith({ known, lot, asked, departure, route, kept }) {
  const { member, cooperative } = me.value;
  if (kept) return kept;
  const there = known.buyersOn(route).map(({ slug }) => slug);
  return {
    departure, species: asked.species, mass_kg: asked.mass_kg, start_temperature_c: asked.start_temperature_c, buyer: there.includes(asked.buyer) ? asked.buyer : there[0],
    member: String(lot?.member.id ?? member.id), frozen_since: lot?.frozen_since.slice(0, 10) ?? '', ready_at: clockIn(cooperative.time_zone),
    profit_kind: 'mark_up', becomes: 'lot', language: cooperative.language in LANGUAGES ? cooperative.language : 'en',
  };
}

const PROFITS = ['mark_up', 'margin'];
const BECOMES = ['lot', 'parcel'];

/** @param {About} about @returns {import('../typed.js').FieldSpec[]} */
function fieldsOf(about) {
  const { known, lot, members, route } = about;
  const start = startsWith(about);
  const all = [
    { name: 'departure', kind: 'text' },
    { name: 'mass_kg', kind: 'number', called: 'on_offer' },
    { name: 'start_temperature_c', kind: 'degrees' },
    { name: 'species', kind: 'choice', options: known.species.map((one) => [one.code, speciesName(one)]) },
    { name: 'frozen_since', kind: 'since' },
    ...(members ? [{ name: 'member', kind: 'choice', options: members.map((one) => [String(one.id), one.name]) }] : []),
    { name: 'buyer', kind: 'choice', options: known.buyersOn(route).map((one) => [one.slug, one.name]) },
    { name: 'profit_kind', kind: 'choice', options: PROFITS.map((one) => [one, t(`profit.${one}`)]) },
    { name: 'profit_share', kind: 'number' },
    ...(packs() ? [{ name: 'becomes', kind: 'choice', options: BECOMES.map((one) => [one, t(`quote.becomes.${one}`)]) }] : []),
    { name: 'valid_until', kind: 'hour', optional: true, called: 'quote_until' },
    { name: 'ready_at', kind: 'hour' },
    { name: 'deliver_by', kind: 'hour', optional: true },
    { name: 'language', kind: 'choice', options: Object.entries(LANGUAGES).map(([tag, { name }]) => [tag, name]) },
  ];
  return all.filter(({ name }) => !lot || !FISH.includes(name)).map((field) => ({ ...field, start: start[field.name] ?? '' }));
}

/** The shares of the interface are parts of one. */
const share = (percents) => Number((percents / 100).toPrecision(12));

/** Fish of a lot is promised of that lot; other fish is told with the quote. */
function bodyOf({ profit_share: percents, member, becomes = 'lot', ...typed }, id, lot) {
  const fish = lot ? null : member ? { member: Number(member) } : {};
  const body = { id, becomes, profit_share: share(percents), supply: null, lot: lot?.id ?? null, fish };
  for (const [name, value] of Object.entries(typed)) (FISH.includes(name) ? body.fish : body)[name] = value;
  return body;
}

/** @param {About} about @param {(quote: any, body: any, draft: any) => void} look what it would come to, and what issues it */
export function useQuoteForm(about, look) {
  let body;
  return useForm({
    key: `quote ${about.lot?.id ?? ''} ${about.named ?? ''}`,
    fields: fieldsOf(about),
    path: '/api/v1/quotes/preview/',
    shape: (typed, id) => (body = bodyOf(typed, id, about.lot)),
    done: (quote, draft) => look(quote, body, draft),
  });
}

/** @param {{form: any, children: any}} props */
export function QuoteFields({ form, children }) {
  const shown = form.fields.filter(({ name }) => name !== 'departure');
  const more = shown.filter(({ name }) => MORE.has(name));
  return (
    <Form form={form} fields={shown.filter(({ name }) => !MORE.has(name))} words={t('quote.look')}>
      <details open={more.some(({ name }) => form.faults[name])}>
        <summary>{t('quote.more')}</summary>
        <div class="fields">{more.map((field) => <TypedField key={field.name} field={field} form={form} />)}</div>
      </details>
      {children}
    </Form>
  );
}
