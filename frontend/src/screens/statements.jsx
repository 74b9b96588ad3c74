/** Who owes and who is owed, of all members: for whoever packs. */
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { Moved } from '../parts/balance.jsx';
import { Heading } from '../parts/heading.jsx';
import '../style/statement.css';

const Row = ({ row }) => (
  <li class="entry-line">
    <a href={`/statements/${row.member.id}`}>
      <span class="line-top"><strong class="line-title">{row.member.name}</strong> <Moved minor={row.balance_minor} seen="all" /></span>
    </a>
  </li>
);

/** Those who owe most first, those who are owed last. */
const byBalance = (one, other) => other.balance_minor - one.balance_minor;

export const Statements = () => (
  <>
    <a class="back" href="/parcels">{t('parcels.back')}</a>
    <Heading words={t('statements.title')} />
    <p><a class="button first wide-button" href="/payments/new">{t('payment.record')}</a></p>
    <Asked path="/api/v1/statements/?page_size=100">
      {({ results }) => <ul>{[...results].sort(byBalance).map((row) => <Row key={row.member.id} row={row} />)}</ul>}
    </Asked>
  </>
);
