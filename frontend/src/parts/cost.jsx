/** What a kilogram costs there: every line of it, and the price at other weights. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../answers.js';
import { COOPERATIVES } from '../choices.js';
import { dayWithYear, kilograms, money, plain } from '../format.js';
import { hasWords, t } from '../words.js';
import { Fold } from './fold.jsx';
import { Help } from './help.jsx';
import { Care } from './pictures.jsx';

const named = (prefix, code, fallback) => (hasWords(`${prefix}.${code}`) ? t(`${prefix}.${code}`) : fallback);

/** A stored name says which of several; a name that only repeats the kind is left out. */
const WITH_NAMES = new Set(['material', 'levy', 'papers', 'handling', 'receiver']);

/** @param {string} unit @param {number} count */
export const unitWords = (unit, count) => (hasWords(`unit.${unit}`) ? t(`unit.${unit}`, { count }) : unit);

function Basis({ line, coin }) {
  const unit = unitWords(line.unit, line.quantity);
  const basis = line.rate_minor !== null && line.unit && t('cost.basis', { quantity: plain(line.quantity), unit, rate: coin(line.rate_minor) });
  const priced = line.priced_on && t(line.is_old ? 'cost.priced.old' : 'cost.priced', { date: dayWithYear(line.priced_on) });
  return <span class="quiet basis">{[basis, priced].filter(Boolean).join(' · ')}</span>;
}

/** @param {{code: string, name: string}} line */
export const lineName = ({ code, name }) => named('cost.code', code, name) + (WITH_NAMES.has(code) && name ? `: ${name}` : '');

export const Line = ({ line, coin }) => (
  <tr>
    <th scope="row">
      {lineName(line)}
      <Basis line={line} coin={coin} />
    </th>
    <td class="figure">{coin(line.amount_minor)}</td>
  </tr>
);

const coinOf = (cost, decimals) => (minor) => (minor === null ? t('slot.price.none') : money(minor, cost.currency, decimals));

/** After how many days a price is old, the cooperative has said; the journey may be the first that asks for it. */
function OldPrices({ count }) {
  const days = useAnswer(COOPERATIVES).value?.results[0]?.stale_after_days;
  return days ? <p class="state-line"><Care /> <span>{t('cost.old', { count, days })}</span></p> : null;
}

export function Cost({ cost, decimals, id = 'cost' }) {
  const coin = coinOf(cost, decimals);
  return (
    <section class="sewn" aria-labelledby={id}>
      <h2 id={id}>{t('cost.title')}</h2>
      <p class="big">{t('cost.each', { money: coin(cost.per_kg_minor) })}</p>
      <p class="quiet">{t('cost.each.note', { mass: kilograms(cost.sound_kg) })}</p>
      <Help name="cost.title" />
      {cost.old_prices > 0 && <OldPrices count={cost.old_prices} />}
      <Fold words={t('cost.lines', { count: cost.lines.length })}>
        {() => (
          <table>
            <tbody>{cost.lines.map((line) => <Line line={line} coin={coin} />)}</tbody>
            <tfoot>
              <tr><th scope="row">{t('cost.total')}</th><td class="figure">{coin(cost.total_minor)}</td></tr>
            </tfoot>
          </table>
        )}
      </Fold>
      {cost.confirmed_on && <p class="quiet">{t('cost.confirmed', { date: dayWithYear(cost.confirmed_on) })}</p>}
    </section>
  );
}

const MOST_ROWS = 8;

/** Steps of the ladder that say something: where the price jumps, and some between. */
export function shortLadder(ladder, mass) {
  const every = Math.max(1, Math.ceil(ladder.length / MOST_ROWS));
  return ladder.filter((step, index) => step.break || step.mass_kg === mass || index % every === 0);
}

const Step = ({ step, coin, mass }) => (
  <tr class={step.mass_kg === mass ? 'mine' : ''}>
    <th scope="row">
      {kilograms(step.mass_kg)}
      {step.mass_kg === mass && <strong> {t('ladder.mine')}</strong>}
      {step.break && <span class="quiet basis">{t('ladder.break')}</span>}
    </th>
    <td>{step.cartons}</td>
    <td class="figure">{coin(step.per_kg_minor)}</td>
  </tr>
);

/** The ladder with the weight of the person on it, wherever its own steps lie. */
export function withMine(cost, { mass_kg, cartons }) {
  if (cost.ladder.some((step) => step.mass_kg === mass_kg)) return cost.ladder;
  const mine = { mass_kg, cartons, total_minor: cost.total_minor, per_kg_minor: cost.per_kg_minor, break: false };
  return [...cost.ladder, mine].sort((a, b) => a.mass_kg - b.mass_kg);
}

/** @param {{slot: {mass_kg: number, cartons: number}}} props */
export function Ladder({ cost, decimals, slot }) {
  const [whole, setWhole] = useState(false);
  const coin = coinOf(cost, decimals);
  if (!cost.ladder.length) return null;
  const ladder = withMine(cost, slot);
  const mass = slot.mass_kg;
  const short = shortLadder(ladder, mass);
  return (
    <section aria-labelledby="ladder">
      <h2 id="ladder">{t('ladder.title')}</h2>
      <Help name="ladder.title" />
      {cost.break_even_kg !== null && <p>{t('ladder.even', { mass: kilograms(cost.break_even_kg) })}</p>}
      <table>
        <thead>
          <tr><th scope="col">{t('ladder.mass')}</th><th scope="col">{t('ladder.number')}</th><th scope="col" class="figure">{t('ladder.each')}</th></tr>
        </thead>
        <tbody>{(whole ? ladder : short).map((step) => <Step {...{ step, coin, mass }} />)}</tbody>
      </table>
      {short.length < ladder.length && (
        <button type="button" class="button" aria-expanded={whole} onClick={() => setWhole(!whole)}>{t(whole ? 'ladder.fewer' : 'ladder.all')}</button>
      )}
    </section>
  );
}
