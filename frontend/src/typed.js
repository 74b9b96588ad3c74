/** What was typed into a form, turned into what the server takes; texts that mean nothing are faults. */
import { instantAt } from './format.js';
import { typedNumber } from './question.js';

/**
 * @typedef {Object} FieldSpec
 * @property {string} name
 * @property {'text' | 'number' | 'degrees' | 'money' | 'hour' | 'day' | 'since' | 'time' | 'choice' | 'yes' | 'password'} kind
 * @property {string} [called] by which the catalogue names it, where another field has the same name
 * @property {boolean} [optional] may be left empty
 * @property {[string, string][]} [options] of a choice: value and words
 * @property {string} [start] what stands in it at first
 */

/** @typedef {{decimals: number, zone: string}} Place the decimals of its coin, and its clock */

/**
 * Money as people write it, as whole minor units; the digits are read as text, no amount passes through a fraction.
 *
 * @param {string} text @param {number} decimals
 */
export function typedMoney(text, decimals) {
  const found = text.replace(/[\s\u00a0\u202f]/g, '').match(/^(\d+)(?:[.,](\d*))?$/);
  if (!found || (found[2] ?? '').length > decimals) return NaN;
  return Number(found[1] + (found[2] ?? '').padEnd(decimals, '0'));
}

const READ = {
  number: typedNumber,
  degrees: typedNumber,
  money: (text, { decimals }) => typedMoney(text, decimals),
  hour: (text, { zone }) => instantAt(text, zone),
  // From the first minute of that day.
  since: (text, { zone }) => instantAt(`${text}T00:00`, zone),
  yes: (text) => text === 'yes',
  // Every letter of it counts, blanks at its ends too.
  password: (text) => text,
};

const NOTHING = { text: '', choice: '' };
const FAULTS = { number: 'fault.number', degrees: 'fault.number', money: 'fault.money', hour: 'fault.hour', since: 'fault.hour' };

/** @param {FieldSpec} field @param {string} text @param {Place} place @returns {{value?: any, fault?: string}} */
function readOne({ kind, optional }, text, place) {
  if (!text.trim()) return optional ? { value: NOTHING[kind] ?? null } : { fault: 'fault.blank' };
  const value = READ[kind] ? READ[kind](text, place) : text.trim();
  return value === null || Number.isNaN(value) ? { fault: FAULTS[kind] } : { value };
}

/** @param {FieldSpec[]} fields @param {Record<string, string>} draft @param {Place} place */
export function readTyped(fields, draft, place) {
  const body = {};
  const faults = {};
  for (const field of fields) {
    const { value, fault } = readOne(field, draft[field.name] ?? '', place);
    if (fault) faults[field.name] = fault;
    else body[field.name] = value;
  }
  return { body, faults };
}

/** @param {FieldSpec[]} fields */
export const startOf = (fields) => Object.fromEntries(fields.map(({ name, start = '' }) => [name, start]));
