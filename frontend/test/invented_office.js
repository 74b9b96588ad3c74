/** INVENTED quotes, fares and files in the shape of the interface, for tests of the screens only: no price here is anybody's. */
import { buyers, designs, instant, routes, species } from './invented.js';
import { members } from './invented_parcels.js';

const hour = (days, hours) => instant(Date.parse('2026-11-25T00:00:00+02:00') + (days * 24 + hours) * 3_600_000);
const uuid = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`;
const named = ({ slug, name }) => ({ slug, name });
const [agness, , , , joseph] = members.map(({ id, name }) => ({ id, name }));
const [, way] = routes;
const carrier = { id: 1, name: 'Night minibus of the lake road' };

const step = (from_kg, to_kg, price_minor_per_kg) => ({
  from_kg, to_kg, price_minor_per_kg, cartons: 1, cost_minor: Math.round(from_kg * price_minor_per_kg * 0.8), chance_hard: 0.955, from_total_minor: from_kg * price_minor_per_kg,
});

const quote = (number, state, more = {}) => ({
  id: uuid(number), state, supply: {
    id: uuid(number + 50), member: agness, species: { code: 'IRQ', name: 'Sleek lates' }, mass_kg: 60, left_kg: 60, frozen_since: hour(-1, 6), ready_at: hour(0, 6), start_temperature_c: -18,
  },
  buyer: named(buyers[0]), route: named(way), carrier, carton_design: named(designs[0]), departs_at: hour(1, 16), closes_at: hour(1, 15), latest_safe_departure_at: hour(1, 18.5),
  arrives_from: hour(2, 10), arrives_until: hour(2, 15), becomes: 'lot', made_by: joseph, issued_at: hour(0, 6), valid_until: hour(1, 15), valid_until_because: { code: 'closes' },
  language: 'en', profit_kind: 'mark_up', profit_share: 0.25, limit: 'softened_share:0.05', confidence: 0.95, chance_hard: 0.955, softened_share: 0.02, least_kg: 40, most_kg: 60, step_kg: 0.5,
  ladder: [step(40, 49.5, 5200), step(50, 60, 4900)], lines: [{ code: 'fare_per_carton', name: 'Fare, by the carton', amounts_minor: [30_000, 30_000] }],
  currency: 'ZMW', currency_decimals: 2, answered_at: null, accepted_kg: null, accepted_minor: null, answered_by_name: '', note: '', lot: null, parcel: null, revoked_at: null, questions: [], ...more,
});

export const quotes = [
  quote(801, 'issued', { questions: [{ asked_at: hour(0, 7), text: 'Are they gutted?' }] }),
  quote(802, 'accepted', { answered_at: hour(0, 8), accepted_kg: 50, accepted_minor: 245_000, answered_by_name: 'Mrs Phiri', lot: uuid(3) }),
  quote(803, 'revoked', { revoked_at: hour(0, 9) }),
];

export const losing = [{
  quote: quotes[0], kg: 40, loses_minor: 1200, loses_minor_per_kg: 30, missing: '',
  why: [{ code: 'fare_per_carton', name: 'Fare, by the carton', before_minor: 30_000, after_minor: 60_000 }],
}];

export const sent = { quote: quotes[0], address: 'https://fish.invalid/q/secret/', text: 'Sleek lates\nThere Thu 10:00\nhttps://fish.invalid/q/secret/' };

const rule = (kind, more) => ({
  position: 1, kind, amount_minor: 0, minimum_minor: 0, minimum_kg: 0, seats_per_carton: null, volumetric_divisor_cm3_per_kg: null, surcharge_share: null, steps_per_kilogram: false,
  months: [], steps: [], ...more,
});

const tariff = (id, valid_from, valid_until, amount_minor) => ({
  id, carrier, route: named(way), confirmed_on: valid_from, valid_from, valid_until, figures: 'invented', source: 'invented for a test',
  rules: [rule('per_carton', { amount_minor }), rule('surcharge', { surcharge_share: 0.1, months: [12, 1] })],
});

export const tariffs = [
  tariff(1, '2025-01-01', '2026-01-01', 26_000), tariff(2, '2026-01-01', '2099-01-01', 30_000), tariff(3, '2099-01-01', null, 40_000),
  { ...tariff(4, '2026-01-01', null, 0), carrier: { id: 3, name: 'Lorry of the cold store' }, rules: [rule('by_step', { steps: [{ from_kg: 0, amount_minor: 9000 }, { from_kg: 50, amount_minor: 15_000 }] })] },
];

export const tried = {
  departures: [
    { id: '1-20261126-common', departs_at: hour(1, 16), carrier, carton_design: named(designs[0]), before_minor_per_kg: 3840, after_minor_per_kg: 3965 },
    { id: '3-20261126-common', departs_at: hour(1, 19), carrier, carton_design: named(designs[1]), before_minor_per_kg: 4410, after_minor_per_kg: 4410 },
  ],
  quotes: losing,
};

const history = [{
  at: hour(0, 9), by: joseph, subject: 'tariffs', id: 3, name: 'Night minibus, Mpulungu–Lusaka', kind: 'begun', valid_from: '2099-01-01', valid_until: null, note: 'heard at the rank',
  changes: [{ field: 'rules', before: tariffs[1].rules, after: tariffs[2].rules }],
}];

export const differences = {
  dry_run: true, counts: { new: 0, changed: 1, same: 2 },
  differences: [{ line: 'line 2', kind: 'changed', name: 'IRQ, 2026-03-02', changes: [{ field: 'bought_zmw_per_kg', before: '30.00', after: '32.50' }] }],
};

const listed = (results) => ({ count: results.length, next: null, previous: null, results });

/** Status and body for a path of the office; null for other paths. @param {string} path */
export function inventedOffice(path) {
  const [, , , kind, id] = path.split('?')[0].split('/');
  switch (kind) {
    case 'quotes':
      if (id === 'losing') return [200, { quotes: losing }];
      return [200, id ? quotes.find((one) => one.id === id) : listed(quotes)];
    case 'tariffs': return [200, id ? tariffs.find((one) => String(one.id) === id) : listed(tariffs)];
    case 'timetables': return [200, { id: 1, carrier, route: named(way) }];
    case 'carriers': return [200, listed([carrier])];
    case 'materials': return [200, listed([])];
    case 'history': return [200, listed(history)];
    case 'old-prices': return [200, { old_prices: [{ subject: 'tariffs', id: 2, name: 'Night minibus', confirmed_on: '2026-01-01', days: 328 }] }];
    case 'species': return [200, listed(species)];
    default: return null;
  }
}
