/**
 * INVENTED answers in the shape of the interface, for tests of the screens only: no fare, hour, chance or temperature
 * here was worked out or observed. `at` is the hour that the answers pretend it is.
 */

const HOUR_MS = 3_600_000;
const OFFSET = '+02:00';

/** An instant on the clock of the place. @param {number} ms */
export const instant = (ms) => new Date(ms + 2 * HOUR_MS).toISOString().slice(0, 19) + OFFSET;

const place = (code, name) => ({ code, name });
const listed = (results) => ({ count: results.length, next: null, previous: null, results });

export const cooperatives = [
  {
    slug: 'south-end', name: 'Traders of the South End', currency: 'ZMW', currency_decimals: 2, language: 'en',
    time_zone: 'Africa/Lusaka', confidence: 0.95, stale_after_days: 45, is_demo: true,
  },
];

export const routes = [
  { slug: 'mpulungu-kasama', name: 'Mpulungu–Kasama', origin: place('mpulungu', 'Mpulungu'), destination: place('kasama', 'Kasama'), legs: [{ distance_km: 205 }] },
  { slug: 'mpulungu-lusaka', name: 'Mpulungu–Lusaka', origin: place('mpulungu', 'Mpulungu'), destination: place('lusaka', 'Lusaka'), legs: [{ distance_km: 205 }, { distance_km: 850 }] },
];

export const species = [
  { code: 'IRQ', name_en: 'Sleek lates', name_fr: 'Perche élancée', family: 'Latidae', histamine_prone: false },
  { code: 'LTM', name_en: 'Lake Tanganyika sardine', name_fr: 'Sardine du Tanganyika', family: 'Clupeidae', histamine_prone: true },
];

export const buyers = [
  { slug: 'city-market', name: 'City market cold store', place: place('lusaka', 'Lusaka'), limit_kind: 'softened_share', limit_value: 0.05 },
  { slug: 'kasama-hotel', name: 'Hotel kitchen in Kasama', place: place('kasama', 'Kasama'), limit_kind: 'core_c', limit_value: -5 },
];

export const designs = [
  { slug: 'common', name: 'Common carton, 10 cm of shavings', returnable: false, most: 108, hold: 36, price: 3840 },
  { slug: 'small', name: 'Small carton', returnable: false, most: 45, hold: 24, price: 4410 },
  { slug: 'thick', name: 'Thick-walled carton', returnable: false, most: 80, hold: 45, price: 4025 },
  { slug: 'box', name: 'Insulated box, comes back', returnable: true, most: 100, hold: 46, price: 4275 },
];

const timetable = [
  { id: 1, hour: 16, full: false, road: 25, carrier: { id: 1, name: 'Night minibus of the lake road', vehicle: 'minibus', ride: 'roof' } },
  { id: 2, hour: 9, full: true, road: 31, carrier: { id: 2, name: 'Shared taxis, Mbala stand', vehicle: 'shared_taxi', ride: 'cabin' } },
  { id: 3, hour: 19, full: false, road: 44, carrier: { id: 3, name: 'Lorry of the cold store', vehicle: 'lorry', ride: 'hold' } },
];

const named = ({ slug, name, returnable }) => ({ slug, name, returnable });

