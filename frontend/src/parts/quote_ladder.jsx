/** What a buyer reads: from so many kilograms this price, and how sure it is to come hard. */
import { dayAndHour, degrees, hourRange, percent, plain } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Fact } from './fact.jsx';
import { chanceWords } from './slot.jsx';

const weights = ({ from_kg: from, to_kg: to }) => (from === to ? plain(from) : t('quote.weights', { from: plain(from), to: plain(to) }));

export const QuoteLadder = ({ quote }) => (
  <section class="sewn" aria-labelledby="prices">
    <h2 id="prices">{t('quote.ladder')}</h2>
    <table>
      <thead>
        <tr><th scope="col">{t('quote.weight')}</th><th scope="col" class="figure">{t('ladder.each')}</th></tr>
      </thead>
      <tbody>
        {quote.ladder.map((step) => (
          <tr key={step.from_kg} class={quote.accepted_kg >= step.from_kg && quote.accepted_kg <= step.to_kg ? 'mine' : ''}>
            <th scope="row">
              <strong>{weights(step)}</strong>
              <span class="basis">{t('quote.whole', { money: coin(step.from_total_minor) })}</span>
              <span class="quiet basis">{t('slot.hard', { chance: chanceWords(step.chance_hard) })}</span>
            </th>
            <td class="figure"><strong>{coin(step.price_minor_per_kg)}</strong></td>
          </tr>
        ))}
      </tbody>
    </table>
  </section>
);

/** What counts as hard. @param {string} limit such as softened_share:0.05 */
function limitWords(limit) {
  const [kind, value] = limit.split(':');
  return t(`quote.limit.${kind}`, { value: kind === 'softened_share' ? percent(Number(value)) : degrees(Number(value)) });
}

export const Promised = ({ quote }) => (
  <dl>
    <Fact name="quote.hard">{chanceWords(quote.chance_hard)}</Fact>
    <Fact name="quote.limit">{limitWords(quote.limit)}</Fact>
    <Fact name="quote.arrives">{hourRange(quote.arrives_from, quote.arrives_until)}</Fact>
    <Fact name="quote.valid">{dayAndHour(quote.valid_until)}, {t(`quote.until.${quote.valid_until_because.code}`)}</Fact>
    <Fact name="quote.profit">{t(`quote.profit.${quote.profit_kind}`, { share: percent(quote.profit_share) })}</Fact>
    <Fact name="quote.departs">{dayAndHour(quote.departs_at)}, {quote.carrier.name}</Fact>
    <Fact name="giveup.latest">{dayAndHour(quote.latest_safe_departure_at)}</Fact>
    <Fact name="quote.carton">{quote.carton_design.name}</Fact>
  </dl>
);
