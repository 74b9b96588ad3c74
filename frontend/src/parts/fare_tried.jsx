/** What a change would do before it is saved: coming departures before and after, and quotes that would lose money. */
import { choices } from '../choices.js';
import { dayAndHour, daysLater, kilograms } from '../format.js';
import { question, typedNumber } from '../question.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { LosingQuotes } from './quote_losing.jsx';
import { speciesName } from '../choices.js';

export const WHAT_IF = '/api/v1/what-if/';
const DAYS_SHOWN = 6;
const MOST_ROWS = 12;

/** The question of a trial: what was asked about last, on the way that is meant. */
export function trialOf(route, change) {
  const { mass_kg: mass, species, buyer } = question.value;
  const there = choices.value.buyersOn(route);
  return {
    ...change, route, species, mass_kg: typedNumber(mass), last_day: daysLater(change.valid_from, DAYS_SHOWN),
    buyer: (there.find((one) => one.slug === buyer) ?? there[0]).slug,
  };
}

const money = (minor) => (minor === null ? t('slot.price.none') : coin(minor));

const Row = ({ one }) => (
  <tr>
    <th scope="row">{dayAndHour(one.departs_at)}<span class="quiet basis">{one.carrier.name} · {one.carton_design.name}</span></th>
    <td class="from-to">
      {one.before_minor_per_kg === one.after_minor_per_kg ? t('tried.same', { money: money(one.before_minor_per_kg) }) : (
        <><span class="before">{money(one.before_minor_per_kg)}</span> → <strong>{money(one.after_minor_per_kg)}</strong></>
      )}
    </td>
  </tr>
);

/** Those that move first: of the others it is enough to know that they stay. */
const movedFirst = (departures) => {
  const moves = (one) => Number(one.before_minor_per_kg !== one.after_minor_per_kg);
  return [...departures].sort((one, other) => moves(other) - moves(one));
};

/** @param {{tried: {departures: any[], quotes: any[]}, asked: any}} props */
export const Tried = ({ tried: { departures, quotes }, asked }) => (
  <section class="sewn" aria-labelledby="tried">
    <h2 id="tried">{t('tried.title')}</h2>
    <p>{t('tried.for', { mass: kilograms(asked.mass_kg), species: speciesName(choices.value.species.find((one) => one.code === asked.species)) })}</p>
    <LosingQuotes losing={quotes} words={t('tried.losing', { count: quotes.length })} />
    {!quotes.length && <p>{t('tried.none')}</p>}
    {departures.length > 0 ? (
      <table>
        <thead>
          <tr><th scope="col">{t('tried.leaves')}</th><th scope="col" class="from-to">{t('ladder.each')}</th></tr>
        </thead>
        <tbody>{movedFirst(departures).slice(0, MOST_ROWS).map((one) => <Row key={one.id} one={one} />)}</tbody>
      </table>
    ) : (
      <p>{t('tried.no_departures')}</p>
    )}
  </section>
);
