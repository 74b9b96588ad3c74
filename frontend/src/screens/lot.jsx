/** One lot: the fish, where it lies, and what can be done with it now. Its label leads here. */
import { day, dayAndHour, degrees, kilograms } from '../format.js';
import { t } from '../words.js';
import { isMe, packs } from '../who.js';
import { Act } from '../parts/act.jsx';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Fact } from '../parts/fact.jsx';
import { LotState, fishName, leaving } from '../parts/lot_line.jsx';
import '../style/lots.css';

const Facts = ({ lot }) => (
  <dl>
    <Fact name="lot.owner">{lot.member.name}</Fact>
    <Fact name="lot.mass">{kilograms(lot.mass_kg)}</Fact>
    {lot.promised_kg > 0 && <Fact name="lot.promised">{kilograms(lot.promised_kg)}</Fact>}
    {lot.placed_kg + lot.promised_kg > 0 && lot.left_kg > 0 && <Fact name="lot.left.name">{kilograms(lot.left_kg)}</Fact>}
    <Fact name="lot.start">{degrees(lot.start_temperature_c)}</Fact>
    <Fact name="lot.frozen">{day(lot.frozen_since.slice(0, 10))}</Fact>
    <Fact name="lot.ready">{dayAndHour(lot.ready_at)}</Fact>
    {lot.deliver_by && <Fact name="lot.deadline">{dayAndHour(lot.deliver_by)}</Fact>}
    <Fact name="lot.way">{lot.route.name}</Fact>
    <Fact name="lot.buyer">{lot.buyer.name}</Fact>
    <Fact name="lot.split">{t(lot.may_be_split ? 'lot.split.yes' : 'lot.split.no')}</Fact>
    {lot.note && <Fact name="lot.note">{lot.note}</Fact>}
  </dl>
);

const Cartons = ({ lot, hers }) => (
  <section class="sewn" aria-labelledby="lies">
    <h2 id="lies">{t('lot.lies')}</h2>
    <ul>
      {lot.parcels.map((one) => (
        <li class="entry-line" key={one.id}>
          <a href={`/parcels/${one.id}`}>
            <strong class="line-title">{leaving(one)}</strong>
            <span>{t(`parcel.state.${one.state}`)}</span>
          </a>
        </li>
      ))}
    </ul>
    {hers && lot.parcels.map(({ id, state, mass_kg: mass }) => (
      state === 'called_off' && <a class="button wide-button" key={id} href={`/lots/new?again=${lot.id}&mass=${mass}`}>{t('lot.again')}</a>
    ))}
  </section>
);

const ON_OFFER = new Set(['offered', 'partly_placed']);

function Known({ lot, again }) {
  const hers = isMe(lot.member) || packs();
  return (
    <>
      <p class="big"><LotState lot={lot} /></p>
      {hers && ON_OFFER.has(lot.state) && <p><a class="button first wide-button" href={`/ways?lot=${lot.id}`}>{t('ways.title')}</a></p>}
      {hers && ON_OFFER.has(lot.state) && <p><a class="button wide-button" href={`/quotes/new?lot=${lot.id}`}>{t('quote.make')}</a></p>}
      {lot.parcels.length > 0 && <Cartons lot={lot} hers={hers} />}
      <Facts lot={lot} />
      {hers && lot.state === 'offered' && (
        <div class="row">
          <a class="button" href={`/lots/new?change=${lot.id}`}>{t('lot.change')}</a>
          <Act path={`/api/v1/lots/${lot.id}/withdraw/`} words={t('lot.withdraw')} second undoable done={again} />
        </div>
      )}
      <Cautions codes={ALWAYS} />
    </>
  );
}

/** @param {{id: string}} props */
export const Lot = ({ id }) => (
  <>
    <a class="back" href="/lots">{t('lots.back')}</a>
    <Asked path={`/api/v1/lots/${id}/`} heading={(lot) => `${kilograms(lot.mass_kg)} · ${fishName(lot.species)}`}>
      {(lot, again) => <Known lot={lot} again={again} />}
    </Asked>
  </>
);
