/** The curve as a table, for readers aloud and for whoever prefers numbers. */
import { dayAndHour, degrees, hoursLater, percent } from '../format.js';
import { t } from '../words.js';
import { Fold } from './fold.jsx';

const EVERY_H = 3;

/** Rows of the curve every few hours, up to an hour. @returns {number[]} positions in the lists */
export function rowsOf(hours, until) {
  const whole = hours.map((hour, index) => [hour, index]);
  return whole.filter(([hour]) => hour <= until && hour % EVERY_H === 0).map(([, index]) => index);
}

/** A carton is followed until it is soft, not further. */
const known = (shown, figure) => (figure === null ? t('figure.none') : shown(figure));

const Row = ({ slot, kind, index }) => {
  const lines = slot.curve[kind];
  return (
    <tr>
      <th scope="row">{dayAndHour(hoursLater(slot.curve.closes_at, slot.curve.hours[index]))}</th>
      {['core_c', 'mean_c', 'warmest_c'].map((key) => <td class="figure">{known(degrees, lines[key][index])}</td>)}
      <td class="figure">{known(percent, lines.softened_share[index])}</td>
    </tr>
  );
};

const Table = ({ slot, kind, until }) => (
  <div class="wide" tabIndex={0} role="group" aria-label={t(`curve.table.${kind}`)}>
    <table class="small">
      <caption>{t(`curve.table.${kind}`)}</caption>
      <thead>
        <tr>
          {['hour', 'core', 'mean', 'warmest', 'softened'].map((name) => <th scope="col">{t(`curve.column.${name}`)}</th>)}
        </tr>
      </thead>
      <tbody>{rowsOf(slot.curve.hours, until).map((index) => <Row {...{ slot, kind, index }} />)}</tbody>
    </table>
  </div>
);

export const CurveTable = ({ slot, until }) => (
  <Fold words={t('curve.table')}>
    {() => ['cautious', 'best'].map((kind) => <Table key={kind} {...{ slot, kind, until }} />)}
  </Fold>
);
