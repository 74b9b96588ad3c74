/** One vehicle at one hour, with the carton to take and the others. */
import { isSafe, timesOf } from '../chance.js';
import { dayAndHour, hourOfDay, hourRange, kilograms, money } from '../format.js';
import { screenOf, typedNumber } from '../question.js';
import { t } from '../words.js';
import { Fold } from './fold.jsx';
import { HardFish, Ride, SoftFish } from './pictures.jsx';
import { reasonOf } from './reason.js';
import { ServerWords } from './states.jsx';

/** @param {number} chance */
export function chanceWords(chance) {
  const { times, of } = timesOf(chance);
  return times ? t('chance.times', { count: times, times, of }) : t('chance.hardly');
}

/** @param {{currency: string, currency_decimals: number}} answer */
export function perKilogram(slot, answer) {
  if (slot.cost_per_kg_minor === null) return t('slot.price.none');
  return t('slot.price', { money: money(slot.cost_per_kg_minor, answer.currency, answer.currency_decimals) });
}

export const arrival = (slot) =>
  slot.arrives_from && slot.arrives_until ? hourRange(slot.arrives_from, slot.arrives_until) : null;

const Arrives = ({ slot }) => {
  const range = arrival(slot);
  return <p>{range ? t('slot.arrives', { range }) : t('slot.arrives.unknown')}</p>;
};

/** The hour alone where the day is plain. @param {string} instant @param {string} beside */
export const hourNear = (instant, beside) =>
  instant.slice(0, 10) === beside.slice(0, 10) ? hourOfDay(instant) : dayAndHour(instant);

export const State = ({ safe }) => (
  <span class="state">
    {safe ? <HardFish /> : <SoftFish />}
    <strong>{t(safe ? 'slot.safe' : 'slot.unsafe')}</strong>
  </span>
);

export const Reason = ({ slot, asked }) => {
  const { words, help, ours } = reasonOf(slot, typedNumber(asked.start_temperature_c));
  return (
    <p class="reason">
      {ours ? words : <ServerWords>{words}</ServerWords>} <strong>{help}</strong>
    </p>
  );
};

const Leaves = ({ slot, withDay }) => {
  const hour = withDay ? dayAndHour(slot.departs_at) : hourOfDay(slot.departs_at);
  return <h3>{t(slot.leaves_when_full ? 'slot.leaves.full' : 'slot.leaves', { hour })}</h3>;
};

const Lead = ({ slot, answer, asked, safe, cheapest, withDay }) => (
  <a class="slot-link" href={screenOf('journey', slot.id, asked)}>
    {cheapest && <span class="tag">{t('slot.cheapest')}</span>}
    <div class="slot-top">
      <Leaves slot={slot} withDay={withDay} />
      <span class="price">{perKilogram(slot, answer)}</span>
    </div>
    <p class="slot-state"><State safe={safe} /> <span>{t('slot.hard', { chance: chanceWords(slot.chance_hard) })}</span></p>
    <Arrives slot={slot} />
    {safe && slot.latest_safe_departure_at && (
      <p class="latest">{t('slot.latest', { hour: hourNear(slot.latest_safe_departure_at, slot.departs_at) })}</p>
    )}
    {!safe && <Reason slot={slot} asked={asked} />}
    <p class="quiet slot-ride">
      <Ride where={slot.carrier.ride} />
      <span>{slot.carrier.name} · {t('slot.carton', { carton: slot.carton_design.name, mass: kilograms(slot.mass_kg) })}</span>
    </p>
  </a>
);

const Other = ({ slot, answer, asked, confidence }) => (
  <li class="other">
    <a href={screenOf('journey', slot.id, asked)}>
      <span class="slot-top"><strong>{slot.carton_design.name}</strong> <span class="price">{perKilogram(slot, answer)}</span></span>
      <span class="slot-state"><State safe={isSafe(slot, confidence)} /> <span>{chanceWords(slot.chance_hard)}</span></span>
    </a>
  </li>
);

/** @param {{group: any, answer: any, asked: any, confidence: number, cheapest: boolean, withDay: boolean}} props */
export const Slot = ({ group, answer, asked, confidence, cheapest, withDay }) => (
  <li class={`slot ${group.safe ? 'safe' : 'unsafe'}`}>
    <Lead slot={group.lead} {...{ answer, asked, cheapest, withDay }} safe={group.safe} />
    {group.others.length > 0 && (
      <Fold words={t('slot.others', { count: group.others.length })}>
        {() => <ul>{group.others.map((slot) => <Other {...{ slot, answer, asked, confidence }} />)}</ul>}
      </Fold>
    )}
  </li>
);

/** The day that a slot belongs to, for headings. */
export const dayOf = (group) => group.lead.departs_at.slice(0, 10);
