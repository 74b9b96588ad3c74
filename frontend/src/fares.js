/** What counts from a day on: for each subject its address, what names a row of it, and its figures as they are typed. */
import { speciesName } from './choices.js';
import { weekday } from './format.js';
import { readTyped } from './typed.js';
import { t } from './words.js';
import { placeOf, typedCoin } from './who.js';

/**
 * @typedef {import('./typed.js').FieldSpec & {scale?: number | ((values: any) => number), more?: boolean}} Figure `scale`: what is
 *   typed times this is what the interface has; `more`: it stands in the fold
 *
 * @typedef {Object} Subject
 * @property {boolean} [confirmed] whether somebody asks about it from time to time
 * @property {(row: any) => string} name
 * @property {(row: any) => string} alike equal for rows that follow each other
 * @property {(row: any) => any} given what a change says of the row, besides its figures
 * @property {(lists: any) => Figure[]} [fresh] what says what a new row is about; without it none is made here
 * @property {() => Figure[]} figures
 */

const PERCENT = 0.01;
const CENTIMETRE = 0.01;

const money = (name, called) => ({ name, called, kind: 'money' });
const number = (name, called, more = {}) => ({ name, called, kind: 'number', ...more });
const tape = (name, called, more = {}) => number(name, called, { scale: CENTIMETRE, ...more });
const options = (codes, start) => codes.map((code) => [code, t(`${start}.${code}`)]);
const named = (list) => list.map((one) => [one.slug, one.name]);
const anyOf = (list) => [['', t('fares.any')], ...named(list)];

const way = (row) => `${row.carrier.name}, ${row.route.name}`;
const waysOf = ({ carriers, routes }) => [
  { name: 'carrier', called: 'fares.carrier', kind: 'choice', options: carriers.map((one) => [String(one.id), one.name]) },
  { name: 'route', kind: 'choice', options: named(routes) },
];

const SIDES = ['bottom', 'top', 'left', 'right', 'front', 'back'];
const LIMITS = ['softened_share', 'core_c', 'mean_c', 'warmest_c'];
const CHARGES = ['handling', 'levy', 'papers', 'receiver', 'freezing_energy'];
const BASES = ['consignment', 'carton', 'kilogram'];

const hour = (row) => row.departs_at_local.slice(0, 5);

