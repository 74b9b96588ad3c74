/** Why nobody can be taken onto this phone here, and what to do. */
import { canLock } from '../lock.js';
import { t } from '../words.js';
import { Care } from './pictures.jsx';

export const NoLock = () => (
  <div class="notice refused" role="alert">
    <Care />
    <div>
      <p><strong>{t(canLock() ? 'nolock.fleeting' : 'nolock.open')}</strong></p>
      <p>{t(canLock() ? 'nolock.fleeting.do' : 'nolock.open.do')}</p>
    </div>
  </div>
);
