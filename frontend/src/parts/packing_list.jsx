/** Which lot lies in which carton: what whoever packs ticks off. */
import { day, dayAndHour, kilograms } from '../format.js';
import { t } from '../words.js';
import { fishName } from './lot_line.jsx';

const Part = ({ part }) => (
  <tr>
    <td><span class="tick-box" aria-hidden="true" /> {part.label}</td>
    <th scope="row">
      {part.member.name}
      <span class="quiet basis">{fishName(part.species)} · {t('list.frozen', { day: day(part.frozen_since.slice(0, 10)) })}</span>
    </th>
    <td class="figure">{kilograms(part.mass_kg)}</td>
  </tr>
);

const InCarton = ({ carton }) => (
  <table>
    <caption>{t('carton.title', { number: carton.position })}</caption>
    <thead>
      <tr><th scope="col">{t('list.label')}</th><th scope="col">{t('list.whose')}</th><th scope="col" class="figure">{t('list.mass')}</th></tr>
    </thead>
    <tbody>{carton.parts.map((part) => <Part part={part} />)}</tbody>
  </table>
);

/** @param {{papers: any}} props */
export const PackingList = ({ papers }) => (
  <section class="printed" aria-labelledby="packing-list">
    <h2 id="packing-list">{t('papers.packing_list')}</h2>
    <p>{dayAndHour(papers.waybill.departs_at)} · {papers.waybill.carrier.name} · {papers.waybill.buyer.name}</p>
    {papers.packing_list.map((carton) => <InCarton carton={carton} />)}
  </section>
);
