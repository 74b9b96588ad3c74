/** Departures: which one do I take, with this fish, for this buyer. */
import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { refresh, useAnswer } from '../answers.js';
import { arrange, cheapestSafe, confidenceOf } from '../chance.js';
import { bringChoices, choices, choicesProblem } from '../choices.js';
import { age, longDay } from '../format.js';
import { keepUp, keptAt } from '../kept.js';
import { useListedBefore } from '../listed.js';
import { Refused } from '../network.js';
import { who } from '../people.js';
import { prefetchInFull, prefetchOtherWeights } from '../prefetch.js';
import { askedBy, departuresPath, question, startQuestion } from '../question.js';
import { t } from '../words.js';
import { Cautions, usualCautions } from '../parts/cautions.jsx';
import { FirstRun } from '../parts/first_run.jsx';
import { Foot } from '../parts/frame.jsx';
import { Heading } from '../parts/heading.jsx';
import { InTurn } from '../parts/in_turn.jsx';
import { KeptQuestions } from '../parts/kept_questions.jsx';
import { QuestionLine } from '../parts/question_line.jsx';
import { QuestionSheet } from '../parts/question_sheet.jsx';
import { Slot, dayOf } from '../parts/slot.jsx';
import { Age, Problem, StillOld, Waiting } from '../parts/states.jsx';
import '../style/departures.css';

const onlySafe = signal(false);
/** @type {import('@preact/signals').Signal<'earliest' | 'cheapest'>} */
const sorting = signal('earliest');

const LEFT_ALREADY_MS = 30 * 60_000;

const notYetGone = (slot) => Date.parse(slot.departs_at) > Date.now() - LEFT_ALREADY_MS;

const Filters = () => (
  <div class="filters" role="group" aria-label={t('filter.title')}>
    <button type="button" class="choice" aria-pressed={onlySafe.value} onClick={() => (onlySafe.value = !onlySafe.value)}>
      {t('filter.safe')}
    </button>
    {['earliest', 'cheapest'].map((one) => (
      <button type="button" class="choice" aria-pressed={sorting.value === one} onClick={() => (sorting.value = one)}>
        {t(`filter.${one}`)}
      </button>
    ))}
  </div>
);

/** Slots under the day they leave on; sorted by price they name their day themselves. */
function underDays(groups) {
  if (sorting.value === 'cheapest') return [[t('list.cheapest'), groups]];
  const days = [...new Set(groups.map(dayOf))];
  return days.map((date) => [longDay(`${date}T00:00`), groups.filter((group) => dayOf(group) === date)]);
}

/** @param {{children: any}} props what stands below them */
function Slots({ value, asked, children }) {
  const confidence = confidenceOf(value);
  const coming = value.results.filter(notYetGone);
  const groups = arrange(coming, { confidence, onlySafe: onlySafe.value, sorting: sorting.value });
  const cheapest = cheapestSafe(coming, confidence);
  const gone = value.results.length - coming.length;
  const withDay = sorting.value === 'cheapest';
  return (
    <>
      <p class="summary" role="status">{cheapest ? t('list.safe', { count: groups.filter((one) => one.safe).length }) : t('list.none')}</p>
      {!cheapest && <p>{t('list.none.do')}</p>}
      <InTurn>
        {underDays(groups).map(([heading, those]) => (
          <section class="day" key={heading}>
            <h2>{heading}</h2>
            <ul>
              {those.map((group) => (
                <Slot key={group.lead.id} {...{ group, answer: value, asked, confidence, withDay }} cheapest={group.lead === cheapest} />
              ))}
            </ul>
          </section>
        ))}
        {gone > 0 && <p class="quiet">{t('list.gone', { count: gone })}</p>}
        {children}
      </InTurn>
    </>
  );
}

function Asked({ asked, known }) {
  const [changing, setChanging] = useState(false);
  const path = departuresPath(asked);
  const answer = useAnswer(path);
  const before = useListedBefore(asked, !answer.value && !(answer.problem instanceof Refused));
  const shown = before ? { ...answer, value: before.value, kept_at: before.kept_at } : answer;
  useEffect(() => {
    // Whoever holds the phone gets everything in one download; a visitor of the demonstration the first departures.
    if (!answer.value || answer.waiting) return undefined;
    if (!who.value) return prefetchInFull(answer.value, asked);
    keepUp();
    return prefetchOtherWeights(answer.value, asked);
  }, [answer.kept_at, answer.waiting]);
  const histamine = known.species.find((one) => one.code === asked.species)?.histamine_prone;
  const again = () => refresh(path);
  const below = [
    <Cautions key="cautions" codes={usualCautions(histamine)} />,
    keptAt.value && <p key="kept" class="quiet">{t('kept.all', { age: age(keptAt.value) })}</p>,
    <Foot key="foot" />,
  ];
  return (
    <>
      <QuestionLine asked={before ? askedBy(before.path) : asked} choices={known} onChange={() => setChanging(true)} />
      {changing && <QuestionSheet asked={asked} choices={known} problem={answer.problem} onClose={() => setChanging(false)} />}
      <Age answer={shown} onAgain={again} />
      <StillOld answer={shown} />
      {shown.value && <Filters />}
      {shown.value && <Slots value={shown.value} asked={asked}>{below}</Slots>}
      {!shown.value && answer.waiting && <Waiting />}
      {!shown.value && !answer.waiting && answer.problem && (
        <Problem problem={answer.problem}>
          <button type="button" class="button first" onClick={again}>{t('again')}</button>
          <button type="button" class="button" onClick={() => setChanging(true)}>{t('question.change')}</button>
        </Problem>
      )}
      {!shown.value && !answer.waiting && <KeptQuestions choices={known} />}
      {!shown.value && below}
    </>
  );
}

export function Departures() {
  const known = choices.value;
  useEffect(() => {
    bringChoices();
  }, []);
  useEffect(() => {
    if (known && !question.value) startQuestion(known);
  }, [known]);
  const stuck = !known && choicesProblem.value;
  return (
    <>
      <Heading words={t('departures.title')} />
      <FirstRun />
      {known && question.value && <Asked asked={question.value} known={known} />}
      {stuck && <Problem problem={stuck}><button type="button" class="button first" onClick={bringChoices}>{t('again')}</button></Problem>}
      {!question.value && !stuck && <Waiting />}
    </>
  );
}
