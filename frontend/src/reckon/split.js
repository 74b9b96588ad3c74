/** A bill shared by weight, or by weight and never above what each would pay alone; to the coin. */
import { down, exact, isLess, minus, times } from './exact.js';

/** @typedef {import('./exact.js').Exact} Exact */

const whole = (value) => [BigInt(value), 1n];
const plus = ([a, b], [c, d]) => [a * d + c * b, b * d];
const total = (all) => all.reduce(plus, [0n, 1n]);
const over = (one, [a, b]) => times(one, [b, a]);
const least = (one, other) => (isLess(other, one) ? other : one);

// Remainders that differ by less than a millionth of a minor unit are equal.
const FINE = [1_000_000n, 1n];

/** The nearest whole number, the even one of two that are as near. @param {Exact} value */
function evenly(value) {
  const low = down(value);
  const twice = times(minus(value, [low, 1n]), [2n, 1n]);
  const above = isLess([1n, 1n], twice) || (twice[0] === twice[1] && low % 2n !== 0n);
  return above ? low + 1n : low;
}

/** Adds what is left to those that miss most of their quota first: a coin each, or all that fits. */
function handOut(parts, left, { quotas, limits, coin }) {
  const missing = parts.map((part, at) => evenly(times(minus(quotas[at], [part, 1n]), FINE)));
  const order = parts.map((_, at) => at).sort((a, b) => (missing[a] === missing[b] ? a - b : missing[a] > missing[b] ? -1 : 1));
  for (const at of order) {
    const spare = limits[at] === null ? left : limits[at] - parts[at];
    const room = spare < left ? spare : left;
    const more = coin ? (room >= coin ? coin : 0n) : room;
    parts[at] += more;
    left -= more;
  }
  return left;
}

/**
 * Shares scaled to the bill and rounded down; coins that are left go to the largest remainders.
 *
 * @param {Exact[]} shares @param {number} bill minor units @param {number} coin the smallest in use, minor units
 * @param {(number | null)[]} [atMost] minor units that no part may exceed
 * @returns {number[]}
 */
export function largestRemainder(shares, bill, coin, atMost = shares.map(() => null)) {
  const [asked, step] = [total(shares), BigInt(coin)];
  const quotas = shares.map((share) => (bill ? over(times(share, whole(bill)), asked) : [0n, 1n]));
  const limits = atMost.map((most) => (most === null ? null : BigInt(most)));
  const parts = quotas.map((quota, at) => {
    const part = down(over(quota, [step, 1n])) * step;
    return limits[at] !== null && limits[at] < part ? limits[at] : part;
  });
  let left = BigInt(bill) - parts.reduce((sum, part) => sum + part, 0n);
  while (left >= step && parts.some((part, at) => limits[at] === null || limits[at] - part >= step)) {
    left = handOut(parts, left, { quotas, limits, coin: step });
  }
  handOut(parts, left, { quotas, limits });
  return parts.map(Number);
}

/** @param {number[]} masses kg @param {number} bill minor units */
export const byWeight = (masses, bill, coin) => largestRemainder(masses.map(exact), bill, coin);

/** The first whose cap is not reached at the price that is left for it and those after it sets one price a kilogram. */
function filled(masses, bill, alone) {
  const order = masses.map((_, at) => at).filter((at) => alone[at]).sort((a, b) => {
    const [one, other] = [over(alone[a], masses[a]), over(alone[b], masses[b])];
    return isLess(one, other) ? -1 : isLess(other, one) ? 1 : a - b;
  });
  order.push(...masses.map((_, at) => at).filter((at) => !alone[at]));
  let [money, weight] = [whole(bill), total(masses)];
  let price;
  for (const at of order) {
    price = over(money, weight);
    if (!alone[at] || !isLess(alone[at], times(price, masses[at]))) break;
    money = minus(money, alone[at]);
    weight = minus(weight, masses[at]);
  }
  return masses.map((mass, at) => (alone[at] ? least(alone[at], times(price, mass)) : times(price, mass)));
}

/**
 * By weight, but nobody's part above what going alone would cost; where that cannot be, all pay alone and what is
 * missing by weight.
 *
 * @param {number[]} masses kg @param {number} bill minor units @param {(number | null)[]} alone minor units; null for who has no way
 * @returns {{parts: number[], feasible: boolean}}
 */
export function capped(masses, bill, alone, coin) {
  const exactly = masses.map(exact);
  const caps = alone.map((cap) => (cap === null ? null : whole(cap)));
  const missing = caps.includes(null) ? [0n, 1n] : minus(whole(bill), total(caps));
  if (missing[0] <= 0n) return { parts: largestRemainder(filled(exactly, bill, caps), bill, coin, alone), feasible: true };
  const each = over(missing, total(exactly));
  const shares = caps.map((cap, at) => plus(cap, times(each, exactly[at])));
  return { parts: largestRemainder(shares, bill, coin), feasible: false };
}