function slot(asked, day, ride, design) {
  const departs = Date.parse(`${day}T${String(ride.hour).padStart(2, '0')}:00:00${OFFSET}`);
  const closes = departs - 2 * HOUR_MS;
  const margin = design.hold - ride.road - 6;
  const chance = Math.min(0.998, Math.max(0.02, 0.95 + margin / 40));
  const safe = chance >= 0.95;
  const mass = Number(asked.get('mass_kg'));
  const route = routes.find((one) => one.slug === asked.get('route')) ?? routes[1];
  return {
    id: `${ride.id}-${day.replaceAll('-', '')}-${design.slug}`,
    route: { slug: route.slug, name: route.name },
    carrier: ride.carrier, carton_design: named(design), cartons: Math.ceil(mass / design.most), mass_kg: mass,
    departs_at: instant(departs), leaves_when_full: ride.full, closes_at: instant(closes),
    close_no_earlier_than: safe ? instant(closes - margin * HOUR_MS) : null,
    latest_safe_departure_at: safe ? instant(departs + (margin + 0.5) * HOUR_MS) : null,
    safe, chance_hard: Math.floor(chance * 1000) / 1000, expected_softened_share: safe ? 0.004 : 0.09,
    arrives_from: instant(departs + (ride.road - 3) * HOUR_MS),
    arrives_median: instant(departs + ride.road * HOUR_MS),
    arrives_until: instant(departs + (ride.road + 4) * HOUR_MS),
    margin_h: margin, hold_best_h: design.hold * 1.24, hold_cautious_h: design.hold - 0.3, hold_is_at_least: false,
    cost_minor: Math.round(design.price * mass * 0.995), cost_per_kg_minor: design.price + ride.id * 55, sound_kg: mass * 0.995,
    cost_missing: [],
    reason: safe ? null : { code: 'hold_too_short', values: { needed_h: ride.road + 6 }, words: 'The carton does not hold long enough.' },
    rests_on: { trips: 0, insulation_measured: false, weather: 'climate' },
  };
}

const question = (asked) => ({ ...Object.fromEntries(asked), confidence: 0.95, limit: 'softened_share:0.05' });
const coin = { currency: 'ZMW', currency_decimals: 2 };

/** @param {URLSearchParams} asked @param {number} at ms */
export function departures(asked, at) {
  const results = [];
  const wanted = designs.filter((one) => !asked.get('carton_design') || one.slug === asked.get('carton_design'));
  for (let day = Date.parse(asked.get('from')); day <= Date.parse(asked.get('to')); day += 24 * HOUR_MS) {
    const date = new Date(day).toISOString().slice(0, 10);
    results.push(...timetable.flatMap((ride) => wanted.map((design) => slot(asked, date, ride, design))));
  }
  results.sort((a, b) => a.departs_at.localeCompare(b.departs_at));
  return { ...listed(results), question: question(asked), ...coin, worked_out_at: instant(at) };
}

const HOURS = Array.from({ length: 193 }, (_, index) => index / 2);

/** A made-up warming: straight to the melting, then flat. */
function lines(hold) {
  const warming = (end, delay) => HOURS.map((hour) => Math.min(end, -18 + (16 * Math.max(0, hour - delay)) / hold));
  return {
    core_c: warming(-1.6, 6), mean_c: warming(-1.2, 2), warmest_c: warming(0.4, 0),
    softened_share: HOURS.map((hour) => Math.min(1, Math.max(0, (hour - hold + 4) / 80))),
    heat_gained_j: HOURS.map((hour) => hour * 60_000),
  };
}

function nights(closes) {
  const hour = Number(closes.slice(11, 13)) + Number(closes.slice(14, 16)) / 60;
  return [0, 1, 2, 3].map((day) => [18 - hour + 24 * day, 30 - hour + 24 * day]);
}

function curve(of) {
  const road = (Date.parse(of.arrives_median) - Date.parse(of.closes_at)) / HOUR_MS;
  const latest = of.latest_safe_departure_at && (Date.parse(of.latest_safe_departure_at) - Date.parse(of.closes_at)) / HOUR_MS;
  return {
    closes_at: of.closes_at, hours: HOURS, best: lines(of.hold_best_h), cautious: lines(of.hold_cautious_h),
    air_c: HOURS.map((hour) => 22 + 7 * Math.cos((hour / 12) * Math.PI)), top_c: [], side_c: [], bottom_c: [],
    night: nights(of.closes_at),
    limits: [
      { kind: 'softened_share', value: 0.05, hold_best_h: of.hold_best_h, hold_cautious_h: of.hold_cautious_h, chosen: true },
      { kind: 'core_c', value: -5, hold_best_h: of.hold_best_h - 6, hold_cautious_h: of.hold_cautious_h - 6, chosen: false },
    ],
    handover_h: { p10: road - 3, p50: road, p90: road + 4 }, departs_h: 2, latest_departure_h: latest,
  };
}

