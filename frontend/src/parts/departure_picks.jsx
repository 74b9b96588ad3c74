/** Safe departures to choose one from: the cheapest first, the others by their hour. */
import { cheapestSafe, confidenceOf, isSafe } from '../chance.js';
import { dayAndHour } from '../format.js';
import { t } from '../words.js';
import { perKilogram } from './slot.jsx';
import '../style/parcel.css';

const FIRST_ONES = 5;

const coming = (slot) => Date.parse(slot.departs_at) > Date.now();

/** A departure's key names its timetable, its day and its carton design. */
export function partsOf(key) {
  const [, timetable, digits, carton_design] = key.match(/^(\d+)-(\d{8})-(.+)$/);
  return { timetable: Number(timetable), date: digits.replace(/(\d{4})(\d\d)(\d\d)/, '$1-$2-$3'), carton_design };
}

/** Those of an answer that still leave and are safe. */
export function safeOnes(value) {
  const confidence = confidenceOf(value);
  const slots = value.results.filter((slot) => coming(slot) && isSafe(slot, confidence));
  const cheapest = cheapestSafe(slots, confidence);
  return slots.sort((a, b) => (b === cheapest) - (a === cheapest));
}

const Departure = ({ slot, value, chosen, choose }) => (
  <button type="button" class="pick" aria-pressed={chosen} onClick={() => choose(slot.id)}>
    <span class="line-top"><strong class="line-title">{dayAndHour(slot.departs_at)}</strong> <span class="price">{perKilogram(slot, value)}</span></span>
    <span>{slot.carrier.name} · {slot.carton_design.name}</span>
  </button>
);

const Picks = ({ slots, chosen, ...more }) => (
  <div class="picks">
    {slots.map((slot) => <Departure key={slot.id} slot={slot} {...more} chosen={slot.id === chosen} />)}
  </div>
);

/** @param {{slots: any[], value: any, chosen: string, choose: (id: string) => void}} props value: the answer that they stand in */
export const DeparturePicks = ({ slots, ...more }) => (
  <div role="group" aria-label={t('field.departure')}>
    <Picks slots={slots.slice(0, FIRST_ONES)} {...more} />
    {slots.length > FIRST_ONES && (
      <details>
        <summary>{t('pick.more')}</summary>
        <Picks slots={slots.slice(FIRST_ONES)} {...more} />
      </details>
    )}
  </div>
);
