/** One quote in a line: the fish, the buyer, what became of it. */
import { dayAndHour, kilograms } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { fishName } from './lot_line.jsx';
import { Coins, Freezer, Label } from './pictures.jsx';

const PICTURES = { issued: Label, accepted: Coins };

export const QuoteState = ({ quote }) => {
  const Drawn = PICTURES[quote.state] ?? Freezer;
  return <span class="state-line"><Drawn /> <strong>{t(`quote.state.${quote.state}`)}</strong></span>;
};

/** What it comes to, or a kilogram at the least. */
export const quotePrice = ({ accepted_minor: all, ladder }) =>
  (all === null ? t('quote.price.from', { money: coin(Math.min(...ladder.map((step) => step.price_minor_per_kg))) }) : coin(all));

export const QuoteLine = ({ quote }) => (
  <li class="entry-line">
    <a href={`/quotes/${quote.id}`}>
      <span class="line-top">
        <strong class="line-title">{kilograms(quote.accepted_kg ?? quote.most_kg)} · {fishName(quote.supply.species)}</strong>
        <span class="price">{quotePrice(quote)}</span>
      </span>
      <QuoteState quote={quote} />
      {quote.state === 'issued' && quote.questions.length > 0 && <strong>{t('quote.asks', { count: quote.questions.length })}</strong>}
      <span>{quote.buyer.name}</span>
      {quote.state === 'issued' && <span>{t('quote.until', { hour: dayAndHour(quote.valid_until) })}</span>}
      <span class="quiet">{t('quote.leaves', { hour: dayAndHour(quote.departs_at), carrier: quote.carrier.name })}</span>
    </a>
  </li>
);
