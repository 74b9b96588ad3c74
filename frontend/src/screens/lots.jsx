/** My lots: what I offered, where it lies, what to do next. Whoever packs sees everybody's. */
import { useState } from 'preact/hooks';
import { t } from '../words.js';
import { isMe, packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { Heading } from '../parts/heading.jsx';
import { LotLine, waitingLots } from '../parts/lot_line.jsx';
import '../style/lots.css';

/** Lots by what is to be done with them. */
const GROUPS = {
  waiting: ['offered', 'partly_placed'],
  travelling: ['placed', 'closed', 'departed'],
  over: ['promised', 'called_off', 'handed_over', 'settled', 'withdrawn'],
};

const Group = ({ name, lots, named, open }) => (
  <details class="sewn" open={open}>
    <summary><h2>{t(`lots.${name}`, { count: lots.length })}</h2></summary>
    <ul>{lots.map((lot) => <LotLine key={lot.id} lot={lot} named={named} />)}</ul>
  </details>
);

/** Offered without a signal: on its way, and already hers to see. */
const Waiting = () => <ul>{waitingLots().map((lot) => <LotLine key={lot.id} lot={lot} named={packs()} />)}</ul>;

function Listed({ lots, named }) {
  const groups = Object.entries(GROUPS).map(([name, states]) => [name, lots.filter((lot) => states.includes(lot.state))]);
  if (!lots.length) return <p class="notice">{t('lots.none')}</p>;
  return groups.map(([name, those]) => those.length > 0 && <Group key={name} {...{ name, named }} lots={those} open={name !== 'over'} />);
}

const Whose = ({ all, choose }) => (
  <div class="filters" role="group" aria-label={t('lots.whose')}>
    {[true, false].map((one) => (
      <button type="button" class="choice" aria-pressed={all === one} onClick={() => choose(one)}>{t(one ? 'lots.all' : 'lots.mine')}</button>
    ))}
  </div>
);

export function Lots() {
  const [all, setAll] = useState(packs());
  return (
    <>
      <Heading words={t(packs() ? 'lots.title.all' : 'lots.title')} />
      <p><a class="button first wide-button" href="/lots/new">{t('lots.offer')}</a></p>
      {packs() && <Whose all={all} choose={setAll} />}
      <Waiting />
      <Asked path="/api/v1/lots/?page_size=100">
        {({ results }) => <Listed lots={all ? results : results.filter((lot) => isMe(lot.member))} named={packs()} />}
      </Asked>
    </>
  );
}
