/** Who may open a screen: where nobody is unlocked, the phone first asks who holds it. */
import { holders, isAtLeast, looking, me } from '../people.js';
import { t } from '../words.js';
import { Heading } from './heading.jsx';
import { Care } from './pictures.jsx';

export const ANYBODY = 'anybody';
/** What a visitor of the demonstration may see; on a phone that has holders one of them unlocks first. */
export const VISITOR = 'visitor';

/** @typedef {'anybody' | 'visitor' | 'member' | 'packer' | 'manager'} May */

/** @param {May} may @returns {'open' | 'locked' | 'closed'} */
export function gateFor(may) {
  if (may === ANYBODY) return 'open';
  if (!me.value) return may === VISITOR && (looking.value || !holders.value.length) ? 'open' : 'locked';
  return may === VISITOR || isAtLeast(may) ? 'open' : 'closed';
}

const Closed = ({ may }) => (
  <>
    <Heading words={t('gate.title')} />
    <p class="notice"><Care /> <span>{t(`gate.${may}`)}</span></p>
    <p><a class="button first" href="/">{t('departures.back')}</a></p>
  </>
);

/** @param {{may: May, locked: any, children: any}} props */
export const Gate = ({ may, locked, children }) => {
  const gate = gateFor(may);
  if (gate === 'locked') return locked;
  return gate === 'open' ? children : <Closed may={may} />;
};
