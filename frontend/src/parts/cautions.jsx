/** What every answer must be read with. */
import { t } from '../words.js';

export const ALWAYS = ['estimate', 'local_rule', 'no_refreeze', 'clean_bags'];

/** @param {{codes: string[]}} props codes of the API; one that has no words is left to newer screens */
export const Cautions = ({ codes }) => (
  <section class="sewn" aria-labelledby="cautions">
    <h2 id="cautions">{t('caution.title')}</h2>
    <ul class="cautions">
      {codes.map((code) => <li>{t(`caution.${code}`)}</li>)}
    </ul>
  </section>
);

/** @param {boolean} histamine whether the species belongs to a family that can carry histamine */
export const usualCautions = (histamine) => (histamine ? [...ALWAYS, 'histamine'] : ALWAYS);
