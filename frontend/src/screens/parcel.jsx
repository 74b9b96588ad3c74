/** One shared carton: whose fish lies in it, the room that is left, what it costs, and the next step. */
import { dayAndHour, kilograms, longDay } from '../format.js';
import { t } from '../words.js';
import { coin, packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { CartonBox } from '../parts/carton_box.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Fact } from '../parts/fact.jsx';
import { ParcelJoin } from '../parts/parcel_join.jsx';
import { ParcelState } from '../parts/parcel_line.jsx';
import { ParcelSteps } from '../parts/parcel_steps.jsx';
import { Patterns, patternsOf } from '../parts/patterns.jsx';
import '../style/parcel.css';

const Mine = ({ parcel }) =>
  parcel.mine && (
    <section class="mine-box" aria-labelledby="mine">
      <h2 id="mine">{t('parcel.mine', { mass: kilograms(parcel.mine.mass_kg) })}</h2>
      <dl>
        {parcel.mine.share_minor !== null && <Fact name={parcel.state === 'open' ? 'parcel.share.now' : 'parcel.share'}>{coin(parcel.mine.share_minor)}</Fact>}
        {parcel.mine.alone_minor !== null && <Fact name="parcel.alone">{coin(parcel.mine.alone_minor)}</Fact>}
      </dl>
    </section>
  );

const Facts = ({ parcel }) => (
  <dl>
    {!parcel.called_off && <Fact name={parcel.departed_at ? 'parcel.left' : 'parcel.leaves'}>{dayAndHour(parcel.departed_at ?? parcel.departs_at)}</Fact>}
    <Fact name={parcel.closed_at ? 'parcel.closed' : 'parcel.closes'}>{dayAndHour(parcel.closed_at ?? parcel.closes_at)}</Fact>
    <Fact name="parcel.carrier">{parcel.carrier.name}</Fact>
    <Fact name="parcel.buyer">{parcel.buyer.name}</Fact>
    <Fact name="parcel.design">{parcel.carton_design.name}</Fact>
    {parcel.cost_minor !== null && <Fact name="parcel.cost">{coin(parcel.cost_minor)}</Fact>}
    {parcel.driver && <Fact name="parcel.driver">{parcel.driver} {parcel.plate}</Fact>}
  </dl>
);

const HandedOver = ({ over }) => (
  <section class="sewn" aria-labelledby="over">
    <h2 id="over">{t('over.title')}</h2>
    <p class="big">{over.is_hard ? t('over.hard') : t('over.soft', { mass: kilograms(over.soft_kg ?? 0) })}</p>
    <dl>
      <Fact name="over.at">{dayAndHour(over.at)}</Fact>
      {over.received_by && <Fact name="over.by">{over.received_by}</Fact>}
    </dl>
    {over.note && <p>{over.note}</p>}
  </section>
);

const CalledOff = ({ off }) => (
  <section class="sewn" aria-labelledby="off">
    <h2 id="off">{t('off.title')}</h2>
    <p class="big">{dayAndHour(off.at)}: {off.note}</p>
    <p>{t('off.words')}</p>
  </section>
);

function Known({ parcel, query, again }) {
  const patterns = patternsOf(parcel.cartons);
  return (
    <>
      <p class="big"><ParcelState parcel={parcel} /></p>
      {parcel.state === 'open' && <p class="big">{t(parcel.room_kg > 0 ? 'parcel.room' : 'parcel.no_room', { mass: kilograms(parcel.room_kg) })}</p>}
      <Patterns />
      {parcel.cartons.map((carton) => <CartonBox key={carton.position} {...{ carton, parcel, patterns, again }} />)}
      <Mine parcel={parcel} />
      {parcel.state === 'open' && <ParcelJoin parcel={parcel} wanted={query.lot} again={again} />}
      {parcel.handed_over && <HandedOver over={parcel.handed_over} />}
      {parcel.called_off && <CalledOff off={parcel.called_off} />}
      {parcel.members > 0 && (parcel.mine || packs()) && <p><a class="button wide-button" href={`/parcels/${parcel.id}/split`}>{t('split.open')}</a></p>}
      <Facts parcel={parcel} />
      <ParcelSteps parcel={parcel} again={again} />
      <Cautions codes={ALWAYS} />
    </>
  );
}

/** @param {{id: string, query: {lot?: string}}} props a lot that is to go into it */
export const Parcel = ({ id, query }) => (
  <>
    <a class="back" href="/parcels">{t('parcels.back')}</a>
    <Asked path={`/api/v1/parcels/${id}/`} heading={(parcel) => t('parcel.title', { day: longDay(parcel.departs_at) })}>
      {(parcel, again) => <Known parcel={parcel} query={query} again={again} />}
    </Asked>
  </>
);
