/** What the numbers rest on, plainly. */
import { t } from '../words.js';

export const RestsOn = ({ slot }) => (
  <section class="sewn" aria-labelledby="rests">
    <h2 id="rests">{t('rests.title')}</h2>
    <ul class="cautions">
      <li>{t('rests.trips', { count: slot.rests_on.trips })}</li>
      <li>{t(slot.rests_on.insulation_measured ? 'rests.insulation.measured' : 'rests.insulation.table')}</li>
      <li>{t(`rests.weather.${slot.rests_on.weather}`)}</li>
    </ul>
  </section>
);
