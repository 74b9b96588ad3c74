/** What is asked: kept as it was typed, turned into a path here. */
import { effect, signal } from '@preact/signals';
import { daysLater, todayIn } from './format.js';
import { who } from './people.js';
import { readSetting, writeSetting } from './store.js';

/**
 * @typedef {Object} Question everything as text, the way it was typed
 * @property {string} mass_kg
 * @property {string} start_temperature_c
 * @property {string} species ASFIS code
 * @property {string} route slug
 * @property {string} buyer slug
 * @property {string} carton_design slug, or empty for any
 * @property {string} from YYYY-MM-DD
 * @property {string} to YYYY-MM-DD
 */

/** @type {import('@preact/signals').Signal<Question | null>} */
export const question = signal(null);

/** Each holder of the phone has her own last question. */
const place = () => (who.value ? `${who.value}/question` : 'question');

effect(() => {
  who.value;
  question.value = null;
});

const FIRST_MASS_KG = '80';
const FIRST_START_C = '-18';
const FIRST_DAYS = 4;
const ABOUT_ONE_CARTON = ['species', 'mass_kg', 'start_temperature_c', 'buyer'];

/** A number as people type it: comma or point, the long minus too. @param {string} text */
export const typedNumber = (text) => Number(text.trim().replace('−', '-').replace(',', '.') || NaN);

/** @typedef {import('./choices.js').Choices} Choices */

const NAMES = [...ABOUT_ONE_CARTON, 'route', 'carton_design', 'from', 'to'];

const known = (wanted, list, key) => (list.some((one) => one[key] === wanted) ? wanted : list[0]?.[key] ?? '');

const length = (route) => route.legs.reduce((sum, leg) => sum + leg.distance_km, 0);

/** On the longest road the answer matters most, so that one is asked about first. */
const longestFirst = (routes) => [...routes].sort((a, b) => length(b) - length(a));

/** What was asked last, as far as it still exists; days that are past move on to today. @param {Choices} choices */
export function startingQuestion(last, choices, today) {
  const route = known(last?.route, longestFirst(choices.routes), 'slug');
  const range = last ? Math.max(0, (Date.parse(last.to) - Date.parse(last.from)) / 86_400_000) : FIRST_DAYS - 1;
  const from = last && last.from >= today ? last.from : today;
  const design = choices.designs.some((one) => one.slug === last?.carton_design) ? last.carton_design : '';
  return {
    mass_kg: last?.mass_kg ?? FIRST_MASS_KG,
    start_temperature_c: last?.start_temperature_c ?? FIRST_START_C,
    species: known(last?.species, choices.species, 'code'),
    route,
    buyer: known(last?.buyer, choices.buyersOn(route), 'slug'),
    carton_design: design,
    from,
    to: daysLater(from, range),
  };
}

/** @param {Choices} choices */
export async function startQuestion(choices) {
  const whose = place();
  const last = await readSetting(whose);
  if (whose === place()) question.value = startingQuestion(last, choices, todayIn(choices.cooperative?.time_zone));
}

/** @param {Question} asked */
export async function remember(asked) {
  question.value = asked;
  await writeSetting(place(), asked);
}

/** Faults that need no server: a text that is no number, days the wrong way round. @returns {Record<string, string>} keys of words */
export function faultsOf(asked) {
  const faults = {};
  for (const name of ['mass_kg', 'start_temperature_c']) {
    if (Number.isNaN(typedNumber(asked[name]))) faults[name] = 'fault.number';
  }
  if (asked.to < asked.from) faults.to = 'fault.days';
  return faults;
}

const NUMBERS = new Set(['mass_kg', 'start_temperature_c']);

function query(asked, names) {
  const given = names.filter((name) => asked[name]);
  return new URLSearchParams(given.map((name) => [name, NUMBERS.has(name) ? typedNumber(asked[name]) : asked[name]]));
}

/** @param {Question} asked */
export const departuresPath = (asked) =>
  `/api/v1/departures/?${query(asked, ['route', 'from', 'to', 'carton_design', ...ABOUT_ONE_CARTON])}&page_size=100`;

/** @param {string} id @param {Question} asked */
export const departurePath = (id, asked) =>
  `/api/v1/departures/${encodeURIComponent(id)}/?${query(asked, ABOUT_ONE_CARTON)}`;

/** What a phone needs to work that departure out by itself, whatever the fish weighs. @param {string} id @param {Question} asked */
export const reckoningPath = (id, asked) =>
  `/api/v1/departures/${encodeURIComponent(id)}/reckoning/?${query(asked, ['species', 'buyer'])}`;

/** The address of a screen about one carton; it carries its question, so that it can be kept and sent. */
export const screenOf = (screen, id, asked) =>
  `/${screen}/${encodeURIComponent(id)}?${query(asked, ABOUT_ONE_CARTON)}`;

/** The question of such an address, filled up from the last one. @param {Record<string, string>} given */
export const questionOf = (given) => ({
  ...question.value,
  ...Object.fromEntries(ABOUT_ONE_CARTON.filter((name) => given[name]).map((name) => [name, given[name]])),
});

/** @param {string} path */
export const isDepartures = (path) => path.startsWith('/api/v1/departures/?');

/** The question that a path was made from. @param {string} path @returns {Question} */
export function askedBy(path) {
  const given = new URLSearchParams(path.split('?')[1]);
  return Object.fromEntries(NAMES.map((name) => [name, given.get(name) ?? '']));
}
