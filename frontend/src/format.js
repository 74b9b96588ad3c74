/** The only file that shapes numbers, hours and money for people. */
import { catalogue, language, t } from './words.js';

// English of the world: 24 hours, day before month. Chromium's Intl knows no Malagasy, whose digits are as in English.
const LOCALES = { en: 'en-001', mg: 'en-001' };
const locale = () => LOCALES[language.value] ?? language.value;

const shapes = new Map();

/** Formatters are slow to make on a cheap phone, so each is made once. */
function shape(Kind, place, options) {
  const key = Kind.name + place + JSON.stringify(options);
  if (!shapes.has(key)) shapes.set(key, new Kind(place, options));
  return shapes.get(key);
}

/** @param {number} value @param {Intl.NumberFormatOptions} [options] */
const number = (value, options = {}) =>
  shape(Intl.NumberFormat, locale(), options).format(value).replace(/^-/, '−');

/** The clock of the place where it happens, whatever zone the phone is set to; to the minute, downwards. */
const wall = (instant) => new Date(`${instant.slice(0, 16)}:00Z`);

/** What Intl does not know of the language stands in its catalogue. */
const ownNames = () => catalogue.value?.intl;

/** @param {Date} date @param {Intl.DateTimeFormatOptions} options */
function dated(date, options) {
  const own = ownNames();
  if (!own || options.hour) return shape(Intl.DateTimeFormat, locale(), { ...options, timeZone: 'UTC' }).format(date);
  return [
    own.weekday[options.weekday]?.[date.getUTCDay()],
    options.day && date.getUTCDate(),
    own.month[options.month]?.[date.getUTCMonth()],
    options.year && date.getUTCFullYear(),
  ].filter(Boolean).join(' ');
}

const HOUR = { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };

/**
 * What people write for a coin where it is at home, in whatever language: CLDR's symbol in a language of that country
 * (`tests/api/test_coins.py` holds it; api/coins.py is the same table). Any other coin is named by its code.
 */
const COINS = {
  ZMW: 'K', MGA: 'Ar', TZS: 'TSh', KES: 'Ksh', UGX: 'USh', RWF: 'RF', BIF: 'FBu', CDF: 'FC', MWK: 'MK', MZN: 'MTn', KMF: 'CF', XOF: 'F\u202fCFA', XAF: 'FCFA',
  USD: '$', EUR: '€',
};

/** Each language's own place for the coin, as CLDR has it. */
function withCoin(digits, coin) {
  if (language.value === 'fr') return `${digits}\u00a0${coin}`;
  return coin + (language.value === 'en' ? '' : '\u00a0') + digits;
}

/** CLDR shows no part of an ariary, and nor do we where there is none. */
const decimalsOf = (minor, currency, decimals) => (currency === 'MGA' && minor % 10 ** decimals === 0 ? 0 : decimals);

/**
 * Whole minor units as money. The digits are placed as text: no amount passes through a fraction.
 *
 * @param {number} minor @param {string} currency ISO 4217 @param {number} decimals
 */
export function money(minor, currency, decimals) {
  const digits = String(Math.abs(minor)).padStart(decimals + 1, '0');
  const cut = digits.length - decimals;
  const amount = `${digits.slice(0, cut)}${decimals ? `.${digits.slice(cut)}` : ''}`;
  const shown = decimalsOf(minor, currency, decimals);
  const text = number(amount, { minimumFractionDigits: shown, maximumFractionDigits: shown });
  return (minor < 0 ? '−' : '') + withCoin(text, COINS[currency] ?? currency);
}

/** @param {number} kg */
export const kilograms = (kg) => number(kg, { style: 'unit', unit: 'kilogram', maximumFractionDigits: 1 });

/** @param {number} celsius */
export const degrees = (celsius, digits = 1) =>
  number(celsius, { style: 'unit', unit: 'celsius', maximumFractionDigits: digits });

/** Swahili has long names for lengths; the narrow ones are what stands on a tape. */
const length = (value, unit, digits = 0) =>
  number(value, { style: 'unit', unit, unitDisplay: language.value === 'sw' ? 'narrow' : 'short', maximumFractionDigits: digits });

/** Whole ones, as a tape is read. @param {number} metres */
export const tape = (metres) => length(metres * 100, 'centimeter');

/** @param {number} metres */
export const centimetres = (metres) => length(metres * 100, 'centimeter', 1);

/** @param {number} km */
export const kilometres = (km) => length(km, 'kilometer');

/** @param {number} metres */
export const altitude = (metres) => length(metres, 'meter');

/** Small parts keep three figures, since they may be parts of something dear. @param {number} value */
export const plain = (value, digits = 2) =>
  number(value, Math.abs(value) < 1 && digits ? { maximumSignificantDigits: 3 } : { maximumFractionDigits: digits });

/** A share in percent; what is small but not nothing never reads as nothing. @param {number} share 0…1 */
export function percent(share) {
  const small = share > 0 && share < 0.001;
  const text = number(small ? 0.001 : share, { style: 'percent', maximumFractionDigits: share < 0.1 ? 1 : 0 });
  return small ? t('less.than', { value: text }) : text;
}

/** @param {number} halves */
function halfHours(halves) {
  const own = ownNames();
  if (own) return own.hours.replace('{0}', number(halves / 2));
  return number(halves / 2, { style: 'unit', unit: 'hour', unitDisplay: 'long', maximumFractionDigits: 1 });
}

