/** The lines that a bill is made of. */
import { t } from '../words.js';
import { coin } from '../who.js';
import { Line } from './cost.jsx';

export const BillLines = ({ lines, total }) => (
  <details class="sewn">
    <summary>{t('cost.lines', { count: lines.length })}</summary>
    <table>
      <tbody>{lines.map((line) => <Line line={line} coin={(minor) => (minor === null ? t('slot.price.none') : coin(minor))} />)}</tbody>
      <tfoot>
        <tr><th scope="row">{t('cost.total')}</th><td class="figure">{coin(total)}</td></tr>
      </tfoot>
    </table>
  </details>
);
