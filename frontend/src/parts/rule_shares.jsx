/** One rule: why it shares so, what each pays by it beside alone, and who would do better elsewhere. */
import { kilograms } from '../format.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Care } from './pictures.jsx';

/** Rows of the split by member; those that a member may not see one by one stand together. */
export function rowsOf(rule, split) {
  return split.members.map((row) => {
    const share = rule.shares.find((one) => (one.member ?? null) === (row.member?.id ?? null));
    return { ...row, pays_minor: share?.amount_minor ?? null };
  });
}

const nameOf = (row) => (row.mine ? t('fill.mine') : row.member?.name ?? t('split.rest', { count: row.count }));

/** Saved or lost against alone, in words. */
function against({ pays_minor: pays, alone_minor: alone }) {
  if (alone === null || pays === null) return null;
  if (pays === alone) return t('split.same');
  return t(pays < alone ? 'split.saves' : 'split.loses', { money: coin(Math.abs(alone - pays)) });
}

const Row = ({ row }) => (
  <li class={`share-row${row.mine ? ' mine' : ''}`}>
    <span>
      <strong>{nameOf(row)}</strong>
      <span class="quiet basis">{kilograms(row.mass_kg)}</span>
    </span>
    <span class="share-pays">{row.pays_minor === null ? t('figure.none') : coin(row.pays_minor)}</span>
    {row.member && <span class="basis">{row.alone_minor === null ? t('split.no_alone') : t('split.alone', { money: coin(row.alone_minor) })} <strong>{against(row)}</strong></span>}
  </li>
);

const Objection = ({ objection }) => (
  <p class="notice">
    <Care /> <span>{t('split.objection', { names: objection.members.join(', '), money: coin(objection.gain_minor) })}</span>
  </p>
);

/** @param {{rule: any, split: any}} props */
export const RuleShares = ({ rule, split }) => (
  <>
    <p>{t(`rule.${rule.rule}.why`)}</p>
    {!rule.feasible && <p class="notice"><Care /> <span>{t('split.not_feasible')}</span></p>}
    <ul class="shares">{rowsOf(rule, split).map((row) => <Row row={row} />)}</ul>
    {rule.objection && <Objection objection={rule.objection} />}
  </>
);
