/** Printing on the paper that there is: A4, or the roll of a receipt printer. */
import { printOn } from '../print.js';
import { t } from '../words.js';

export const PrintButtons = () => (
  <div class="row on-screen">
    <button type="button" class="button" onClick={() => printOn('a4')}>{t('print.a4')}</button>
    <button type="button" class="button" onClick={() => printOn('roll')}>{t('print.roll')}</button>
  </div>
);
