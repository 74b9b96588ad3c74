/** Said on every screen while the server does not know this phone: what is kept stays. */
import { holding } from '../people.js';
import { t } from '../words.js';
import { Care } from './pictures.jsx';

export const TurnedOut = () =>
  holding.value?.out && (
    <aside class="notice new-version" aria-label={t('out.title')}>
      <Care />
      <div>
        <p><strong>{t('out.title')}</strong></p>
        <p>{t('out.kept')}</p>
        <div class="row"><a class="button first" href="/enrol">{t('enrol.open')}</a></div>
      </div>
    </aside>
  );
