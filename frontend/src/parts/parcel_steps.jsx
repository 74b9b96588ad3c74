/** What whoever packs does next with a parcel, and what any of its members may. */
import { t } from '../words.js';
import { packs } from '../who.js';
import { Act } from './act.jsx';

const NEXT = { closed: 'depart', departed: 'hand_over', handed_over: 'settle' };

const Step = ({ parcel, does, first }) => (
  <a class={`button wide-button ${first ? 'first' : ''}`} href={`/parcels/${parcel.id}/step?do=${does}`}>{t(`step_of.${does}`)}</a>
);

const Packing = ({ parcel, again }) => {
  const next = NEXT[parcel.state];
  return (
    <>
      {next && <Step parcel={parcel} does={next} first />}
      {parcel.state === 'closed' && <Step parcel={parcel} does="call_off" />}
      {parcel.members > 0 && !parcel.called_off && <a class="button wide-button" href={`/parcels/${parcel.id}/papers`}>{t('papers.title')}</a>}
      {parcel.state === 'open' && <Act path={`/api/v1/parcels/${parcel.id}/cartons/`} words={t('parcel.more')} second done={again} />}
      {parcel.state !== 'open' && <Step parcel={parcel} does="correct" />}
    </>
  );
};

/** @param {{parcel: any, again: () => any}} props */
export const ParcelSteps = ({ parcel, again }) => {
  const claimable = ['departed', 'handed_over', 'settled'].includes(parcel.state) && (parcel.mine || packs());
  if (!packs() && !claimable) return null;
  return (
    <section class="sewn steps-of" aria-labelledby="next">
      <h2 id="next">{t('steps_of.title')}</h2>
      {packs() && <Packing parcel={parcel} again={again} />}
      {claimable && <a class="button wide-button" href={`/claims/new?parcel=${parcel.id}`}>{t('claim.raise')}</a>}
    </section>
  );
};