/** @type {Record<string, Subject>} by the word that stands in the address */
export const SUBJECTS = {
  tariffs: {
    confirmed: true,
    name: way,
    alike: (row) => `${row.carrier.id} ${row.route.slug}`,
    given: (row) => ({ carrier: row.carrier.id, route: row.route.slug }),
    fresh: waysOf,
    figures: () => [{ name: 'rules', kind: 'rules' }],
  },
  timetables: {
    confirmed: true,
    name: (row) => `${way(row)}, ${hour(row)}`,
    alike: (row) => `${row.carrier.id} ${row.route.slug} ${row.departs_at_local}`,
    given: (row) => ({ carrier: row.carrier.id, route: row.route.slug, departs_at_local: hour(row) }),
    fresh: (lists) => [...waysOf(lists), { name: 'departs_at_local', called: 'fares.hour', kind: 'time' }],
    figures: () => [
      { name: 'weekdays', called: 'fares.weekdays', kind: 'days' },
      { name: 'leaves_when_full', called: 'fares.full', kind: 'yes' },
      number('delay_hours_mean', 'fares.delay'),
      number('delay_hours_cv', 'fares.delay_cv', { more: true }),
      number('seats_left', 'fares.seats_left', { optional: true, more: true }),
      number('riders_per_hour', 'fares.riders', { optional: true, more: true }),
    ],
  },
  'fish-prices': {
    confirmed: true,
    name: (row) => speciesName(row.species),
    alike: (row) => row.species.code,
    given: (row) => ({ species: row.species.code }),
    fresh: ({ species }) => [{ name: 'species', kind: 'choice', options: species.map((one) => [one.code, speciesName(one)]) }],
    figures: () => [money('bought_minor_per_kg', 'fares.bought'), money('sold_minor_per_kg', 'fares.sold'), money('soft_minor_per_kg', 'fares.soft')],
  },
  'material-prices': {
    confirmed: true,
    name: (row) => `${row.material.name}, ${t(`unit.${row.material.unit}`, { count: 1 })}`,
    alike: (row) => row.material.slug,
    given: (row) => ({ material: row.material.slug }),
    fresh: ({ materials }) => [{ name: 'material', called: 'fares.material', kind: 'choice', options: named(materials) }],
    figures: () => [money('amount_minor', 'fares.price')],
  },
  charges: {
    confirmed: true,
    name: (row) => [row.name, row.route?.name, row.buyer?.name].filter(Boolean).join(', '),
    alike: (row) => `${row.kind} ${row.name} ${row.route?.slug} ${row.buyer?.slug}`,
    given: (row) => ({ kind: row.kind, name: row.name, route: row.route?.slug ?? null, buyer: row.buyer?.slug ?? null }),
    fresh: ({ routes, buyers }) => [
      { name: 'name', called: 'fares.name', kind: 'text' },
      { name: 'kind', called: 'fares.kind', kind: 'choice', options: options(CHARGES, 'cost.code') },
      { name: 'route', kind: 'choice', optional: true, options: anyOf(routes) },
      { name: 'buyer', kind: 'choice', optional: true, options: anyOf(buyers) },
    ],
    figures: () => [money('amount_minor', 'fares.price'), { name: 'basis', called: 'fares.basis', kind: 'choice', options: options(BASES, 'fares.basis') }],
  },
  'carton-designs': {
    name: (row) => row.name,
    alike: (row) => row.slug,
    given: (row) => ({ slug: row.slug }),
    figures: () => [
      { name: 'name', called: 'fares.name', kind: 'text' },
      tape('outer_length_m', 'fares.length'),
      tape('outer_width_m', 'fares.width'),
      tape('outer_height_m', 'fares.height'),
      ...SIDES.map((side) => tape(`insulation_${side}_m`, `fares.${side}`)),
      tape('board_thickness_m', 'fares.board', { more: true }),
      number('insulation_density_kg_m3', 'fares.packed', { more: true }),
      number('stowage_density_kg_m3', 'fares.stowed', { more: true }),
      number('thin_bag_kg', 'fares.bag', { more: true }),
      number('empty_mass_kg', 'fares.empty', { optional: true, more: true }),
      number('expected_trips', 'fares.trips', { more: true }),
    ],
  },
  terms: {
    confirmed: true,
    name: () => t('fares.subject.terms'),
    alike: () => '',
    given: () => ({}),
    figures: () => [
      number('confidence', 'fares.confidence', { scale: PERCENT }),
      number('softened_share_limit', 'fares.softened', { scale: PERCENT }),
      number('closing_lead_minutes', 'fares.lead'),
      money('labour_price_minor_per_hour', 'fares.labour'),
      number('packing_minutes_per_carton', 'fares.packing'),
      money('electricity_price_minor_per_kwh', 'fares.electricity'),
      number('freezing_kwh_per_kg', 'fares.freezing'),
      number('stale_after_days', 'fares.stale'),
    ],
  },
  'buyer-limits': {
    name: (row) => row.buyer.name,
    alike: (row) => row.buyer.slug,
    given: (row) => ({ buyer: row.buyer.slug }),
    fresh: ({ buyers }) => [{ name: 'buyer', kind: 'choice', options: named(buyers) }],
    figures: () => [
      { name: 'limit_kind', called: 'fares.limit_kind', kind: 'choice', options: options(LIMITS, 'fares.limit') },
      { name: 'limit_value', called: 'fares.limit_value', kind: 'degrees', scale: ({ limit_kind: kind }) => (kind === 'softened_share' ? PERCENT : 1) },
    ],
  },
};

/** Twelve figures are more than anybody types, and fewer than where parts of a whole go wrong. */
const tidy = (value) => Number(value.toPrecision(12));
const scaleOf = ({ scale = 1 }, values) => (typeof scale === 'function' ? scale(values) : scale);

