/** The screens and their addresses. */
import { Band, NewVersion } from './parts/frame.jsx';
import { Guard } from './parts/guard.jsx';
import { Heading } from './parts/heading.jsx';
import { address, late, screenFor } from './router.jsx';
import { Departures } from './screens/departures.jsx';
import { t } from './words.js';

const later = () => import('./screens/later.js');

const SCREENS = [
  [/^\/$/, Departures],
  [/^\/journey\/(?<id>[^/]+)\/?$/, late(() => later().then((file) => file.Journey))],
  [/^\/packing\/(?<id>[^/]+)\/?$/, late(() => later().then((file) => file.Packing))],
  [/^\/kept\/?$/, late(() => later().then((file) => file.Kept))],
];

const Lost = () => (
  <>
    <Heading words={t('lost.title')} />
    <p><a class="button first" href="/">{t('departures.back')}</a></p>
  </>
);

export function App() {
  const { Screen, id, query } = screenFor(SCREENS, address.value) ?? { Screen: Lost };
  return (
    <>
      <Band first={Screen === Departures} />
      <main id="screen">
        <NewVersion />
        <Guard key={address.value}>
          <Screen id={id} query={query} />
        </Guard>
      </main>
    </>
  );
}
