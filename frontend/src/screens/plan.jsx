/** A plan: it proposes, a person accepts. Each carton with whose fish, and each lot that stays behind with its reason. */
import { dayAndHour, days, kilograms, percent } from '../format.js';
import { go } from '../router.jsx';
import { hasWords, t } from '../words.js';
import { coin } from '../who.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { CartonFill } from '../parts/carton_fill.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Heading } from '../parts/heading.jsx';
import { Patterns, patternsOf } from '../parts/patterns.jsx';
import { Care } from '../parts/pictures.jsx';
import { State, chanceWords } from '../parts/slot.jsx';
import { ServerWords } from '../parts/states.jsx';
import '../style/parcel.css';

const Planned = ({ carton, number, patterns }) => (
  <section class="sewn" aria-labelledby={`planned-${number}`}>
    <h2 id={`planned-${number}`}>{t('plan.carton', { number, hour: dayAndHour(carton.departs_at) })}</h2>
    <p>{carton.carrier.name} · {carton.carton_design.name}</p>
    <CartonFill carton={{ ...carton, position: number }} patterns={patterns} />
    <p class="slot-state safe"><State safe /> <span>{t('slot.hard', { chance: chanceWords(carton.chance_hard) })}</span></p>
    <p>{t('plan.closes', { hour: dayAndHour(carton.closes_at) })} <strong>{coin(carton.cost_minor)}</strong></p>
  </section>
);

const Behind = ({ lots }) => (
  <section class="sewn" aria-labelledby="behind">
    <h2 id="behind">{t('plan.behind')}</h2>
    <ul>
      {lots.map((one) => (
        <li class="entry-line plain" key={one.lot}>
          <strong>{one.member.name} · {kilograms(one.mass_kg)}</strong>
          <span>{hasWords(`behind.${one.code}`) ? t(`behind.${one.code}`) : <ServerWords>{one.words}</ServerWords>}</span>
        </li>
      ))}
    </ul>
  </section>
);

/** How far the plan may be from the best one, in coin. */
const Proof = ({ plan }) => (
  <p class="quiet">{plan.cost_minor <= plan.bound_minor ? t('plan.best') : t('plan.gap', { money: coin(plan.cost_minor - plan.bound_minor), share: percent(plan.gap) })}</p>
);

function Accept({ plan }) {
  if (plan.accepted_at) return <p class="notice">{t('plan.accepted', { hour: dayAndHour(plan.accepted_at) })}</p>;
  if (plan.stale) return <p class="notice"><Care /> <span>{t('plan.stale')} <a class="back" href="/plan">{t('plan.ask.title')}</a></span></p>;
  return <Act path={`/api/v1/plans/${plan.id}/accept/`} words={t('plan.accept')} done={({ parcels }) => go(parcels.length === 1 ? `/parcels/${parcels[0].id}` : '/parcels')} />;
}

function Proposed({ plan }) {
  const patterns = patternsOf(plan.cartons);
  return (
    <>
      <p>{plan.route.name} · {plan.buyer.name} · {days(plan.from, plan.to)}</p>
      {plan.cartons.length ? (
        <>
          <p class="big">{t('plan.cost', { money: coin(plan.cost_minor), each: coin(plan.cost_per_kg_minor) })}</p>
          <Proof plan={plan} />
          <Accept plan={plan} />
        </>
      ) : (
        <p class="notice">{t('plan.nothing')}</p>
      )}
      <Patterns />
      {plan.cartons.map((carton, index) => <Planned key={index} {...{ carton, patterns }} number={index + 1} />)}
      {plan.left_behind.length > 0 && <Behind lots={plan.left_behind} />}
    </>
  );
}

/** @param {{id: string}} props */
export const Plan = ({ id }) => (
  <>
    <a class="back" href="/plan">{t('plan.back')}</a>
    <Heading words={t('plan.title')} />
    <Asked path={`/api/v1/plans/${id}/`}>{(plan) => <Proposed plan={plan} />}</Asked>
    <Cautions codes={ALWAYS} />
  </>
);
