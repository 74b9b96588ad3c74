/** A label for each lot: whose fish, how much, for whom; the code leads to the lot. */
import { day, dayAndHour, kilograms } from '../format.js';
import { t } from '../words.js';
import { fishName } from './lot_line.jsx';
import { Qr } from './qr.jsx';

const Label = ({ label }) => (
  <li class="lot-label">
    <p class="label-number">{label.number}</p>
    <p class="label-whose"><strong>{label.member.name}</strong></p>
    <p class="label-fish">{fishName(label.species)} <strong>{kilograms(label.mass_kg)}</strong></p>
    <p>{t('carton.title', { number: label.position })} · {t('list.frozen', { day: day(label.frozen_since.slice(0, 10)) })}</p>
    <p>{label.buyer.name} · {dayAndHour(label.departs_at)}</p>
    <Qr qr={label.qr} words={t('qr.told')} />
  </li>
);

/** @param {{papers: any}} props */
export const Labels = ({ papers }) => (
  <section class="printed" aria-labelledby="labels">
    <h2 id="labels" class="on-screen">{t('papers.labels')}</h2>
    <p class="on-screen">{t('labels.note')}</p>
    <ul class="lot-labels">{papers.labels.map((label) => <Label label={label} />)}</ul>
  </section>
);
