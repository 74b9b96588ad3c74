/** The hour at which to give up, and the hour to close: the largest thing on the screen. */
import { hourOfDay, hoursDown, percent, weekday } from '../format.js';
import { t } from '../words.js';
import { Fact } from './fact.jsx';
import { Help } from './help.jsx';
import { Carton, Freezer } from './pictures.jsx';
import { Reason, State, arrival, chanceWords, hourNear } from './slot.jsx';

const Hour = ({ class: name, before, hour, beside, after, picture }) => (
  <div class={`hour-box ${name}`}>
    <span class="hour-before">{before}</span>
    <span class="hour-day">{hour.slice(0, 10) === beside.slice(0, 10) ? '' : weekday(hour)}</span>
    <span class="hour-value">{hourOfDay(hour)}</span>
    <span class="hour-after">{picture} <span>{after}</span></span>
  </div>
);

const Hours = ({ slot }) => (
  <div class="hour-boxes">
    <Hour
      class="close"
      before={t('giveup.close')}
      hour={slot.closes_at}
      beside={slot.departs_at}
      after={slot.close_no_earlier_than ? t('giveup.close.from', { hour: hourNear(slot.close_no_earlier_than, slot.departs_at) }) : t('giveup.close.box')}
      picture={<Carton />}
    />
    <Hour
      class="latest"
      before={t('giveup.latest')}
      hour={slot.latest_safe_departure_at}
      beside={slot.departs_at}
      after={t('giveup.after')}
      picture={<Freezer />}
    />
  </div>
);

const Refusal = ({ slot, asked }) => (
  <div class="refusal">
    <p class="big">{t(slot.reason?.code === 'may_leave_late' ? 'giveup.in_time' : 'giveup.never')}</p>
    <Reason slot={slot} asked={asked} />
  </div>
);

/** How long the limit is kept; a carton that was not followed to its end holds at least so long. */
function holds({ hold_cautious_h: cautious, hold_best_h: best, hold_is_at_least: least }) {
  if (least || best === null) return t('fact.holds.least', { cautious: hoursDown(cautious) });
  return t('fact.holds.value', { cautious: hoursDown(cautious), best: hoursDown(best) });
}

/** @param {{price: string}} props what a kilogram costs there, in words */
export const GiveUp = ({ slot, asked, safe, price }) => (
  <section class={`giveup ${safe ? 'safe' : 'unsafe'}`} aria-label={t('giveup.title')}>
    <div class="slot-state"><State safe={safe} /> <Help name="slot.hard" words={t('slot.hard', { chance: chanceWords(slot.chance_hard) })} /></div>
    {safe && slot.latest_safe_departure_at ? <Hours slot={slot} /> : <Refusal slot={slot} asked={asked} />}
    {safe && <Help name="giveup.title" />}
    <dl>
      <Fact name={slot.leaves_when_full ? 'fact.leaves.full' : 'fact.leaves'}>{hourOfDay(slot.departs_at)}</Fact>
      <Fact name="fact.arrives">{arrival(slot) ?? t('slot.arrives.unknown')}</Fact>
      {slot.hold_cautious_h !== null && <Fact name="fact.holds">{holds(slot)}</Fact>}
      <Fact name="fact.soft">{percent(slot.expected_softened_share)}</Fact>
      <Fact name="fact.cost">{price}</Fact>
      {safe && slot.margin_h !== null && <Fact name="fact.margin">{hoursDown(slot.margin_h)}</Fact>}
    </dl>
  </section>
);
