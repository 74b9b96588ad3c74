/** A shared bill again, for other weights: what each would pay at most, from what the server said of the split. */
import { exact, times, up } from './exact.js';
import { byWeight, capped } from './split.js';

const grown = (minor, mass, before) => Number(up(times([BigInt(minor), 1n], exact(`${mass}/${before}`))));
const total = (masses) => Math.round(masses.reduce((sum, mass) => sum + mass, 0) * 1000) / 1000;

/**
 * The bill of other weights: with more fish every line grows as if it went by weight, with less none is smaller. What
 * may leap is not reckoned: another carton, and a fare in steps.
 */
function billOf({ final, bill_minor: bill, lines, members }, masses, room) {
  const [before, now] = [total(members.map((row) => row.mass_kg)), total(masses)];
  if (final || now <= before) return { bill };
  if (now - before > room) return { outside: 'room' };
  return lines.some((line) => line.unit === 'step') ? { outside: 'steps' } : { bill: grown(bill, now, before) };
}

/** What other fish costs alone lies between what it costs now and that by the kilogram. */
function capsOf({ alone_minor: alone, mass_kg: before }, mass) {
  if (alone === null || mass === before) return [alone, alone];
  const by_weight = grown(alone, mass, before);
  return by_weight < alone ? [by_weight, alone] : [alone, by_weight];
}

/** Each with the highest of her own caps and the lowest of all others, and a coin for rounding: by any between them nobody pays more. */
function cappedAtMost(masses, bill, caps, coin) {
  const parts = masses.map((_, at) => capped(masses, bill, caps.map(([low, high], other) => (other === at ? high : low)), coin).parts[at]);
  return caps.every(([low, high]) => low === high) ? parts : parts.map((part) => Math.min(part + coin, bill));
}

/** A member does not see what others would pay alone. Where the rule holds now, she pays what she would alone at most, and by weight what it may come to miss. */
const cappedHidden = ({ rules, members, bill_minor: before }, masses, bill, caps, coin) =>
  caps.map(([low, high], at) => {
    if (high === null || !rules.some(({ rule, feasible }) => rule === 'capped' && feasible)) return null;
    const missing = bill - before + members[at].alone_minor - low;
    return Math.min(bill, high + (missing > 0 ? grown(missing, masses[at], total(masses)) + coin : 0));
  });

/**
 * @param {any} split as the server gives it, with a bill @param {number[]} masses kg, above 0, in the order of its members
 * @param {{coin: number, room?: number}} of the smallest coin, minor units; kilograms that the cartons still take
 * @returns {{outside: 'room' | 'steps'} | {bill: number, by_weight: number[], capped: (number | null)[]}} minor units; null where it cannot be told
 */
export function shareAgain(split, masses, { coin, room = 0 }) {
  const { bill, outside } = billOf(split, masses, room);
  if (outside) return { outside };
  const caps = split.members.map((row, at) => capsOf(row, masses[at]));
  const hidden = split.members.some((row) => row.member === null);
  // Several who stand as one are rounded each by herself: a coin may fall to her.
  const by_weight = byWeight(masses, bill, coin).map((part) => (hidden ? Math.min(part + coin, bill) : part));
  return { bill, by_weight, capped: hidden ? cappedHidden(split, masses, bill, caps, coin) : cappedAtMost(masses, bill, caps, coin) };
}
