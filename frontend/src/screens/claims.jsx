/** Losses on parcels: who claims what, and what came of it. */
import { dayAndHour } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Heading } from '../parts/heading.jsx';
import '../style/statement.css';

const claimed = (claim) => claim.parts.reduce((sum, part) => sum + part.claimed_minor, 0);

const Row = ({ claim }) => (
  <li class="entry-line">
    <a href={`/claims/${claim.id}`}>
      <span class="line-top">
        <strong class="line-title">{t(`claim.kind.${claim.kind}`)}</strong>
        <span class="price">{coin(claimed(claim))}</span>
      </span>
      <strong>{t(`claim.state.${claim.state}`)}</strong>
      <span class="quiet">{dayAndHour(claim.raised_at)}</span>
    </a>
  </li>
);

export const Claims = () => (
  <>
    <a class="back" href="/parcels">{t('parcels.back')}</a>
    <Heading words={t('claims.title')} />
    <p>{t('claims.note')}</p>
    <Asked path="/api/v1/claims/?page_size=100">
      {({ results }) => (results.length ? <ul>{results.map((claim) => <Row key={claim.id} claim={claim} />)}</ul> : <p class="notice">{t('claims.none')}</p>)}
    </Asked>
  </>
);
