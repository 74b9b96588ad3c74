/** Quotes that would lose money as things stand, or would after a change: how much, and what moved. */
import { kilograms } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { lineName } from './cost.jsx';
import { fishName } from './lot_line.jsx';
import { Care } from './pictures.jsx';

/** The lines that rose most say enough. */
const MOST_LINES = 3;

const none = (minor) => (minor === null ? t('losing.nothing') : coin(minor));

const Why = ({ line }) => <span>{t('losing.why', { line: lineName(line), before: none(line.before_minor), after: none(line.after_minor) })}</span>;

const Line = ({ losing: { quote, kg, loses_minor: all, loses_minor_per_kg: each, why, missing } }) => (
  <li class="entry-line">
    <a href={`/quotes/${quote.id}`}>
      <strong class="line-title">
        {all === null ? t('losing.unknown') : t('losing.each', { each: coin(each), all: coin(all), mass: kilograms(kg) })}
      </strong>
      <span>{quote.buyer.name} · {fishName(quote.supply.species)} · {t(`quote.state.${quote.state}`)}</span>
      {missing && <span>{missing}</span>}
      {why.slice(0, MOST_LINES).map((line, index) => <Why key={index} line={line} />)}
    </a>
  </li>
);

/** @param {{losing: any[], words: string}} props */
export const LosingQuotes = ({ losing, words }) =>
  losing.length > 0 && (
    <section class="losing" aria-labelledby="losing">
      <h2 id="losing"><Care /> {words}</h2>
      <ul>{losing.map((one) => <Line key={one.quote.id} losing={one} />)}</ul>
    </section>
  );
