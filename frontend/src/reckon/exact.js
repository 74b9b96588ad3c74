/** Exact numbers as pairs of BigInt, over and under (> 0): money on the phone is never off by a coin. */

/** @typedef {[bigint, bigint]} Exact */

/** @param {string} text such as 0.1, -3 or 1e-7 @returns {Exact} */
function decimal(text) {
  const [, whole, part = '', power = 0] = text.match(/^(-?\d+)(?:\.(\d+))?(?:e([+-]?\d+))?$/);
  const shift = power - part.length;
  const digits = BigInt(whole + part);
  return shift < 0 ? [digits, 10n ** BigInt(-shift)] : [digits * 10n ** BigInt(shift), 1n];
}

/** A number as a person wrote it: 0.1 is a tenth. @param {number | bigint | string} value @returns {Exact} */
export function exact(value) {
  const [[a, b], [c, d]] = `${value}/1`.split('/').map(decimal);
  return [a * d, b * c];
}

/** @param {Exact[]} all @returns {Exact} */
export const times = (...all) => all.reduce(([a, b], [c, d]) => [a * c, b * d]);

/** @returns {Exact} */
export const minus = ([a, b], [c, d]) => [a * d - c * b, b * d];

export const isLess = ([a, b], [c, d]) => a * d < c * b;

/** @returns {bigint} */
export const down = ([a, b]) => a / b - (a % b < 0n ? 1n : 0n);

/** @returns {bigint} */
export const up = ([a, b]) => -down([-a, b]);

/** Of two whole numbers that are as near, the greater. @returns {bigint} */
export const halfUp = ([a, b]) => down([2n * a + b, 2n * b]);

/** To so many decimals as Python rounds a float: exactly, and to the even digit where it lies in the middle. @param {number} value 0 or more @param {number} digits 1 or more */
export function rounded(value, digits) {
  const all = value.toFixed(80);
  const kept = all.slice(0, digits - 80);
  return Number(/^50*$/.test(all.slice(digits - 80)) && kept.at(-1) % 2 === 0 ? kept : value.toFixed(digits));
}
