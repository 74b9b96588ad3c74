/** The question in one line; touching it opens the sheet. */
import { speciesName } from '../choices.js';
import { days, degrees, kilograms } from '../format.js';
import { typedNumber } from '../question.js';
import { t } from '../words.js';

const named = (list, slug) => list.find((one) => one.slug === slug)?.name ?? slug;

export function questionWords(asked, choices) {
  const species = choices.species.find((one) => one.code === asked.species);
  return {
    mass: kilograms(typedNumber(asked.mass_kg)),
    start: degrees(typedNumber(asked.start_temperature_c)),
    species: speciesName(species),
    route: named(choices.routes, asked.route),
    buyer: named(choices.buyers, asked.buyer),
    days: days(asked.from, asked.to),
    carton: asked.carton_design ? named(choices.designs, asked.carton_design) : t('carton.any'),
  };
}

export const QuestionLine = ({ asked, choices, onChange }) => (
  <button type="button" class="question" onClick={onChange}>
    <span class="question-words">
      <strong>{t('question.fish', questionWords(asked, choices))}</strong>
      <span>{t('question.way', questionWords(asked, choices))}</span>
    </span>
    <span class="question-change">{t('question.change')}</span>
  </button>
);
