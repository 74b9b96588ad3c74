/** A quote for a buyer: what fish on which departure, at what profit; looked at first, then issued. */
import { useEffect, useState } from 'preact/hooks';
import { bringChoices, choices } from '../choices.js';
import { daysLater, kilograms, longDay, todayIn } from '../format.js';
import { useNow } from '../now.js';
import { me } from '../people.js';
import { departuresPath, question, questionOf, startQuestion } from '../question.js';
import { go, toTop } from '../router.jsx';
import { t } from '../words.js';
import { packs } from '../who.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { DeparturePicks, partsOf, safeOnes } from '../parts/departure_picks.jsx';
import { FaultWords } from '../parts/field.jsx';
import { Heading } from '../parts/heading.jsx';
import { fishName } from '../parts/lot_line.jsx';
import { questionWords } from '../parts/question_line.jsx';
import { QuoteFields, useQuoteForm } from '../parts/quote_fields.jsx';
import { Promised, QuoteLadder } from '../parts/quote_ladder.jsx';
import { justSent } from '../parts/quote_link.jsx';
import { Waiting } from '../parts/states.jsx';
import '../style/quotes.css';

const DAYS_AHEAD = 3;

function show(sent) {
  justSent.value = sent;
  go(`/quotes/${sent.quote.id}`);
}

/** The quote as the buyer would read it; nothing is written yet. */
const Looked = ({ looked: { quote, body }, back }) => (
  <>
    <p class="big">{t('quote.for', { buyer: quote.buyer.name })}</p>
    <QuoteLadder quote={quote} />
    <Promised quote={quote} />
    <Act path="/api/v1/quotes/" body={body} words={t('quote.issue')} done={show} />
    <button type="button" class="button wide-button" onClick={back}>{t('question.change')}</button>
  </>
);

function Filled({ about, departures, look }) {
  const form = useQuoteForm(about, look);
  const choose = (id) => form.type('departure', id);
  return (
    <>
      {departures && <DeparturePicks slots={departures.slots} value={departures.value} chosen={form.draft.departure} choose={choose} />}
      <QuoteFields form={form}>
        {form.faults.departure && <div class="fault"><FaultWords fault={form.faults.departure} /></div>}
      </QuoteFields>
      {form.sending && <p role="status">{t('quote.working')}</p>}
    </>
  );
}

/** The form, or what it would come to; what was typed comes back with "Change". */
function Quoting({ about, departures }) {
  const [looked, setLooked] = useState(null);
  const [kept, setKept] = useState(null);
  const look = (quote, body, draft) => {
    setKept(draft);
    setLooked({ quote, body });
    toTop();
  };
  if (looked) return <Looked looked={looked} back={() => setLooked(null)} />;
  return <Filled about={{ ...about, kept }} departures={departures} look={look} />;
}

/** A departure that was named: its timetable says which way it goes. */
const Named = ({ departure, about }) => (
  <Asked quiet path={`/api/v1/timetables/${partsOf(departure).timetable}/`}>
    {({ route, carrier }) => (
      <>
        <p class="big">{t('quote.on', { day: longDay(`${partsOf(departure).date}T00:00`), route: route.name, carrier: carrier.name })}</p>
        <Quoting about={{ ...about, departure, named: departure, route: route.slug }} />
      </>
    )}
  </Asked>
);

/** Among the safe departures of the coming days for this fish. */
function Chosen({ asked, about }) {
  return (
    <>
      <p>{t('parcel.new.asked', questionWords(asked, choices.value))}</p>
      <Asked quiet path={departuresPath(asked)}>
        {(value) => {
          const slots = safeOnes(value);
          if (!slots.length) return <p class="notice">{t('list.none.do')}</p>;
          return <Quoting about={{ ...about, departure: slots[0].id, route: asked.route }} departures={{ slots, value }} />;
        }}
      </Asked>
    </>
  );
}

/** The fish of a lot as a question about departures. */
function askedFor(lot, query) {
  const asked = questionOf(query);
  if (!lot) return asked;
  const from = todayIn(me.value.cooperative.time_zone);
  const fish = { species: lot.species.code, mass_kg: String(lot.left_kg), start_temperature_c: String(lot.start_temperature_c) };
  return { ...asked, ...fish, route: lot.route.slug, buyer: lot.buyer.slug, carton_design: '', from, to: daysLater(from, DAYS_AHEAD) };
}

/** @param {{query: {departure?: string, lot?: string}}} props a departure or a lot that it is made from, or neither */
export function QuoteNew({ query }) {
  const known = choices.value;
  const { value: lot } = useNow(query.lot ? `/api/v1/lots/${query.lot}/` : null);
  const { value: members } = useNow(packs() ? '/api/v1/members/?page_size=100' : null);
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !question.value) startQuestion(known);
  }, [known]);
  const ready = known && question.value && (!query.lot || lot) && (!packs() || members);
  const asked = ready && askedFor(lot, query);
  const about = { known, lot, members: members?.results, asked };
  return (
    <>
      <a class="back" href={query.lot ? `/lots/${query.lot}` : '/quotes'}>{t(query.lot ? 'lots.back' : 'quotes.back')}</a>
      <Heading words={t('quote.make')} />
      {lot && <p class="big">{kilograms(lot.left_kg)} · {fishName(lot.species)}</p>}
      {lot && <p class="notice">{t('quote.lot.note')}</p>}
      {!ready && <Waiting rows={3} />}
      {ready && (query.departure ? <Named departure={query.departure} about={about} /> : <Chosen asked={asked} about={about} />)}
      <Cautions codes={ALWAYS} />
    </>
  );
}
