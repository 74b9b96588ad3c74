/** The packing sheet: the carton in section, the steps, what to buy; it prints on A4 and on a 58 mm roll. */
import { refresh, useAnswer } from '../answers.js';
import { confidenceOf, isSafe } from '../chance.js';
import { dayAndHour, dayWithYear, kilograms, money, plain } from '../format.js';
import { departurePath, questionOf, reckoningPath, screenOf, typedNumber } from '../question.js';
import { late } from '../router.jsx';
import { t } from '../words.js';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { unitWords } from '../parts/cost.jsx';
import { Fact } from '../parts/fact.jsx';
import { Heading } from '../parts/heading.jsx';
import { Mast, SoftFish } from '../parts/pictures.jsx';
import { PrintButtons } from '../parts/print_buttons.jsx';
import { Section } from '../parts/section.jsx';
import { Age, Problem, StillOld, Waiting } from '../parts/states.jsx';
import { Steps } from '../parts/packing_steps.jsx';
import '../style/packing.css';

const Reckon = late(() => import('../parts/reckon.jsx').then((file) => file.Reckon));

const Weights = ({ packing }) => (
  <dl>
    <Fact name="packing.mass">{kilograms(packing.mass_kg)}</Fact>
    <Fact name="packing.cartons">{packing.cartons}</Fact>
    {packing.cartons > 1 && <Fact name="packing.mass.one">{kilograms(packing.mass_in_one_kg)}</Fact>}
    <Fact name="packing.capacity">{kilograms(packing.capacity_kg)}</Fact>
    <Fact name="packing.gross">{kilograms(packing.gross_kg)}</Fact>
    {packing.cartons > 1 && <Fact name="packing.gross.one">{kilograms(packing.gross_in_one_kg)}</Fact>}
  </dl>
);

function Buy({ packing, currency, decimals }) {
  return (
    <section class="sewn" aria-labelledby="buy">
      <h2 id="buy">{t('buy.title')}</h2>
      <table>
        <tbody>
          {packing.buy.map((one) => (
            <tr>
              <th scope="row">
                {one.name}
                <span class="basis">
                  <strong>{plain(one.quantity)} {unitWords(one.unit, one.quantity)}</strong>
                  {one.priced_on && <span class="quiet"> · {t('cost.priced', { date: dayWithYear(one.priced_on) })}</span>}
                </span>
              </th>
              <td class="figure">{one.amount_minor === null ? t('buy.unknown') : money(one.amount_minor, currency, decimals)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const Hours = ({ slot, latest }) => (
  <dl class="hours-to-keep">
    <Fact name="giveup.close">{dayAndHour(slot.closes_at)}</Fact>
    {latest && <Fact name="giveup.latest">{dayAndHour(latest)}</Fact>}
  </dl>
);

const Sheet = ({ value, asked }) => {
  const safe = isSafe(value, confidenceOf(value));
  const latest = safe ? value.latest_safe_departure_at : null;
  return (
    <>
      {!safe && <p class="notice refused"><SoftFish /> <strong>{t('packing.unsafe')}</strong></p>}
      <p>{value.carton_design.name} · {value.route.name} · {value.carrier.name}</p>
      <Hours slot={value} latest={latest} />
      <Section packing={value.packing} />
      <Weights packing={value.packing} />
      <Steps packing={value.packing} start={typedNumber(asked.start_temperature_c)} hour={latest && dayAndHour(latest)} />
      <Buy packing={value.packing} currency={value.currency} decimals={value.currency_decimals} />
      <Cautions codes={value.cautions ?? ALWAYS} />
      <PrintButtons />
    </>
  );
};

/** Nobody asked how to pack this: what the phone works out by itself stands below, where it can. */
function NoSheet({ answer, reckoning, again }) {
  if (!answer.problem) return <Waiting />;
  const ask = <button type="button" class="button first" onClick={again}>{t('again')}</button>;
  return reckoning ? <div class="notice"><Mast silent /> <div><p>{t('packing.unknown')}</p><div class="row">{ask}</div></div></div> : <Problem problem={answer.problem}>{ask}</Problem>;
}

/** @param {{id: string, query: Record<string, string>}} props */
export function Packing({ id, query }) {
  const asked = questionOf(query);
  const path = departurePath(id, asked);
  const answer = useAnswer(path);
  const { value: reckoning } = useAnswer(reckoningPath(id, asked));
  const again = () => refresh(path);
  return (
    <>
      <a class="back" href={screenOf('journey', id, asked)}>{t('journey.back')}</a>
      <Heading words={t('packing.title')} />
      <Age answer={answer} onAgain={again} />
      <StillOld answer={answer} />
      {answer.value && <Sheet value={answer.value} asked={asked} />}
      {!answer.value && <NoSheet answer={answer} reckoning={reckoning} again={again} />}
      {reckoning && (answer.value || answer.problem) && <Reckon key={path} id={id} asked={asked} alone={!answer.value} screen="packing" />}
    </>
  );
}
