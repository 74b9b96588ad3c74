/** The journey of one carton: when to close it, when to give up, how it warms, what it costs. */
import { useAnswer, refresh } from '../answers.js';
import { confidenceOf, isSafe } from '../chance.js';
import { degrees, kilograms, longDay } from '../format.js';
import { useListed } from '../listed.js';
import { me } from '../people.js';
import { departurePath, questionOf, screenOf, typedNumber } from '../question.js';
import { late } from '../router.jsx';
import { t } from '../words.js';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Cost, Ladder } from '../parts/cost.jsx';
import { GiveUp } from '../parts/give_up.jsx';
import { Heading } from '../parts/heading.jsx';
import { InTurn } from '../parts/in_turn.jsx';
import { RestsOn } from '../parts/rests_on.jsx';
import { Age, Problem, StillOld, Waiting } from '../parts/states.jsx';
import { perKilogram } from '../parts/slot.jsx';
import { Strip } from '../parts/strip.jsx';
import '../style/journey.css';

const Curve = late(() => import('../parts/curve.jsx').then((file) => file.Curve));
const Reckon = late(() => import('../parts/reckon.jsx').then((file) => file.Reckon));

const Facts = ({ slot, asked }) => (
  <p>
    {t('journey.facts', {
      mass: kilograms(slot.mass_kg),
      start: degrees(typedNumber(asked.start_temperature_c)),
      carton: slot.carton_design.name,
      carrier: slot.carrier.name,
      route: slot.route.name,
    })}
  </p>
);

const costs = (slot) => {
  if (!slot.cost) return [<p key="missing" class="notice">{t('cost.missing', { missing: slot.cost_missing.join(', ') })}</p>];
  const decimals = slot.currency_decimals;
  return [<Cost key="cost" cost={slot.cost} decimals={decimals} />, <Ladder key="ladder" cost={slot.cost} decimals={decimals} slot={slot} />];
};

/** What is only known of the departure in full. */
const inFull = (slot) => [
  <Curve key="curve" slot={slot} />,
  <Strip key="strip" stops={slot.strip} />,
  ...costs(slot),
  <RestsOn key="rests" slot={slot} />,
];

/** What the list of departures knew of it, until the whole is here. */
const OnlyListed = ({ answer, again }) => (
  <>
    {answer.waiting && <Waiting rows={3} />}
    {answer.problem && (
      <Problem problem={answer.problem}>
        <button type="button" class="button first" onClick={again}>{t('again')}</button>
      </Problem>
    )}
  </>
);

const Known = ({ slot, answer, asked, again }) => (
  <>
    <Heading words={t('journey.title', { day: longDay(slot.departs_at) })} />
    <Facts slot={slot} asked={asked} />
    <Age answer={answer} onAgain={again} />
    <StillOld answer={answer} />
    <GiveUp slot={slot} asked={asked} safe={isSafe(slot, confidenceOf(slot))} price={perKilogram(slot, slot)} />
    <p><a class="button first" href={screenOf('packing', slot.id, asked)}>{t('packing.open')}</a></p>
    {me.value && <p><a class="button" href={`/quotes/new?departure=${slot.id}&${screenOf('', '', asked).split('?')[1]}`}>{t('quote.make')}</a></p>}
    <InTurn>
      {answer.value ? inFull(answer.value) : <OnlyListed answer={answer} again={again} />}
      <Reckon key={screenOf('', slot.id, asked)} id={slot.id} asked={asked} alone={!answer.value} />
      <Cautions codes={slot.cautions ?? ALWAYS} />
    </InTurn>
  </>
);

/** @param {{id: string, query: Record<string, string>}} props */
export function Journey({ id, query }) {
  const asked = questionOf(query);
  const path = departurePath(id, asked);
  const answer = useAnswer(path);
  const listed = useListed(id, asked);
  const slot = answer.value ?? listed;
  const again = () => refresh(path);
  return (
    <>
      <a class="back" href="/">{t('departures.back')}</a>
      {slot ? (
        <Known {...{ slot, answer, asked, again }} />
      ) : (
        <>
          <Heading words={t('journey.unknown')} />
          <OnlyListed answer={answer} again={again} />
          {answer.problem && <Reckon key={screenOf('', id, asked)} id={id} asked={asked} alone />}
        </>
      )}
    </>
  );
}
