/** Paper for the road: the waybill for the driver, the packing list, a label for each lot. */
import { useState } from 'preact/hooks';
import { t } from '../words.js';
import { Asked } from '../parts/asked.jsx';
import { Cautions } from '../parts/cautions.jsx';
import { Heading } from '../parts/heading.jsx';
import { Labels } from '../parts/labels.jsx';
import { PackingList } from '../parts/packing_list.jsx';
import { PrintButtons } from '../parts/print_buttons.jsx';
import { Waybill } from '../parts/waybill.jsx';
import '../style/papers.css';

const PAPERS = { waybill: Waybill, packing_list: PackingList, labels: Labels };

/** Only what is on the screen is printed. */
const Choose = ({ shown, choose }) => (
  <div class="filters on-screen" role="group" aria-label={t('papers.title')}>
    {Object.keys(PAPERS).map((name) => (
      <button type="button" class="choice" aria-pressed={shown === name} onClick={() => choose(name)}>{t(`papers.${name}`)}</button>
    ))}
  </div>
);

function Shown({ papers }) {
  const [shown, choose] = useState('waybill');
  const Paper = PAPERS[shown];
  return (
    <>
      <Choose shown={shown} choose={choose} />
      <PrintButtons />
      <Paper papers={papers} />
      {shown !== 'labels' && <Cautions codes={papers.cautions} />}
    </>
  );
}

/** @param {{id: string}} props of the parcel */
export const Papers = ({ id }) => (
  <>
    <a class="back" href={`/parcels/${id}`}>{t('parcel.back')}</a>
    <div class="on-screen"><Heading words={t('papers.title')} /></div>
    <Asked path={`/api/v1/parcels/${id}/papers/`}>{(papers) => <Shown papers={papers} />}</Asked>
  </>
);