const STOPS = [
  ['Mpulungu', 0, 780, 29.1, 'wait_sun'], ['Mbala', 40, 1670, 22.4, 'roof'], ['Kasama', 205, 1380, 19.8, 'roof'],
  ['Mpika', 415, 1400, 18.2, 'roof'], ['Serenje', 655, 1390, 21.7, 'roof'], ['Kapiri Mposhi', 850, 1240, 28.9, 'roof'],
  ['Kabwe', 915, 1180, 30.2, 'roof'], ['Lusaka', 1055, 1280, 30.8, 'wait_shade'],
];

function strip(of) {
  const start = Date.parse(of.departs_at);
  const road = (Date.parse(of.arrives_median) - start) / HOUR_MS;
  return STOPS.map(([name, km, altitude_m, air_c, carries], index) => {
    const hours = (road * km) / 1055;
    const last = index === STOPS.length - 1;
    const arrives = instant(start + hours * HOUR_MS);
    const leaves = instant(start + (hours + (index ? 0.5 : 0)) * HOUR_MS);
    return { place: name, km, altitude_m, air_c, carries, hours, arrives_at: index ? arrives : null, leaves_at: last ? null : leaves };
  });
}

const line = (code, name, quantity, unit, rate_minor, priced_on = '2026-11-02') =>
  ({ code, name, quantity, unit, rate_minor, amount_minor: Math.round(quantity * rate_minor), priced_on });

function cost(of) {
  const lines = [
    line('fish', 'Fish', of.mass_kg, 'kg', 2400), line('freezing_energy', 'Freezing', of.mass_kg * 0.4, 'kWh', 120),
    line('material', 'Used carton', 1, 'piece', 4500), line('material', 'Dry shavings', 3, 'sack', 1500),
    line('labour', 'Packing', 0.75, 'h', 2500), line('fare_per_carton', '', 1, 'carton', 35000, '2026-10-19'),
    line('levy', 'Council levy', 1, 'consignment', 2000), line('softening', '', 0.3, 'kg', 1800, null),
  ];
  const total = lines.reduce((sum, one) => sum + one.amount_minor, 0);
  const ladder = Array.from({ length: 30 }, (_, index) => (index + 1) * 10).map((mass_kg) => {
    const cartons = Math.ceil(mass_kg / 108);
    const all = mass_kg * 2600 + cartons * 48_000;
    return { mass_kg, cartons, total_minor: all, per_kg_minor: Math.round(all / mass_kg), break: cartons > Math.ceil((mass_kg - 10) / 108) && mass_kg > 10 };
  });
  return {
    ...coin, lines, total_minor: total, sound_kg: of.sound_kg, per_kg_minor: Math.round(total / of.sound_kg),
    ladder, break_even_kg: 34, confirmed_on: '2026-10-19',
  };
}

function packing(of) {
  const fish = 0.49 * Math.min(1, of.mass_kg / of.cartons / 108);
  const buy = [['Used carton', 1, 'piece', 4500], ['Dry shavings', 3, 'sack', 4500], ['Liner bag', 1, 'piece', 900],
    ['Thin food bag', 16, 'piece', 1600], ['Sisal rope', 9.5, 'm', null]];
  return {
    carton_design: of.carton_design, outer_m: [1, 0.7, 0.7],
    faces_m: { left: 0.1, right: 0.1, front: 0.1, back: 0.1, bottom: 0.1, top: 0.1 }, board_m: 0.005,
    fish_m: [0.79, 0.49, fish], fill_above_m: 0.49 - fish, mass_kg: of.mass_kg, mass_in_one_kg: of.mass_kg / of.cartons,
    capacity_kg: 108, gross_kg: of.mass_kg + 31 * of.cartons, gross_in_one_kg: of.mass_kg / of.cartons + 31,
    insulation: { material: 'shavings', density_kg_m3: 130, volume_m3: 0.3, mass_kg: 39, sacks: 3 },
    ua_w_k: 1.9, atp_k_w_m2_k: 0.7, cartons: of.cartons,
    buy: buy.map(([name, quantity, unit, amount_minor]) => ({ name, quantity, unit, amount_minor, priced_on: amount_minor === null ? null : '2026-11-02' })),
  };
}

