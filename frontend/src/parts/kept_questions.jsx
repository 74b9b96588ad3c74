/** Questions whose departures are on this phone: one touch brings them back. */
import { useEffect, useState } from 'preact/hooks';
import { age } from '../format.js';
import { askedBy, isDepartures, remember } from '../question.js';
import { listKept } from '../answers.js';
import { t } from '../words.js';
import { questionWords } from './question_line.jsx';

export function KeptQuestions({ choices }) {
  const [kept, setKept] = useState([]);
  useEffect(() => {
    listKept().then((all) => setKept(all.filter((one) => isDepartures(one.path))));
  }, []);
  if (!kept.length) return null;
  return (
    <section class="sewn">
      <h2>{t('kept.questions')}</h2>
      <ul class="kept">
        {kept.slice(0, 8).map((one) => (
          <li key={one.path}>
            <button type="button" class="kept-question" onClick={() => remember(askedBy(one.path))}>
              <strong>{t('question.fish', questionWords(askedBy(one.path), choices))}</strong>
              <span>{t('question.way', questionWords(askedBy(one.path), choices))}</span>
              <span class="quiet">{t('age.worked', { age: age(one.kept_at) })}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
