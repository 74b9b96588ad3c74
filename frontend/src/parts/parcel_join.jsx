/** Putting fish into a shared carton: lots on offer for the same way and buyer, one touch each. */
import { dayAndHour, kilograms } from '../format.js';
import { useForm } from '../form.js';
import { useNow } from '../now.js';
import { t } from '../words.js';
import { isMe, packs } from '../who.js';
import { Form } from './form.jsx';
import { fishName, waitingLots } from './lot_line.jsx';
import { ServerWords } from './states.jsx';

/** Lots that may go in: of this way and buyer, with fish that lies nowhere yet. */
export function lotsFor(parcel, lots) {
  const same = (lot) => lot.route.slug === parcel.route.slug && lot.buyer.slug === parcel.buyer.slug && lot.left_kg > 0;
  return lots.filter((lot) => same(lot) && ['offered', 'partly_placed'].includes(lot.state) && (packs() || isMe(lot.member)));
}

const fits = (lot, parcel) => lot.may_be_split || parcel.cartons.some((carton) => carton.room_kg >= lot.left_kg);

/** Her whole lot, or as much as there is room for where she lets it be split. */
const massFor = (lot, parcel) => (lot.may_be_split ? Math.min(lot.left_kg, parcel.room_kg || lot.left_kg) : lot.left_kg);

function JoinOne({ lot, parcel, first, again }) {
  const mass = massFor(lot, parcel);
  const fields = lot.may_be_split ? [{ name: 'mass_kg', kind: 'number', start: String(mass) }] : [];
  const path = `/api/v1/parcels/${parcel.id}/join/`;
  const form = useForm({ key: `${path} ${lot.id}`, fields, path, shape: (body) => ({ lot: lot.id, ...body }), done: again });
  return (
    <li class="join-line">
      <p>
        <strong>{isMe(lot.member) ? t('fill.mine') : lot.member.name}</strong> · {fishName(lot.species)} · {kilograms(lot.left_kg)}
      </p>
      <Form form={form} second={!first} help={(problem) => problem.code === 'no_room' && <NextRoom problem={problem} lot={lot} />} words={t('parcel.join', { mass: kilograms(Number(form.draft.mass_kg) || mass) })} />
    </li>
  );
}

/** For want of room the refusal names the next departure: whoever packs is led to it, a member to its open carton. */
function NextRoom({ problem, lot }) {
  const next = problem.fields.find(({ field }) => field === 'parcel' || (field === 'departure' && packs()));
  const there = next && (next.field === 'parcel' ? `/parcels/${next.value}?lot=${lot.id}` : `/parcels/new?departure=${next.value}&buyer=${lot.buyer.slug}`);
  return (
    <>
      <p><ServerWords said={problem.language}>{problem.message}</ServerWords></p>
      {next && <p><a class="button wide-button" href={there}>{t('join.next', { hour: dayAndHour(next.right.slice(0, 16).replace(' ', 'T')) })}</a></p>}
    </>
  );
}

/** @param {{parcel: any, wanted?: string, again: () => any}} props wanted: the lot she came with stands first, then what there is room for */
export function ParcelJoin({ parcel, wanted, again }) {
  const { value } = useNow('/api/v1/lots/?page_size=100');
  const first = (lot) => 2 * (lot.id === wanted) + fits(lot, parcel);
  const lots = lotsFor(parcel, [...waitingLots(), ...(value?.results ?? [])]).sort((a, b) => first(b) - first(a));
  return (
    <section class="sewn" aria-labelledby="join">
      <h2 id="join">{t('join.title')}</h2>
      {lots.length ? (
        <ul>{lots.map((lot, index) => <JoinOne key={lot.id} {...{ lot, parcel, again }} first={index === 0} />)}</ul>
      ) : (
        <p>{t('join.none')} <a class="back" href="/lots/new">{t('lots.offer')}</a></p>
      )}
    </section>
  );
}
