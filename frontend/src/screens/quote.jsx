/** One quote: its link, what it promised, what the buyer asks, what came of it. */
import { useState } from 'preact/hooks';
import { dayAndHour, degrees, kilograms } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { lineName } from '../parts/cost.jsx';
import { Fact } from '../parts/fact.jsx';
import { ChoiceField } from '../parts/field.jsx';
import { fishName } from '../parts/lot_line.jsx';
import { PrintButtons } from '../parts/print_buttons.jsx';
import { Promised, QuoteLadder } from '../parts/quote_ladder.jsx';
import { QuoteState } from '../parts/quote_line.jsx';
import { QuoteLink, justSent } from '../parts/quote_link.jsx';
import '../style/quotes.css';

/** What the buyer answered, and where its fish is now. */
const Answer = ({ quote }) => (
  <section class="mine-box" aria-label={t('quote.answer')}>
    <p class="big">{quote.accepted_kg ? t('quote.accepted', { mass: kilograms(quote.accepted_kg), money: coin(quote.accepted_minor) }) : t('quote.declined')}</p>
    <p>{[quote.answered_by_name, dayAndHour(quote.answered_at)].filter(Boolean).join(', ')}</p>
    {quote.note && <p>“{quote.note}”</p>}
    {quote.parcel && <a class="button first wide-button" href={`/parcels/${quote.parcel}`}>{t('quote.parcel')}</a>}
    {quote.lot && <a class="button wide-button" href={`/lots/${quote.lot}`}>{t('quote.lot')}</a>}
  </section>
);

const Questions = ({ questions }) => (
  <section class="sewn" aria-labelledby="asks">
    <h2 id="asks">{t('quote.asks', { count: questions.length })}</h2>
    <ul>{questions.map((one) => <li class="entry-line plain" key={one.asked_at}><strong>{one.text}</strong><span class="quiet">{dayAndHour(one.asked_at)}</span></li>)}</ul>
    <p>{t('quote.asks.note')}</p>
  </section>
);

const Fish = ({ quote: { supply, buyer, route, made_by: maker, becomes } }) => (
  <dl>
    <Fact name="lot.buyer">{buyer.name}</Fact>
    <Fact name="lot.way">{route.name}</Fact>
    <Fact name="lot.owner">{supply.member.name}</Fact>
    <Fact name="lot.mass">{fishName(supply.species)}, {degrees(supply.start_temperature_c)}</Fact>
    <Fact name="quote.left">{t('parcel.full', { mass: kilograms(supply.left_kg), all: kilograms(supply.mass_kg) })}</Fact>
    <Fact name="quote.becomes">{t(`quote.becomes.${becomes}`)}</Fact>
    <Fact name="quote.by">{maker.name}</Fact>
  </dl>
);

/** The bill of each price, at the weight at which it begins. */
function Costs({ quote: { ladder, lines } }) {
  const [place, setPlace] = useState(0);
  const options = ladder.map((step, at) => [String(at), kilograms(step.from_kg)]);
  return (
    <details class="sewn">
      <summary>{t('quote.costs')}</summary>
      <ChoiceField name="weight" draft={{ weight: String(place) }} options={options} onType={(_, at) => setPlace(Number(at))} />
      <table>
        <tbody>{lines.map((line, at) => <tr key={at}><th scope="row">{lineName(line)}</th><td class="figure">{coin(line.amounts_minor[place])}</td></tr>)}</tbody>
        <tfoot><tr><th scope="row">{t('cost.total')}</th><td class="figure">{coin(ladder[place].cost_minor)}</td></tr></tfoot>
      </table>
    </details>
  );
}

const OPENS = new Set(['issued', 'accepted']);

const Steps = ({ quote, again }) => (
  <section class="sewn steps-of on-screen" aria-labelledby="next">
    <h2 id="next">{t('steps_of.title')}</h2>
    {OPENS.has(quote.state) && (
      <>
        <p>{t('link.new.note')}</p>
        <Act path={`/api/v1/quotes/${quote.id}/renew-link/`} words={t('link.new')} second done={(sent) => (justSent.value = sent)} />
      </>
    )}
    {quote.state === 'issued' && (
      <>
        <p>{t('quote.revoke.note')}</p>
        <Act path={`/api/v1/quotes/${quote.id}/revoke/`} words={t('quote.revoke')} second undoable done={again} />
      </>
    )}
  </section>
);

const Known = ({ quote, again }) => (
  <>
    <p class="big"><QuoteState quote={quote} /></p>
    <QuoteLink id={quote.id} />
    {quote.answered_at && <Answer quote={quote} />}
    {quote.questions.length > 0 && <Questions questions={quote.questions} />}
    <QuoteLadder quote={quote} />
    <Promised quote={quote} />
    <Fish quote={quote} />
    <Costs quote={quote} />
    <Cautions codes={ALWAYS} />
    <PrintButtons />
    {OPENS.has(quote.state) && <Steps quote={quote} again={again} />}
  </>
);

/** @param {{id: string}} props */
export const Quote = ({ id }) => (
  <>
    <a class="back" href="/quotes">{t('quotes.back')}</a>
    <Asked path={`/api/v1/quotes/${id}/`} heading={(quote) => t('quote.title', { buyer: quote.buyer.name })}>
      {(quote, again) => <Known quote={quote} again={again} />}
    </Asked>
  </>
);