/** @param {string} id @param {URLSearchParams} asked */
export function departure(id, asked) {
  const [, ride, digits, design] = id.match(/^(\d+)-(\d{8})-(.+)$/);
  const date = digits.replace(/(\d{4})(\d\d)(\d\d)/, '$1-$2-$3');
  const of = slot(asked, date, timetable.find((one) => one.id === Number(ride)), designs.find((one) => one.slug === design));
  const histamine = species.find((one) => one.code === asked.get('species'))?.histamine_prone ? ['histamine'] : [];
  return {
    ...of, question: question(asked), ...coin, curve: curve(of), chances: [], strip: strip(of), cost: cost(of), packing: packing(of),
    cautions: ['estimate', 'local_rule', 'no_refreeze', 'clean_bags', ...histamine],
  };
}

/** @param {string} id @param {URLSearchParams} asked */
export function reckoning(id, asked) {
  const { departs_at, closes_at } = departure(id, new URLSearchParams([...asked, ['mass_kg', '80'], ['start_temperature_c', '-18']]));
  const rule = { code: 'fare_per_kilogram', amount_minor: 500, minimum_minor: 0, claims: [['gross', '1', 'kg'], ['once', '0', 'kg_at_least']] };
  const bag = { code: 'material', name: 'Thin bag', basis: 'carton', rate_minor: 40, unit: 'piece', by_load: 'thin_bags', whole_units: true };
  return {
    id, departs_at, closes_at, wait_min: 40, confidence: 0.95, cost_missing: [],
    grid: {
      mass_kg: [10, 108], start_c: [-30, -18, -8], hold_min: [600, 400, 120, 2400, 1700, 900],
      log_odds: [350, 320, -300, 700, 500, 200], latest_min: [60, 50, -400, 600, 300, 100], softened: [200, 300, 3000, 0, 100, 800],
    },
    bill: {
      ...coin, drip_share: '53/2000', earned_minor: 2500, old_before: '2026-08-01', lines: [bag, rule],
      softening: { hard_minor: 5500, soft_minor: 2500, priced_on: '2026-11-02' },
      carton: {
        capacity_kg: 108, least_kg: 5.4, places: 2, ladder_kg: [5, 500, 5], height_m: 0.5, floor_m2: 0.4, inside_m3: 0.47,
        insulation_kg_m3: 150, board_kg: 2, empty_kg: null, thin_bag_kg: 2, sack_kg: 8,
      },
    },
  };
}

export const tooMuch = (value) => ({
  error: {
    code: 'invalid', message: 'mass_kg: more than fits.',
    fields: [{ field: 'mass_kg', value, problem: 'more than fits', right: 'at most 108 kg' }],
  },
});

const nowhere = { error: { code: 'not_found', message: 'There is nothing at this address.', fields: [] } };

const LISTS = { cooperatives, routes, species, buyers, 'carton-designs': designs };

/** Status and body for any path of the interface. @param {string} path @param {number} at ms */
export function invented(path, at) {
  const [address, query = ''] = path.split('?');
  const asked = new URLSearchParams(query);
  const [, , , kind, id = '', part] = address.split('/');
  if (kind in LISTS) return [200, listed(LISTS[kind])];
  const [ride, , design] = decodeURIComponent(id).split('-');
  const known = timetable.some((one) => one.id === Number(ride)) && designs.some((one) => one.slug === design);
  if (kind !== 'departures' || (id && !known)) return [404, nowhere];
  if (Number(asked.get('mass_kg')) > 400) return [400, tooMuch(asked.get('mass_kg'))];
  if (part === 'reckoning') return [200, reckoning(decodeURIComponent(id), asked)];
  return [200, id ? departure(decodeURIComponent(id), asked) : departures(asked, at)];
}
