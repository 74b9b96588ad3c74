/** An account: what is owed either way, and each entry that made it so. Nothing in it is ever changed. */
import { day } from '../format.js';
import { t } from '../words.js';
import { isMe, packs } from '../who.js';
import { Balance, Moved } from './balance.jsx';
import { EntryCorrection } from './entry_correction.jsx';
import { Help } from './help.jsx';

/** Where an entry comes from, to look it up. */
function Source({ entry }) {
  const { parcel, claim } = entry;
  if (parcel && entry.kind === 'share') return <a class="back on-screen" href={`/parcels/${parcel}/split`}>{t('entry.split')}</a>;
  if (parcel) return <a class="back on-screen" href={`/parcels/${parcel}`}>{t('entry.parcel')}</a>;
  return claim ? <a class="back on-screen" href={`/claims/${claim}`}>{t('entry.claim')}</a> : null;
}

const MAY_BE_PUT_RIGHT = new Set(['payment', 'payout', 'proceeds', 'claim']);

const Entry = ({ entry, member, again }) => (
  <li class="entry">
    <div class="line-top">
      <span>
        <strong>{t(`entry.kind.${entry.kind}`)}</strong>
        <span class="quiet basis">{day(entry.noted_on)}{entry.note && ` · ${entry.note}`}</span>
        {entry.corrected && <span class="basis">{t('entry.corrected')}</span>}
      </span>
      <Moved minor={entry.amount_minor} seen={isMe(member) ? 'you' : 'she'} />
    </div>
    <Source entry={entry} />
    {packs() && !entry.corrected && MAY_BE_PUT_RIGHT.has(entry.kind) && <EntryCorrection entry={entry} again={again} />}
  </li>
);

/** @param {{account: any, again: () => any}} props */
export const Account = ({ account, again }) => (
  <>
    <Balance member={account.member} minor={account.balance_minor} />
    <Help name="balance" />
    <section class="sewn" aria-labelledby="entries">
      <h2 id="entries">{t('account.entries')}</h2>
      {account.entries.length ? (
        <ul>{account.entries.map((entry) => <Entry key={entry.id} entry={entry} member={account.member} again={again} />)}</ul>
      ) : (
        <p>{t('account.none')}</p>
      )}
    </section>
  </>
);
