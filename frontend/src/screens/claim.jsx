/** One claim: who claims what; sharing what was got back, or turning it down. */
import { dayAndHour } from '../format.js';
import { useForm } from '../form.js';
import { t } from '../words.js';
import { coin, isMe, packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Fact } from '../parts/fact.jsx';
import { Form } from '../parts/form.jsx';
import '../style/statement.css';

const Part = ({ part }) => (
  <tr class={isMe(part.member) ? 'mine' : ''}>
    <th scope="row">{isMe(part.member) ? t('fill.mine') : part.member.name}</th>
    <td class="figure">{coin(part.claimed_minor)}</td>
    <td class="figure">{part.awarded_minor === null ? '–' : coin(part.awarded_minor)}</td>
  </tr>
);

const Parts = ({ claim }) => (
  <table>
    <thead>
      <tr><th scope="col">{t('claim.who')}</th><th scope="col" class="figure">{t('claim.claims')}</th><th scope="col" class="figure">{t('claim.gets')}</th></tr>
    </thead>
    <tbody>{claim.parts.map((part) => <Part part={part} />)}</tbody>
  </table>
);

const STEPS = { share: [{ name: 'estate_minor', kind: 'money' }], reject: [{ name: 'note', kind: 'text' }] };

function Decide({ claim, does, again }) {
  const path = `/api/v1/claims/${claim.id}/${does}/`;
  const form = useForm({ key: path, fields: STEPS[does], path, done: again });
  return (
    <details class="sewn" open={does === 'share'}>
      <summary>{t(`claim.${does}`)}</summary>
      <p>{t(`claim.${does}.note`)}</p>
      <Form form={form} words={t(`claim.${does}`)} second={does === 'reject'} />
    </details>
  );
}

const Known = ({ claim, again }) => (
  <>
    <p class="big">{t(`claim.state.${claim.state}`)}</p>
    {claim.note && <p>{claim.note}</p>}
    {claim.rejected_note && <p>{claim.rejected_note}</p>}
    <Parts claim={claim} />
    <dl>
      <Fact name="claim.by">{claim.raised_by.name}, {dayAndHour(claim.raised_at)}</Fact>
      {claim.estate_minor !== null && <Fact name="claim.estate">{coin(claim.estate_minor)}</Fact>}
      {claim.rule && <Fact name="claim.rule">{t(`claims.rule.${claim.rule}`)}</Fact>}
    </dl>
    <p><a class="button wide-button" href={`/parcels/${claim.parcel}`}>{t('entry.parcel')}</a></p>
    {packs() && claim.state === 'raised' && ['share', 'reject'].map((does) => <Decide key={does} {...{ claim, does, again }} />)}
  </>
);

/** @param {{id: string}} props */
export const Claim = ({ id }) => (
  <>
    <a class="back" href="/claims">{t('claims.back')}</a>
    <Asked path={`/api/v1/claims/${id}/`} heading={(claim) => t(`claim.kind.${claim.kind}`)}>
      {(claim, again) => <Known claim={claim} again={again} />}
    </Asked>
  </>
);
