/** One numbered carton of a parcel: its picture, who lies in it, whether it is safe, and taking fish out again. */
import { dayAndHour, kilograms } from '../format.js';
import { t } from '../words.js';
import { packs } from '../who.js';
import { Act } from './act.jsx';
import { CartonFill } from './carton_fill.jsx';
import { fishName } from './lot_line.jsx';
import { Swatch } from './patterns.jsx';
import { Care } from './pictures.jsx';
import { State, chanceWords } from './slot.jsx';
import { ServerWords } from './states.jsx';

const PartLine = ({ part, parcel, pattern, open, again }) => (
  <li class={`part-line${part.mine ? ' mine' : ''}`}>
    <Swatch pattern={pattern} />
    <span>
      <strong>{part.mine ? t('fill.mine') : part.member.name}</strong>
      <span class="quiet basis">{fishName(part.species)}</span>
    </span>
    <strong class="figure">{kilograms(part.mass_kg)}</strong>
    {open && (part.mine || packs()) && (
      <Act path={`/api/v1/parcels/${parcel.id}/leave/`} body={{ lot: part.lot }} words={t('parcel.leave')} second undoable place={`${kilograms(part.mass_kg)} · ${fishName(part.species)}`} done={again} />
    )}
  </li>
);

/** Safe to travel as it is filled now; an empty one has nothing to be judged. */
const Judged = ({ carton }) => {
  if (carton.safe === null || !carton.parts.length) return null;
  return (
    <div class={carton.safe ? 'safe' : 'unsafe'}>
      <p class="slot-state">
        <State safe={carton.safe} /> {carton.chance_hard !== null && <span>{t('slot.hard', { chance: chanceWords(carton.chance_hard) })}</span>}
      </p>
      {carton.safe && carton.latest_safe_departure_at && <p class="latest">{t('slot.latest', { hour: dayAndHour(carton.latest_safe_departure_at) })}</p>}
      {!carton.safe && carton.reason && <p class="notice"><Care /> <ServerWords said={carton.reason.language}>{carton.reason.words}</ServerWords></p>}
    </div>
  );
};

/** @param {{carton: any, parcel: any, patterns: Map<any, number>, again: () => any}} props */
export function CartonBox({ carton, parcel, patterns, again }) {
  const open = parcel.state === 'open' && !carton.closed_at;
  return (
    <section class="sewn" aria-labelledby={`carton-${carton.position}`}>
      <h2 id={`carton-${carton.position}`}>{t(carton.closed_at ? 'carton.closed' : 'carton.title', { number: carton.position })}</h2>
      <CartonFill carton={carton} patterns={patterns} />
      <Judged carton={carton} />
      {carton.parts.length > 0 && (
        <details open={open && carton.parts.some((part) => part.mine)}>
          <summary>{t('carton.whose', { count: carton.parts.length })}</summary>
          <ul>{carton.parts.map((part) => <PartLine key={part.lot} {...{ part, parcel, open, again }} pattern={patterns.get(part.member.id)} />)}</ul>
        </details>
      )}
      {open && packs() && !carton.parts.length && parcel.cartons.length > 1 && (
        <Act path={`/api/v1/parcels/${parcel.id}/cartons/${carton.position}/drop/`} words={t('carton.drop', { number: carton.position })} second done={again} />
      )}
      {open && packs() && carton.parts.length > 0 && (
        <p><a class="button first wide-button" href={`/parcels/${parcel.id}/step?do=close&carton=${carton.position}`}>{t('carton.close', { number: carton.position })}</a></p>
      )}
    </section>
  );
}