/** A figure as it is typed. @param {Figure} figure @param {any} row */
export function typedFigure(figure, row) {
  const value = row?.[figure.name];
  if (value === null || value === undefined) return '';
  const shapes = {
    money: typedCoin, yes: (truth) => (truth ? 'yes' : 'no'), days: (list) => list.join(), rules: (list) => JSON.stringify(list.map(typedRule)),
  };
  if (['number', 'degrees'].includes(figure.kind)) return String(tidy(value / scaleOf(figure, row))).replace('-', '−');
  return shapes[figure.kind]?.(value) ?? String(value);
}

/** What was typed of the figures, as the interface takes it. @param {Figure[]} figures @param {any} body as it was read */
export function figuresOf(figures, body) {
  const shapes = { days: (text) => text.split(',').map(Number).sort(), rules: (text) => readRules(text).rules };
  const found = { ...body };
  for (const figure of figures) {
    const value = body[figure.name];
    if (figure.scale && value !== null) found[figure.name] = tidy(value * scaleOf(figure, body));
    if (shapes[figure.kind]) found[figure.name] = shapes[figure.kind](value);
    if (figure.kind === 'choice' && value === '') found[figure.name] = null;
  }
  return found;
}

const AMOUNT = money('amount_minor', 'rule.amount');
const LEAST = { ...money('minimum_minor', 'rule.least'), optional: true };
const LEAST_KG = number('minimum_kg', 'rule.least_kg', { optional: true });

/** What each kind of rule says. @type {Record<string, Figure[]>} */
export const RULES = {
  per_carton: [AMOUNT],
  per_kilogram: [AMOUNT, LEAST_KG, LEAST],
  by_step: [{ name: 'steps_per_kilogram', called: 'rule.each', kind: 'yes' }],
  per_seat: [AMOUNT, number('seats_per_carton', 'rule.seats')],
  per_volume: [AMOUNT, LEAST],
  per_volumetric_kilogram: [AMOUNT, number('volumetric_divisor_cm3_per_kg', 'rule.divisor'), LEAST_KG, LEAST],
  return_of_empty: [AMOUNT],
  surcharge: [number('surcharge_share', 'rule.share', { scale: PERCENT, kind: 'degrees' })],
};

export const STEP = [number('from_kg', 'rule.from'), AMOUNT];

const typedAll = (figures, row) => Object.fromEntries(figures.map((figure) => [figure.name, typedFigure(figure, row)]));

/** A least of nothing is none. */
const typedRule = ({ kind, months, steps, ...rule }) => ({
  kind, months, ...typedAll(RULES[kind] ?? [], { ...rule, minimum_minor: rule.minimum_minor || null, minimum_kg: rule.minimum_kg || null }),
  steps: steps.map((step) => typedAll(STEP, step)),
});

export const NEW_STEP = { from_kg: '', amount_minor: '' };
export const NEW_RULE = { kind: 'per_carton', months: [], steps: [{ from_kg: '0', amount_minor: '' }], steps_per_kilogram: 'no' };

/** @param {Figure[]} figures @param {any} typed @param {string} place */
function readPart(figures, typed, place) {
  const { body, faults } = readTyped(figures, typed, placeOf());
  const here = Object.fromEntries(Object.entries(faults).map(([name, fault]) => [`${place}.${name}`, fault]));
  const said = Object.entries(figuresOf(figures, body)).filter(([, value]) => value !== null);
  return { body: Object.fromEntries(said), faults: here };
}

/** Rules as they were typed, and what is wrong with each, by the name that the server has for it. @param {string} text */
export function readRules(text) {
  const faults = {};
  const rules = JSON.parse(text).map((rule, number_) => {
    const place = `rules.${number_}`;
    const read = readPart(RULES[rule.kind], rule, place);
    const steps = rule.kind === 'by_step' ? rule.steps.map((step, at) => readPart(STEP, step, `${place}.steps.${at}`)) : [];
    Object.assign(faults, read.faults, ...steps.map((step) => step.faults));
    return { kind: rule.kind, months: rule.months, ...read.body, steps: steps.map((step) => step.body) };
  });
  return { rules, faults };
}

/** The second of March 2026 was a Monday. @param {number} day 0 is Monday */
export const weekdayName = (day) => weekday(`2026-03-0${day + 2}T00:00`);
