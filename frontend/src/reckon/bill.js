/** The bill of any weight, from what the server says that it rests on: the same lines, to the coin. */
import { down, exact, halfUp, isLess, minus, rounded, times, up } from './exact.js';

/**
 * @typedef {Object} BillTerms as `bill` of a departure's reckoning has them
 * @property {Record<string, any>} carton geometry, with the same floats as the server's
 * @property {Record<string, any>[]} lines items and rules of fare, in the order of the bill
 * @property {{hard_minor: number, soft_minor: number | null, priced_on: string | null} | null} softening
 * @property {string} drip_share of what softens
 * @property {number | null} earned_minor that a kilogram sells for above what it was bought for
 * @property {string} old_before day before which a price is old
 */

const ONE = [1n, 1n];
// A sack that is full to a billionth is one sack.
const ROUND_OFF = 1e-9;
const pieces = (amount, each) => Math.ceil(amount / each - ROUND_OFF);

/** The fewest cartons that hold so many kilograms. @param {number} mass @param {number} capacity */
export const cartonsFor = (mass, capacity) => {
  const [a, b] = exact(capacity);
  return Number(up(times(exact(mass), [b, a])));
};

/** What one carton weighs and takes that depends on its load. @param {number} mass kg in one carton */
export function loaded(carton, mass) {
  const volume = carton.inside_m3 - carton.floor_m2 * (carton.height_m * (mass / carton.capacity_kg));
  const insulation = volume * carton.insulation_kg_m3;
  return {
    gross: exact(rounded(carton.empty_kg === null ? mass + insulation + carton.board_kg : mass + carton.empty_kg, 3)),
    insulation_kg: rounded(insulation, 3),
    insulation_m3: rounded(volume, 4),
    sacks: carton.sack_kg && pieces(insulation, carton.sack_kg),
    thin_bags: pieces(mass, carton.thin_bag_kg),
  };
}

/** The share of something that one trip uses up: one over the trips that it makes on average. */
function usedUp({ trips, loss_chance }) {
  if (!trips) return ONE;
  const [lost, of] = exact(loss_chance);
  if (!lost) return [1n, BigInt(trips)];
  const [n, d] = minus(ONE, [(of - lost) ** BigInt(trips), of ** BigInt(trips)]);
  return [lost * d, of * n];
}

function itemLine(term, load, counts) {
  const quantity = exact(term.by_load ? load[term.by_load] : term.quantity);
  const [count, used] = [counts[term.basis], usedUp(term)];
  const amount = term.whole_units ? times([up(times(quantity, count)), 1n], used) : times(quantity, used, count);
  return [amount, term.unit, term.rate_minor];
}

/** Quantity, unit and rate of a rule of fare; null where nothing is charged for. */
function ruleLine({ steps, claims, whole_kilograms, ...rule }, gross, counts) {
  let [amount, unit, rate] = [ONE, 'step', rule.amount_minor];
  if (steps) {
    rate = [...steps].reverse().find(([from]) => !isLess(gross, exact(from)))[1];
    if (rule.per_kilogram) [amount, unit] = [gross, 'kg'];
  } else {
    const all = claims.map(([what, each, called]) => [times(exact(each), what === 'gross' ? gross : counts[what]), called]);
    if (whole_kilograms) for (const one of all) one[0] = [up(one[0]), 1n];
    [amount, unit] = all.reduce((most, one) => (isLess(most[0], one[0]) ? one : most));
  }
  if (!amount[0]) return null;
  return isLess(times(amount, exact(rate)), exact(rule.minimum_minor)) ? [ONE, 'minimum', rule.minimum_minor] : [amount, unit, rate];
}

const lineOf = (terms, { code, name = '', priced_on = null }, [amount, unit, rate]) => ({
  code,
  name,
  unit,
  amount_minor: Number(halfUp(times(amount, exact(rate)))),
  quantity: Number(amount[0]) / Number(amount[1]),
  rate_minor: rate,
  priced_on,
  is_old: priced_on !== null && priced_on < terms.old_before,
});

const isFare = (term) => 'amount_minor' in term;
const sum = (lines) => lines.reduce((total, line) => total + line.amount_minor, 0);

/** Shares on top are of the sum of all other fares, wherever those stand on the bill. */
function linesOf(terms, load, counts) {
  const gross = times(load.gross, counts.carton);
  const plain = terms.lines.map((term) => {
    if (term.share) return null;
    const found = isFare(term) ? ruleLine(term, gross, counts) : itemLine(term, load, counts);
    return found && lineOf(terms, term, found);
  });
  const base = sum(plain.filter((line, at) => line && isFare(terms.lines[at])));
  return terms.lines.map((term, at) => (term.share ? lineOf(terms, term, [exact(term.share), 'share', base]) : plain[at])).filter(Boolean);
}

/**
 * @param {BillTerms} terms @param {number} mass kg @param {number} cartons
 * @param {number} soft ten thousandths of the fish that are expected to soften
 * @returns as `cost` of the server's answers, without the ladder
 */
export function costOf(terms, mass, cartons, soft) {
  const counts = { once: ONE, consignment: ONE, carton: [BigInt(cartons), 1n], kilogram: exact(mass) };
  const lines = linesOf(terms, loaded(terms.carton, mass / cartons), counts);
  const share = [BigInt(soft), 10_000n];
  const { hard_minor: hard, soft_minor: low = null, priced_on } = terms.softening ?? {};
  const drip = low === null ? ONE : exact(terms.drip_share);
  if (low !== null && soft) {
    const kept = times(share, minus(ONE, drip), counts.kilogram);
    lines.push(lineOf(terms, { code: 'softening', priced_on }, [kept, 'kg', hard - low]));
  }
  const sound = times(counts.kilogram, minus(ONE, times(share, drip)));
  const total = sum(lines);
  return {
    lines,
    cartons,
    mass_kg: mass,
    total_minor: total,
    sound_kg: Number(down(times(sound, [100n, 1n]))) / 100,
    per_kg_minor: sound[0] ? Number(up([BigInt(total) * sound[1], sound[0]])) : null,
    confirmed_on: lines.map((line) => line.priced_on).filter(Boolean).sort()[0] ?? null,
    old_prices: lines.filter((line) => line.is_old).length,
  };
}

/** How a bill charges, without how much: where it changes, a step of the ladder breaks. */
const wayOf = ({ cartons, lines }) => JSON.stringify([cartons, lines.map(({ code, name, unit, rate_minor }) => [code, name, unit, unit === 'share' || rate_minor])]);

/** The cost of one weight after the other up to what the vehicle holds, and the lightest that pays. @param {BillTerms} terms @param {number} soft as `costOf` */
export function ladderOf(terms, soft) {
  const { carton, earned_minor: earned } = terms;
  const [first, last, step] = carton.ladder_kg;
  const ladder = [];
  let before = null;
  for (let kg = first; kg <= last; kg += step) {
    if (kg < carton.least_kg || kg > carton.capacity_kg * carton.places) continue;
    const cost = costOf(terms, kg, cartonsFor(kg, carton.capacity_kg), soft);
    const way = wayOf(cost);
    ladder.push({ mass_kg: kg, cartons: cost.cartons, total_minor: cost.total_minor, per_kg_minor: cost.per_kg_minor, break: before !== null && way !== before });
    before = way;
  }
  const pays = ladder.find((rung) => earned !== null && rung.per_kg_minor !== null && rung.per_kg_minor <= earned);
  return { ladder, break_even_kg: pays?.mass_kg ?? null };
}
