/** In the demonstration anybody may look as one of its invented people. */
import { useAnswer } from '../answers.js';
import { t } from '../words.js';
import { HolderLine } from './holder_line.jsx';

/** @param {{onChoose: (member: {id: number, name: string}) => void}} props */
export function LookAs({ onChoose }) {
  const { value } = useAnswer('/api/v1/demonstration/');
  if (!value?.people) return null;
  return (
    <section class="sewn" aria-labelledby="look">
      <h2 id="look">{t('look.title')}</h2>
      <p>{t('look.explain')}</p>
      <ul class="holders">
        {value.people.map((one) => <HolderLine key={one.id} holder={one} onChoose={() => onChoose(one)} />)}
      </ul>
    </section>
  );
}
