/** Shared cartons: those that are being filled first, then what is on the way, then what is over. */
import { t } from '../words.js';
import { packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Heading } from '../parts/heading.jsx';
import { ParcelLine } from '../parts/parcel_line.jsx';
import '../style/lots.css';

const GROUPS = { open: ['open'], under_way: ['closed', 'departed'], over: ['handed_over', 'settled', 'called_off'] };

const sooner = (one, other) => one.departs_at.localeCompare(other.departs_at);

function Listed({ parcels }) {
  if (!parcels.length) return <p class="notice">{t(packs() ? 'parcels.none.packer' : 'parcels.none')}</p>;
  return Object.entries(GROUPS).map(([name, states]) => {
    const those = parcels.filter((one) => states.includes(one.state)).sort(sooner);
    if (!those.length) return null;
    return (
      <details class="sewn" open={name !== 'over'} key={name}>
        <summary><h2>{t(`parcels.${name}`, { count: those.length })}</h2></summary>
        <ul>{(name === 'over' ? those.reverse() : those).map((parcel) => <ParcelLine key={parcel.id} parcel={parcel} />)}</ul>
      </details>
    );
  });
}

export const Parcels = () => (
  <>
    <Heading words={t('parcels.title')} />
    {packs() && (
      <div class="row">
        <a class="button first" href="/plan">{t('plan.ask.title')}</a>
        <a class="button" href="/parcels/new">{t('parcel.open')}</a>
      </div>
    )}
    <Asked path="/api/v1/parcels/?page_size=100">{({ results }) => <Listed parcels={results} />}</Asked>
    <div class="row">
      <a class="button" href="/quotes">{t('quotes.title')}</a>
      <a class="button" href="/claims">{t('claims.title')}</a>
      {packs() && <a class="button" href="/statements">{t('statements.title')}</a>}
    </div>
  </>
);
