/** One lot in a line: the fish, what became of it, and where it lies. */
import { choices, speciesName } from '../choices.js';
import { dayAndHour, kilograms } from '../format.js';
import { me } from '../people.js';
import { outbox } from '../waiting.js';
import { t } from '../words.js';
import { isMe } from '../who.js';
import { Carton, Freezer, HardFish, Mast, Roof } from './pictures.jsx';

/** Where its fish is just now, as a picture. */
const WHERE = {
  offered: Freezer, partly_placed: Freezer, withdrawn: Freezer, placed: Carton, closed: Carton,
  departed: Roof, called_off: Freezer, handed_over: HardFish, settled: HardFish,
};

export const LotState = ({ lot }) => {
  const Drawn = lot.waits ? () => <Mast silent /> : WHERE[lot.state] ?? Carton;
  if (lot.waits) return <span class="state-line"><Drawn /> <strong>{t('outbox.kept')}</strong></span>;
  return <span class="state-line"><Drawn /> <strong>{t(`lot.state.${lot.state}`)}</strong></span>;
};

/** A species in the language of the screen, once that is known; a lot itself names it as the server does. */
export function fishName({ code, name }) {
  const known = choices.value?.species.find((one) => one.code === code);
  return known ? speciesName(known) : name ?? code;
}

/** Fish that was offered without a signal, as a list shows it: its id is its own already. */
export const waitingLots = () =>
  outbox.value.filter(({ path, state }) => path === '/api/v1/lots/' && state === 'waits').map(({ body, typed }) => {
    const words = Object.fromEntries(typed.map(([name, , text]) => [name, text]));
    return {
      ...body, left_kg: body.mass_kg, state: 'offered', parcels: [], waits: true,
      member: { id: body.member ?? me.value.member.id, name: words.member }, species: { code: body.species, name: words.species },
      route: { slug: body.route, name: words.route }, buyer: { slug: body.buyer, name: words.buyer },
    };
  });

/** What of a lot lies in one parcel, and when that leaves; or that it did not. */
export const leaving = ({ state, departs_at: at, mass_kg: mass }) =>
  t(state === 'called_off' ? 'lot.stayed' : 'lot.leaves', { hour: dayAndHour(at), mass: kilograms(mass) });

/** @param {{lot: any, named?: boolean}} props named: whose it is stands beside it */
export const LotLine = ({ lot, named }) => (
  <li class="entry-line">
    <a href={lot.waits ? '/outbox' : `/lots/${lot.id}`}>
      <span class="line-top">
        <strong class="line-title">{kilograms(lot.mass_kg)} · {fishName(lot.species)}</strong>
        {named && !isMe(lot.member) && <span>{lot.member.name}</span>}
      </span>
      <LotState lot={lot} />
      {lot.state === 'partly_placed' && <span>{t('lot.left', { mass: kilograms(lot.left_kg) })}</span>}
      {lot.parcels.map((one) => <span>{leaving(one)}</span>)}
      <span class="quiet">{lot.route.name} · {lot.buyer.name}</span>
    </a>
  </li>
);
