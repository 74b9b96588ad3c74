/** Send alone, share, or wait: three columns of cost, risk and day. */
import { longDay, kilograms } from '../format.js';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { Heading } from '../parts/heading.jsx';
import { Help } from '../parts/help.jsx';
import { fishName } from '../parts/lot_line.jsx';
import { WayColumn, WayDoing } from '../parts/way.jsx';
import '../style/ways.css';

const ABOUT = ['route', 'buyer', 'species', 'mass_kg', 'start_temperature_c', 'ready_at'];

/** What is asked about a lot: the fish of it that lies in no carton yet. */
const askedOf = (lot) => ({
  route: lot.route.slug, buyer: lot.buyer.slug, species: lot.species.code, mass_kg: lot.left_kg || lot.mass_kg,
  start_temperature_c: lot.start_temperature_c, ready_at: lot.ready_at, lot: lot.id,
});

/** @param {Record<string, any>} asked */
export const waysPath = (asked) => `/api/v1/ways/?${new URLSearchParams(asked)}`;

const ORDER = ['alone', 'share', 'wait'];

function Columns({ value, lot }) {
  const ways = ORDER.map((way) => value.ways.find((one) => one.way === way)).filter(Boolean);
  const best = ways.find((one) => one.way === value.best);
  return (
    <>
      <p class="summary" role="status">{best ? t(`ways.best.${best.way}`, { day: longDay(best.departs_at) }) : t('ways.none')}</p>
      <div class="three-ways">{ways.map((way) => <WayColumn key={way.way} way={way} best={way === best} />)}</div>
      <Help name="ways.title" />
      {ways.map((way) => <WayDoing key={way.way} {...{ way, lot }} asked={value.question} first={way === best} />)}
    </>
  );
}

const OfLot = ({ lot }) => (
  <>
    <p>{kilograms(lot.left_kg || lot.mass_kg)} · {fishName(lot.species)} · {lot.route.name} · {lot.buyer.name}</p>
    <Asked path={waysPath(askedOf(lot))}>{(value) => <Columns value={value} lot={lot} />}</Asked>
  </>
);

/** @param {{query: Record<string, string>}} props a lot, or the question itself */
export function Ways({ query }) {
  const asked = Object.fromEntries(ABOUT.filter((name) => query[name]).map((name) => [name, query[name]]));
  return (
    <>
      <a class="back" href={query.lot ? `/lots/${query.lot}` : '/lots'}>{t('lots.back')}</a>
      <Heading words={t('ways.title')} />
      {query.lot ? (
        <Asked quiet path={`/api/v1/lots/${query.lot}/`}>{(lot) => <OfLot lot={lot} />}</Asked>
      ) : (
        <Asked path={waysPath(asked)}>{(value) => <Columns value={value} />}</Asked>
      )}
      <Cautions codes={ALWAYS} />
    </>
  );
}
