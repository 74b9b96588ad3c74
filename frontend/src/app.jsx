/** The screens, their addresses, and who may open them. */
import { Band, Lower, NewVersion, Waits } from './parts/frame.jsx';
import { ANYBODY, Gate, VISITOR } from './parts/gate.jsx';
import { Guard } from './parts/guard.jsx';
import { Heading } from './parts/heading.jsx';
import { TurnedOut } from './parts/turned_out.jsx';
import { isAtLeast, who } from './people.js';
import { address, late, screenFor } from './router.jsx';
import { Departures } from './screens/departures.jsx';
import { speakOffice, t } from './words.js';

const later = (name) => late(() => import('./screens/later.js').then((file) => file[name]));
const lots = (name) => late(() => import('./screens/later_lots.js').then((file) => file[name]));
/** What is shared and owed has no words of the office: without them it opens all the same. */
const members = (name) => late(() => import('./screens/later_members.js').then((file) => file[name]));
const office = (name) => late(() => Promise.all([import('./screens/later_office.js'), speakOffice()]).then(([file]) => file[name]));
const sold = (name) => late(() => Promise.all([import('./screens/later_members.js'), speakOffice()]).then(([file]) => file[name]));
/** What the office writes has its words there; without them its own name stands in the list. */
const Outbox = late(() => Promise.all([import('./screens/later_lots.js'), Promise.resolve(isAtLeast('packer') && speakOffice()).catch(() => {})]).then(([file]) => file.Outbox));
const people = (name) => late(() => import('./screens/people.js').then((file) => file[name]));

/** @type {[RegExp, import('preact').ComponentType<any>, import('./parts/gate.jsx').May][]} */
const SCREENS = [
  [/^\/$/, Departures, VISITOR],
  [/^\/journey\/(?<id>[^/]+)\/?$/, later('Journey'), VISITOR],
  [/^\/packing\/(?<id>[^/]+)\/?$/, later('Packing'), VISITOR],
  [/^\/kept\/?$/, later('Kept'), VISITOR],
  [/^\/shared\/?$/, people('Shared'), ANYBODY],
  [/^\/lots\/?$/, lots('Lots'), 'member'],
  [/^\/lots\/new\/?$/, lots('LotNew'), 'member'],
  [/^\/lots\/(?<id>[^/]+)\/?$/, lots('Lot'), 'member'],
  [/^\/outbox\/?$/, Outbox, 'member'],
  [/^\/ways\/?$/, sold('Ways'), 'member'],
  [/^\/parcels\/?$/, members('Parcels'), 'member'],
  [/^\/parcels\/new\/?$/, office('ParcelNew'), 'packer'],
  [/^\/parcels\/(?<id>[^/]+)\/?$/, members('Parcel'), 'member'],
  [/^\/parcels\/(?<id>[^/]+)\/split\/?$/, sold('Split'), 'member'],
  [/^\/parcels\/(?<id>[^/]+)\/papers\/?$/, office('Papers'), 'packer'],
  [/^\/parcels\/(?<id>[^/]+)\/step\/?$/, office('ParcelStep'), 'packer'],
  [/^\/plan\/?$/, office('PlanNew'), 'packer'],
  [/^\/plans\/(?<id>[^/]+)\/?$/, office('Plan'), 'packer'],
  [/^\/statement\/?$/, members('Statement'), 'member'],
  [/^\/statements\/?$/, office('Statements'), 'packer'],
  [/^\/statements\/(?<id>[^/]+)\/?$/, members('Statement'), 'packer'],
  [/^\/payments\/new\/?$/, office('PaymentNew'), 'packer'],
  [/^\/claims\/?$/, sold('Claims'), 'member'],
  [/^\/claims\/new\/?$/, sold('ClaimNew'), 'member'],
  [/^\/claims\/(?<id>[^/]+)\/?$/, sold('Claim'), 'member'],
  [/^\/quotes\/?$/, sold('Quotes'), 'member'],
  [/^\/quotes\/new\/?$/, sold('QuoteNew'), 'member'],
  [/^\/quotes\/(?<id>[^/]+)\/?$/, sold('Quote'), 'member'],
  [/^\/fares\/?$/, office('Fares'), 'manager'],
  [/^\/fares\/change\/?$/, office('FareChange'), 'manager'],
  [/^\/fares\/history\/?$/, office('FareHistory'), 'manager'],
  [/^\/imports\/?$/, office('Imports'), 'manager'],
  [/^\/who\/?$/, people('Who'), ANYBODY],
  [/^\/enrol\/?$/, people('Enrol'), ANYBODY],
  [/^\/members\/?$/, office('Members'), 'manager'],
  [/^\/phones\/?$/, office('Phones'), 'manager'],
];

const Unlock = people('Who');

const Lost = () => (
  <>
    <Heading words={t('lost.title')} />
    <p><a class="button first" href="/">{t('departures.back')}</a></p>
  </>
);

export function App() {
  const { Screen, may, id, query } = screenFor(SCREENS, address.value) ?? { Screen: Lost, may: ANYBODY };
  return (
    <>
      <div class="page" tabIndex={-1}>
        <Band first={Screen === Departures} />
        <main id="screen">
          <NewVersion />
          <TurnedOut />
          <Waits />
          {/* Another holder begins with a screen of her own: nothing of the one before is left in it. */}
          <Guard key={`${who.value} ${address.value}`}>
            <Gate may={may} locked={<Unlock here />}>
              <Screen id={id} query={query} />
            </Gate>
          </Guard>
        </main>
      </div>
      <Lower />
    </>
  );
}
