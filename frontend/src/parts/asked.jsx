/** What stands round an answer that is asked each time: its age, waiting, why there is none. */
import { refresh } from '../answers.js';
import { t } from '../words.js';
import { useNow } from '../now.js';
import { Heading } from './heading.jsx';
import { Age, Problem, StillOld, Waiting } from './states.jsx';

/** @param {{path: string, quiet?: boolean, heading?: (value: any) => string, children: (value: any, again: () => any) => any}} props */
export function Asked({ path, quiet, heading, children }) {
  const answer = useNow(path);
  const again = () => refresh(path);
  if (answer.value) {
    return (
      <>
        {heading && <Heading words={heading(answer.value)} />}
        {!quiet && <Age answer={answer} onAgain={again} seen />}
        {!quiet && <StillOld answer={answer} />}
        {children(answer.value, again)}
      </>
    );
  }
  if (answer.waiting || !answer.problem) return <Waiting rows={3} />;
  return <Problem problem={answer.problem}><button type="button" class="button first" onClick={again}>{t('again')}</button></Problem>;
}
