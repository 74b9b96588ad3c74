/** Other weights in the same cartons, worked out on the phone beside what the server says: who would pay what at most. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../answers.js';
import { kilograms } from '../format.js';
import { me } from '../people.js';
import { typedNumber } from '../question.js';
import { shareAgain } from '../reckon/share.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Fact } from './fact.jsx';
import { Care } from './pictures.jsx';

const MOST_KG = 100_000;
const isWrong = (mass) => !(mass > 0 && mass < MOST_KG);
const nameOf = (row) => (row.mine ? t('fill.mine') : row.member?.name ?? t('split.rest', { count: row.count }));

const Weight = ({ row, at, text, wrong, onType }) => (
  <div class={`field${wrong ? ' faulty whole' : ''}`}>
    <label for={`weight-${at}`}>{t('split.other.weight', { name: nameOf(row) })}</label>
    <input id={`weight-${at}`} name={`weight_${at}`} inputmode="decimal" autocomplete="off" enterkeyhint="done" value={text} aria-invalid={wrong ? 'true' : undefined} aria-describedby={wrong ? `wrong-${at}` : undefined} onInput={(event) => onType(event.currentTarget.value)} />
    {wrong && <div class="fault" id={`wrong-${at}`}>{t('fault.number')}</div>}
  </div>
);

const Found = ({ split, masses, found }) => (
  <>
    <p>{t('split.other.bill', { money: coin(found.bill), mass: kilograms(masses.reduce((sum, mass) => sum + mass, 0)) })}</p>
    <ul>
      {split.members.map((row, at) => (
        <li class="entry-line plain">
          <strong class="line-title">{nameOf(row)}, {kilograms(masses[at])}</strong>
          <dl>
            <Fact name="rule.by_weight">{coin(found.by_weight[at])}</Fact>
            <Fact name="rule.capped">{found.capped[at] === null ? t('figure.none') : coin(found.capped[at])}</Fact>
          </dl>
        </li>
      ))}
    </ul>
  </>
);

/** @param {{id: string, split: any}} props id of the parcel, whose room the phone may have kept */
export function SplitReckon({ id, split }) {
  const { value: parcel } = useAnswer(`/api/v1/parcels/${id}/`);
  const [texts, setTexts] = useState({});
  const text = (row, at) => texts[at] ?? String(row.mass_kg);
  const masses = split.members.map((row, at) => typedNumber(text(row, at)));
  const other = masses.some((mass, at) => mass !== split.members[at].mass_kg) && !masses.some(isWrong);
  const found = other && shareAgain(split, masses, { coin: me.value.cooperative.coin_minor, room: parcel?.room_kg });
  return (
    <section class="sewn on-screen" aria-labelledby="other-weights">
      <h2 id="other-weights">{t('split.other')}</h2>
      <div class="fields">
        {split.members.map((row, at) => row.member && <Weight key={at} {...{ row, at }} text={text(row, at)} wrong={isWrong(masses[at])} onType={(typed) => setTexts({ ...texts, [at]: typed })} />)}
      </div>
      <p class="quiet">{t('split.other.note')}</p>
      <div role="status">
        {found.outside && <p class="notice"><Care /> <span>{t(`split.other.${found.outside}`)}</span></p>}
        {found.bill !== undefined && <Found {...{ split, masses, found }} />}
      </div>
    </section>
  );
}
