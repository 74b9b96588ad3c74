/** What I owe and am owed: mine, or for whoever packs that of one member. */
import { me } from '../people.js';
import { t } from '../words.js';
import { packs } from '../who.js';
import { Account } from '../parts/account.jsx';
import { Asked } from '../parts/asked.jsx';
import { PrintButtons } from '../parts/print_buttons.jsx';
import '../style/statement.css';

/** @param {{id?: string}} props of a member; without one it is her own */
export function Statement({ id }) {
  const path = id ? `/api/v1/statements/${id}/?page_size=100` : '/api/v1/statement/?page_size=100';
  return (
    <>
      {id && <a class="back" href="/statements">{t('statements.back')}</a>}
      <Asked path={path} heading={({ member }) => (id ? t('statement.title.of', { name: member.name }) : t('statement.title'))}>
        {(account, again) => (
          <>
            {id && <p><a class="button first wide-button on-screen" href={`/payments/new?member=${id}`}>{t('payment.record')}</a></p>}
            <p class="quiet">{me.value.cooperative.name}</p>
            <Account account={account} again={again} />
            <PrintButtons />
          </>
        )}
      </Asked>
      <div class="row on-screen">
        <a class="button" href="/claims">{t('claims.title')}</a>
        {packs() && !id && <a class="button" href="/statements">{t('statements.title')}</a>}
      </div>
    </>
  );
}
