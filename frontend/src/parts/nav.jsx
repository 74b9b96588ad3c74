/** The ways through the house, where a thumb reaches them: each by its picture and its word. */
import { choices } from '../choices.js';
import { holders, me } from '../people.js';
import { address } from '../router.jsx';
import { t } from '../words.js';
import { Carton, Coins, HardFish, Person, Roof } from './pictures.jsx';

const OWN = [
  ['/', 'nav.departures', Roof],
  ['/lots', 'nav.lots', HardFish],
  ['/parcels', 'nav.parcels', Carton],
  ['/statement', 'nav.statement', Coins],
];
const WHO = ['/who', 'nav.who', Person];
const LOOK = ['/enrol', 'nav.look', Person];
const ENTER = ['/enrol', 'nav.enter', Person];
const UNLOCK = ['/who', 'nav.unlock', Person];

function ways() {
  if (me.value) return [...OWN, WHO];
  const [first] = OWN;
  if (holders.value.length) return [first, UNLOCK];
  return [first, choices.value?.cooperative?.is_demo ? LOOK : ENTER];
}

const isHere = (url) => address.value.split('?')[0].split('/')[1] === url.slice(1);

export const Nav = () => (
  <nav class="ways" aria-label={t('nav.title')}>
    {ways().map(([url, words, Picture]) => (
      <a href={url} aria-current={isHere(url) ? 'page' : undefined}><Picture /> <span>{t(words)}</span></a>
    ))}
  </nav>
);
