/** One shared carton in a line: when it leaves, how full it is, what it costs a kilogram. */
import { dayAndHour, kilograms } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Carton, Freezer, HardFish, Label, Ride, Rope } from './pictures.jsx';

const PICTURES = { open: Carton, closed: Rope, handed_over: HardFish, settled: Label, called_off: Freezer };

export const ParcelState = ({ parcel }) => {
  const Drawn = PICTURES[parcel.state] ?? (() => <Ride where={parcel.carrier.ride} />);
  return <span class="state-line"><Drawn /> <strong>{t(`parcel.state.${parcel.state}`)}</strong></span>;
};

/** How full, as a bar beside its words. */
export const Fullness = ({ parcel }) => {
  const all = parcel.mass_kg + parcel.room_kg;
  return (
    <span class="fullness">
      <svg viewBox="0 0 100 14" preserveAspectRatio="none" aria-hidden="true" focusable="false">
        <rect class="fullness-all" x="0" y="0" width="100" height="14" />
        <rect class="fullness-part" x="0" y="0" width={all ? (100 * parcel.mass_kg) / all : 0} height="14" />
      </svg>
      <span>{t('parcel.full', { mass: kilograms(parcel.mass_kg), all: kilograms(all) })}</span>
    </span>
  );
};

export const ParcelLine = ({ parcel }) => (
  <li class="entry-line">
    <a href={`/parcels/${parcel.id}`}>
      <span class="line-top">
        <strong class="line-title">{dayAndHour(parcel.departs_at)}</strong>
        {parcel.cost_per_kg_minor !== null && <span class="price">{t('slot.price', { money: coin(parcel.cost_per_kg_minor) })}</span>}
      </span>
      <ParcelState parcel={parcel} />
      {parcel.state === 'open' && <Fullness parcel={parcel} />}
      {parcel.mine && <strong>{t('parcel.mine', { mass: kilograms(parcel.mine.mass_kg) })}</strong>}
      <span class="quiet">{parcel.buyer.name} · {parcel.carrier.name} · {t('parcel.members', { count: parcel.members })}</span>
    </a>
  </li>
);
