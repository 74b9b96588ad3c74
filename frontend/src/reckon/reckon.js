/** One departure again, for other fish: what the server would say, never on the hopeful side of it. */
import { hoursLater } from '../format.js';
import { costOf, ladderOf } from './bill.js';
import { readGrid } from './grid.js';

const FIVE = 5;

/** The instant some minutes after another, down to five minutes of the clock as the server gives it. @param {string} instant @param {number} count */
function minutesLater(instant, count) {
  const over = Number(instant.slice(14, 16)) + count;
  return hoursLater(instant, (Math.floor(over / FIVE) * FIVE - Number(instant.slice(14, 16))) / 60);
}

/**
 * @param {any} reckoning of a departure, as the server gives it @param {number} mass kg @param {number} start °C
 * @returns {any} as readGrid, with the instants and the cost; `ladder` works out that of other weights
 */
export function reckon(reckoning, mass, start) {
  const found = readGrid(reckoning, mass, start);
  if (found.outside) return found;
  const { bill, closes_at, departs_at, cost_missing } = reckoning;
  return {
    ...found,
    departs_at,
    latest_safe_departure_at: minutesLater(closes_at, found.latest_min),
    cost: cost_missing.length ? null : costOf(bill, mass, found.cartons, found.soft),
    ladder: () => ladderOf(bill, found.soft),
  };
}
