/** Who pays what of a shared carton, by each rule, beside what she would have paid alone; and why it is fair. */
import { kilograms } from '../format.js';
import { freshenMe, isAtLeast, me } from '../people.js';
import { t } from '../words.js';
import { coin } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Act } from '../parts/act.jsx';
import { BillLines } from '../parts/bill_lines.jsx';
import { Heading } from '../parts/heading.jsx';
import { Help } from '../parts/help.jsx';
import { Care } from '../parts/pictures.jsx';
import { RuleShares, rowsOf } from '../parts/rule_shares.jsx';
import { SplitReckon } from '../parts/split_reckon.jsx';
import '../style/split.css';

/** The rule that the cooperative chose first, the others after it. */
export function inOrder(rules, chosen) {
  return [...rules].sort((a, b) => (b.rule === chosen) - (a.rule === chosen));
}

/** The manager chooses where the rule is explained; it counts for cartons that close from then on. */
const Choose = ({ rule }) => (
  <Act method="PATCH" path={`/api/v1/cooperatives/${me.value.cooperative.slug}/`} body={{ sharing_rule: rule }} words={t('split.choose')} second done={freshenMe} />
);

/** What holds whatever rule is taken: whether anybody could do better by leaving. */
const Core = ({ split }) => (
  <p>{t(split.core_is_empty === null ? 'split.core.unknown' : split.core_is_empty ? 'split.core.empty' : 'split.core.stable')}</p>
);

/** A rule with what she herself would pay by it, before it is opened. */
function summaryOf(rule, split) {
  const mine = rowsOf(rule, split).find((row) => row.mine);
  const name = t(`rule.${rule.rule}`);
  return mine && mine.pays_minor !== null ? t('split.mine', { rule: name, money: coin(mine.pays_minor) }) : name;
}

function Shares({ split }) {
  const chosen = split.final ? split.rule : me.value.cooperative.sharing_rule;
  const [own, ...others] = inOrder(split.rules, chosen);
  return (
    <>
      <section class="chosen" aria-labelledby="chosen">
        <h2 id="chosen">{t('split.chosen', { rule: t(`rule.${own.rule}`) })}</h2>
        <RuleShares rule={own} split={split} />
      </section>
      <section class="sewn" aria-labelledby="others">
        <h2 id="others">{t('split.others')}</h2>
        {others.map((rule) => (
          <details key={rule.rule}>
            <summary>{summaryOf(rule, split)}</summary>
            <RuleShares rule={rule} split={split} />
            {isAtLeast('manager') && <Choose rule={rule.rule} />}
          </details>
        ))}
      </section>
      <Help name="split.title" />
      <Core split={split} />
      {split.sampled && <p class="quiet">{t('split.sampled')}</p>}
    </>
  );
}

const Bill = ({ split }) => <p class="big">{t(split.final ? 'split.bill' : 'split.bill.now', { money: coin(split.bill_minor) })}</p>;

const Known = ({ id, split }) => (
  <>
    {split.bill_minor === null ? <p class="notice"><Care /> {t('split.no_price')}</p> : <Bill split={split} />}
    {!split.final && <p class="quiet">{t('split.moves')}</p>}
    {split.state === 'called_off' && <p class="notice"><Care /> {t('split.called_off')}</p>}
    <p>{t('split.whose', { count: split.players, mass: kilograms(massOf(split)) })}</p>
    {split.rules.length > 0 && <Shares split={split} />}
    {split.rules.length > 0 && <SplitReckon id={id} split={split} />}
    {split.bill_minor !== null && <BillLines lines={split.lines} total={split.bill_minor} />}
  </>
);

const massOf = (split) => split.members.reduce((sum, one) => sum + one.mass_kg, 0);

/** @param {{id: string}} props of the parcel */
export function Split({ id }) {
  return (
    <>
      <a class="back" href={`/parcels/${id}`}>{t('parcel.back')}</a>
      <Heading words={t('split.title')} />
      <Asked path={`/api/v1/parcels/${id}/split/`}>{(split) => <Known id={id} split={split} />}</Asked>
    </>
  );
}
