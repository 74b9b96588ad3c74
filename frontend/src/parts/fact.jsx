/** A name and its figure in one line of a list. */
import { t } from '../words.js';

export const Fact = ({ name, children }) => (
  <div class="fact">
    <dt>{t(name)}</dt>
    <dd>{children}</dd>
  </div>
);
