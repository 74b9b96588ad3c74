/** Hold, chance and giving-up hour of other fish, read between the nodes that the server worked out. */
import { cartonsFor } from './bill.js';

/**
 * @typedef {Object} Grid whole numbers of nodes, load by load and in each from cold to warm, already on the careful side
 * @property {number[]} mass_kg in one carton, rising
 * @property {number[]} start_c rising
 * @property {number[]} hold_min @property {number[]} log_odds @property {number[]} latest_min @property {number[]} softened
 */

/** Kilograms in one carton, down to the gram: nodes lie a gram apart where the hold leaps. The millionth is lost to binary fractions. */
const inOne = (mass, cartons) => Math.floor((mass / cartons) * 1000 + 1e-6) / 1000;

/** Which nodes a value lies between and how far; null outside. @param {number[]} nodes @returns {[number, number] | null} */
function between(nodes, value) {
  let at = nodes.length - 2;
  if (!(value >= nodes[0] && value <= nodes[at + 1])) return null;
  while (nodes[at] > value) at -= 1;
  return [at, (value - nodes[at]) / (nodes[at + 1] - nodes[at])];
}

const outside = (nodes, value, below, above) => (value < nodes[0] ? below : above);

/** The odds against it. @param {number} hundredths of the logarithm of the odds for it */
const against = (hundredths) => Math.exp(-hundredths / 100);

/** A cell: by straight lines between its corners, or the lowest of those that have a say. */
function cell(width, [row, down], [column, right]) {
  const [low, high] = [row * width + column, (row + 1) * width + column];
  const weighs = (share) => (_, at) => (at ? share : 1 - share) > 0;
  const corners = [low, high].filter(weighs(down)).flatMap((at) => [at, at + 1].filter(weighs(right)));
  const line = (figures, at) => figures[at] + right * (figures[at + 1] - figures[at]);
  return {
    read: (figures) => line(figures, low) + down * (line(figures, high) - line(figures, low)),
    lowest: (figures) => Math.min(...corners.map((at) => figures[at])),
  };
}

/**
 * What a departure means for so much fish of such a temperature.
 *
 * @param {any} reckoning as the server gives it @param {number} mass kg @param {number} start °C
 * @returns {{outside: string} | {cartons: number, hold_min: number, chance_hard: number, latest_min: number, soft: number, safe: boolean}}
 *   outside: 'lighter', 'heavier', 'colder', 'warmer' or 'nothing', where this phone cannot say
 */
export function readGrid({ grid, bill: { carton }, confidence, wait_min: wait }, mass, start) {
  if (!grid) return { outside: 'nothing' };
  const cartons = cartonsFor(mass, carton.capacity_kg);
  const each = inOne(mass, cartons);
  const [load, warmth] = [between(grid.mass_kg, each), between(grid.start_c, start)];
  if (cartons > carton.places) return { outside: 'heavier' };
  if (!load) return { outside: outside(grid.mass_kg, each, 'lighter', 'heavier') };
  if (!warmth) return { outside: outside(grid.start_c, start, 'colder', 'warmer') };
  const { read, lowest } = cell(grid.start_c.length, load, warmth);
  // Straight lines of the odds against it lie below those of the chance and of its logarithm, whichever it follows.
  const chance = Math.floor(1000 / (1 + read(grid.log_odds.map(against)))) / 1000;
  // The door of the buyer shuts for the night: there the giving-up hour leaps, and straight lines would hope too much.
  const latest = lowest(grid.latest_min);
  return {
    cartons,
    hold_min: Math.floor(read(grid.hold_min)),
    chance_hard: chance,
    latest_min: latest,
    soft: Math.min(10_000, Math.ceil(read(grid.softened))),
    safe: chance >= confidence && latest >= wait,
  };
}
