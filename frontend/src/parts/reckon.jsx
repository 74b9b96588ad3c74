/** Other fish on the same departure, worked out on the phone: two fields and the answer. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../answers.js';
import { hoursDown, percent } from '../format.js';
import { faultsOf, reckoningPath, screenOf, typedNumber } from '../question.js';
import { reckon } from '../reckon/reckon.js';
import { t } from '../words.js';
import { Cost, Ladder } from './cost.jsx';
import { TextField } from './field.jsx';
import { Care } from './pictures.jsx';
import { State, chanceWords, hourNear, perKilogram } from './slot.jsx';

const Row = ({ name, children }) => (
  <div class="fact">
    <dt>{t(name)}</dt>
    <dd>{children}</dd>
  </div>
);

const Facts = ({ found, bill, cost }) => (
  <dl>
    <Row name="fact.holds">{t('fact.holds.least', { cautious: hoursDown(found.hold_min / 60) })}</Row>
    {found.safe && <Row name="giveup.latest">{hourNear(found.latest_safe_departure_at, found.departs_at)}</Row>}
    <Row name="fact.soft">{percent(found.soft / 10_000)}</Row>
    {cost && <Row name="fact.cost">{perKilogram({ cost_per_kg_minor: cost.per_kg_minor }, bill)}</Row>}
  </dl>
);

/** What the phone says of it, and where to ask for more. */
function Found({ reckoning, draft, id, asked, alone, screen }) {
  const [mass, start] = [typedNumber(draft.mass_kg), typedNumber(draft.start_temperature_c)];
  const found = reckon(reckoning, mass, start);
  if (found.outside) return <p class="notice"><Care /> <span>{t(`reckon.outside.${found.outside}`)}</span></p>;
  const { bill } = reckoning;
  const { cost } = found;
  return (
    <>
      <p class="slot-state"><State safe={found.safe} /> <span>{t('slot.hard', { chance: chanceWords(found.chance_hard) })}</span></p>
      {!found.safe && <p class="reason"><strong>{t('giveup.never')}</strong></p>}
      <Facts found={found} bill={bill} cost={cost} />
      {cost && <Cost cost={{ ...cost, currency: bill.currency }} decimals={bill.currency_decimals} id="reckon-cost" />}
      {alone && cost && <Ladder cost={{ ...cost, ...found.ladder(), currency: bill.currency }} decimals={bill.currency_decimals} slot={cost} />}
      <p><a class="button" href={screenOf(screen, id, { ...asked, ...draft })}>{t('reckon.full')}</a></p>
    </>
  );
}

/** @param {{id: string, asked: import('../question.js').Question, alone: boolean, screen?: 'journey' | 'packing'}} props alone: there is no full answer beside it; screen: which tells the full answer of another question */
export function Reckon({ id, asked, alone, screen = 'journey' }) {
  const { value: reckoning } = useAnswer(reckoningPath(id, asked));
  const [draft, setDraft] = useState({ mass_kg: asked.mass_kg, start_temperature_c: asked.start_temperature_c });
  if (!reckoning) return null;
  const faults = faultsOf({ ...asked, ...draft });
  const field = { draft, onType: (name, text) => setDraft({ ...draft, [name]: text }), autocomplete: 'off', enterkeyhint: 'done' };
  const other = alone || draft.mass_kg !== asked.mass_kg || draft.start_temperature_c !== asked.start_temperature_c;
  const wrong = faults.mass_kg || faults.start_temperature_c;
  return (
    <section class="sewn on-screen" aria-labelledby="reckon">
      <h2 id="reckon">{t('reckon.title')}</h2>
      <div class="fields">
        <TextField name="mass_kg" fault={faults.mass_kg} inputmode="decimal" {...field} />
        <TextField name="start_temperature_c" fault={faults.start_temperature_c} inputmode="text" {...field} />
      </div>
      <p class="quiet">{t('reckon.note')}</p>
      <div role="status">{other && !wrong && <Found {...{ reckoning, draft, id, asked, alone, screen }} />}</div>
    </section>
  );
}