/** Hours downwards to the half: what holds 35.9 h is never said to hold 36. @param {number} hours */
export const hoursDown = (hours) => halfHours(Math.floor(hours * 2));

/** Hours upwards to the half: for what a journey may need. @param {number} hours */
export const hoursUp = (hours) => halfHours(Math.ceil(hours * 2));

/** @param {string} instant ISO 8601 with its offset */
export const hourOfDay = (instant) => dated(wall(instant), HOUR);

/** @param {string} instant */
export const dayAndHour = (instant) => `${weekday(instant)} ${hourOfDay(instant)}`;

/** @param {string} instant */
export const weekday = (instant) => dated(wall(instant), { weekday: 'short' });

/** @param {string} instant */
export const longDay = (instant) => dated(wall(instant), { weekday: 'long', day: 'numeric', month: 'long' });

/** @param {number} month 1 to 12 */
export const monthName = (month) => dated(new Date(Date.UTC(2000, month - 1)), { month: 'short' });

/** @param {string} date YYYY-MM-DD */
export const day = (date) => dated(new Date(`${date}T00:00:00Z`), { weekday: 'short', day: 'numeric', month: 'short' });

/** @param {string} date YYYY-MM-DD */
export const dayWithYear = (date) =>
  dated(new Date(`${date}T00:00:00Z`), { day: 'numeric', month: 'short', year: 'numeric' });

/** @param {string} from YYYY-MM-DD @param {string} until YYYY-MM-DD */
export function days(from, until) {
  if (from === until) return day(from);
  const [first, last] = [new Date(from), new Date(until)];
  const options = { day: 'numeric', month: 'short' };
  if (!ownNames()) return shape(Intl.DateTimeFormat, locale(), { ...options, timeZone: 'UTC' }).formatRange(first, last);
  const month = from.slice(0, 7) !== until.slice(0, 7) && 'short';
  return `${dated(first, { ...options, month })} – ${dated(last, options)}`;
}

/** "Tue 10:00–15:00", with both days where they differ, or one hour. @param {string} from @param {string} until */
export function hourRange(from, until) {
  if (dayAndHour(from) === dayAndHour(until) && from.slice(0, 10) === until.slice(0, 10)) return dayAndHour(from);
  const oneDay = from.slice(0, 10) === until.slice(0, 10);
  return oneDay ? `${dayAndHour(from)}–${hourOfDay(until)}` : `${dayAndHour(from)} – ${dayAndHour(until)}`;
}

const STEPS = [['day', 86_400], ['hour', 3_600], ['minute', 60]];

/** "3 hours ago". @param {number} since ms @param {number} now ms */
export function age(since, now = Date.now()) {
  const seconds = Math.max(0, (now - since) / 1000);
  const [unit, length] = STEPS.find(([, size]) => seconds >= size) ?? STEPS[2];
  const count = Math.floor(seconds / length);
  if (seconds < 60) return t('age.now');
  const own = ownNames();
  if (!own) return shape(Intl.RelativeTimeFormat, locale(), { numeric: 'auto' }).format(-count, unit);
  return unit === 'day' && count === 1 ? own.yesterday : own.ago[unit].replace('{0}', number(count));
}

/** The date at a place, now. @param {string} [timeZone] @returns {string} YYYY-MM-DD */
export const todayIn = (timeZone, now = new Date()) => shape(Intl.DateTimeFormat, 'en-CA', { timeZone }).format(now);

/** @param {string} date YYYY-MM-DD @param {number} count */
export const daysLater = (date, count) =>
  new Date(Date.parse(`${date}T00:00:00Z`) + count * 86_400_000).toISOString().slice(0, 10);

/** The instant some hours after another, on the clock of the same place. @param {string} instant @param {number} count h */
export function hoursLater(instant, count) {
  const offset = instant.match(/([+-]\d\d:\d\d|Z)$/)?.[0] ?? 'Z';
  const moved = new Date(wall(instant).getTime() + Math.round(count * 3_600_000));
  return moved.toISOString().slice(0, 19) + offset;
}

/** The clock at a place, now, as a form has it. @param {string} [timeZone] @returns {string} YYYY-MM-DDTHH:MM */
export function clockIn(timeZone, now = new Date()) {
  const parts = shape(Intl.DateTimeFormat, 'sv-SE', { timeZone, dateStyle: 'short', timeStyle: 'short' });
  return parts.format(now).replace(' ', 'T');
}

/** An instant of a form, whose hours are those of the place. @param {string} typed YYYY-MM-DDTHH:MM @returns {string | null} */
export function instantAt(typed, timeZone) {
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d/.test(typed)) return null;
  const wanted = Date.parse(`${typed.slice(0, 16)}:00Z`);
  let found = wanted;
  // Twice: the first guess may lie on the other side of a change of clocks.
  for (let guess = 0; guess < 2; guess += 1) found += wanted - Date.parse(`${clockIn(timeZone, new Date(found))}:00Z`);
  return new Date(found).toISOString();
}

/** What is left to wait, as a clock counts it down: upwards to the second. @param {number} ms */
export function countdown(ms) {
  const seconds = Math.ceil(ms / 1000);
  return `${plain(Math.floor(seconds / 60), 0)}:${String(seconds % 60).padStart(2, '0')}`;
}

/** An instant on the clock of a place: the server gives some of them by its own. @param {string} instant @param {string} [timeZone] */
export const instantIn = (instant, timeZone) => clockIn(timeZone, new Date(instant));
