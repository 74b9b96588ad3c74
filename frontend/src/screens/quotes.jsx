/** Quotes: which would lose money now, which wait for an answer, what became of the others. */
import { t } from '../words.js';
import { packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Heading } from '../parts/heading.jsx';
import { LosingQuotes } from '../parts/quote_losing.jsx';
import { QuoteLine } from '../parts/quote_line.jsx';
import '../style/quotes.css';

const GROUPS = { open: ['issued'], accepted: ['accepted'], over: ['declined', 'revoked', 'expired'] };

function Listed({ quotes }) {
  if (!quotes.length) return <p class="notice">{t('quotes.none')}</p>;
  return Object.entries(GROUPS).map(([name, states]) => {
    const those = quotes.filter((one) => states.includes(one.state));
    return those.length > 0 && (
      <details class="sewn" open={name !== 'over'} key={name}>
        <summary><h2>{t(`quotes.${name}`, { count: those.length })}</h2></summary>
        <ul>{those.map((quote) => <QuoteLine key={quote.id} quote={quote} />)}</ul>
      </details>
    );
  });
}

export const Quotes = () => (
  <>
    <a class="back" href="/parcels">{t('parcels.back')}</a>
    <Heading words={t('quotes.title')} />
    <p><a class="button first wide-button" href="/quotes/new">{t('quote.make')}</a></p>
    {packs() && <Asked quiet path="/api/v1/quotes/losing/">{({ quotes }) => <LosingQuotes losing={quotes} words={t('losing.title', { count: quotes.length })} />}</Asked>}
    <Asked path="/api/v1/quotes/?page_size=100">{({ results }) => <Listed quotes={results} />}</Asked>
  </>
);
