/** One of the three ways in its column, and what to do to go it. */
import { hourOfDay, kilograms, weekday } from '../format.js';
import { screenOf } from '../question.js';
import { hasWords, t } from '../words.js';
import { coin } from '../who.js';
import { Carton, Freezer, HardFish, SoftFish } from './pictures.jsx';
import { chanceWords } from './slot.jsx';
import { ServerWords } from './states.jsx';

/** Two cartons side by side: one each. */
const PICTURES = { alone: () => <Carton />, share: () => <><Carton /><Carton /></>, wait: () => <Freezer /> };

const Line = ({ name, children }) => (
  <div class="way-line">
    <dt>{t(name)}</dt>
    <dd>{children}</dd>
  </div>
);

const When = ({ instant }) => <><strong>{weekday(instant)}</strong> {hourOfDay(instant)}</>;

const Figures = ({ way }) => (
  <dl>
    <Line name="way.each"><strong class="way-money">{way.cost_per_kg_minor === null ? t('slot.price.none') : coin(way.cost_per_kg_minor)}</strong></Line>
    <Line name="way.all">{way.cost_minor === null ? t('slot.price.none') : coin(way.cost_minor)}</Line>
    <Line name="way.hard">{way.safe ? <HardFish /> : <SoftFish />} <span>{chanceWords(way.chance_hard)}</span></Line>
    <Line name="way.leaves"><When instant={way.departs_at} /></Line>
    {way.arrives_until && <Line name="way.arrives"><When instant={way.arrives_until} /></Line>}
  </dl>
);

/** Why it cannot be gone: our words, or the server's. */
function Reason({ way: { reason, words } }) {
  const ours = `way.reason.${reason?.code}`;
  const room = kilograms(reason?.values.room_kg ?? 0);
  return <p class="way-reason">{hasWords(ours) ? t(ours, { room }) : <ServerWords>{words}</ServerWords>}</p>;
}

export const WayColumn = ({ way, best }) => (
  <section class={`way${best ? ' best' : ''}${way.available ? '' : ' shut'}`} aria-labelledby={`way-${way.way}`}>
    <h2 id={`way-${way.way}`}><span class="way-picture">{PICTURES[way.way]()}</span> {t(`way.${way.way}`)}</h2>
    <p class="way-best">{best ? t('way.best') : ''}</p>
    {way.available ? <Figures way={way} /> : <Reason way={way} />}
  </section>
);

/** What would have to come together, and what a kilogram would cost then. */
const Missing = ({ way }) => (
  <p>
    {t('way.missing', { mass: kilograms(way.kg_missing) })}
    {way.filled_cost_per_kg_minor !== null && ` ${t('way.filled', { money: coin(way.filled_cost_per_kg_minor) })}`}
  </p>
);

/** The question as the screens of a journey take it: as it would be typed. */
const askedAgain = (asked) => Object.fromEntries(Object.entries(asked).map(([name, value]) => [name, String(value ?? '')]));

/** The next step of a way, with what it costs besides. */
export function WayDoing({ way, lot, asked, first }) {
  if (!way.available) return null;
  const kind = `button wide-button ${first ? 'first' : ''}`;
  if (way.way === 'share') return <ShareDoing {...{ way, lot, kind }} />;
  return (
    <div>
      {way.way === 'wait' && way.kg_missing > 0 && <Missing way={way} />}
      {way.way === 'wait' && way.storage_minor !== null && <p class="quiet">{t('way.storage', { money: coin(way.storage_minor + (way.quality_minor ?? 0)) })}</p>}
      {way.departure && <a class={kind} href={screenOf('journey', way.departure, askedAgain(asked))}>{t(`way.do.${way.way}`)}</a>}
    </div>
  );
}

const ShareDoing = ({ way, lot, kind }) => (
  <div>
    {way.members > 0 && <p>{t('way.members', { count: way.members })}</p>}
    {way.parcel ? (
      <a class={kind} href={`/parcels/${way.parcel}${lot ? `?lot=${lot.id}` : ''}`}>{t('way.do.share')}</a>
    ) : (
      <p>{t('way.no_carton')}</p>
    )}
  </div>
);
