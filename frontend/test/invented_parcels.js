/**
 * INVENTED lots, parcels and accounts in the shape of the interface, for tests of the screens only: no name, kilogram
 * or coin here belongs to anybody.
 */
import { buyers, designs, instant, routes, species } from './invented.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
export const NOW = Date.parse('2026-11-25T06:00:00+02:00');
const hour = (days, hours) => instant(Date.parse('2026-11-25T00:00:00+02:00') + days * DAY_MS + hours * HOUR_MS);

export const members = ['Agness Namukonda', 'Bwalya Sinkala', 'Chanda Mulenga', 'Esther Sichone', 'Joseph Simfukwe', 'Mary Nakazwe']
  .map((name, index) => ({ id: index + 1, name, role: ['member', 'member', 'member', 'member', 'packer', 'manager'][index], left_on: null }));
const [agness, bwalya, chanda, esther, joseph] = members.map(({ id, name }) => ({ id, name }));

/** @param {any} member */
export const meAs = (member) => ({
  member: { id: member.id, name: member.name, role: member.role },
  cooperative: {
    slug: 'south-end', name: 'Traders of the South End', currency: 'ZMW', currency_decimals: 2, coin_minor: 5, language: 'en',
    time_zone: 'Africa/Lusaka', sharing_rule: 'capped', claims_rule: 'contested',
  },
  phone: { id: '5d6f3f3e-0000-4000-8000-000000000001', name: 'blue phone' },
});

const uuid = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`;
const named = ({ slug, name }) => ({ slug, name });
const [, way] = routes;
const [buyer] = buyers;
const fish = ({ code, name_en: name }) => ({ code, name });

const lot = (number, member, mass_kg, state, more = {}) => ({
  id: uuid(number), member, route: named(way), buyer: named(buyer), species: fish(species[0]), mass_kg,
  frozen_since: hour(-1, 19), ready_at: hour(0, 5), start_temperature_c: -18, deliver_by: null, may_be_split: false,
  offered_at: hour(0, 5), withdrawn_at: null, note: '', state, placed_kg: state === 'offered' ? 0 : mass_kg,
  left_kg: state === 'offered' ? mass_kg : 0, parcels: [], ...more,
});

const inParcel = (number, state, mass_kg) => ({ parcels: [{ id: uuid(number), state, departs_at: hour(0, 16), mass_kg }] });

export const lots = [
  lot(1, agness, 20, 'placed', inParcel(101, 'open', 20)),
  lot(2, bwalya, 35, 'placed', inParcel(101, 'open', 35)),
  lot(3, agness, 12.5, 'offered', { species: fish(species[1]), may_be_split: true }),
  lot(4, chanda, 45, 'offered', { note: 'two bags' }),
  lot(5, agness, 30, 'settled', inParcel(102, 'settled', 30)),
  lot(6, agness, 24, 'called_off', inParcel(106, 'called_off', 24)),
];

const part = (of, mine) => ({ lot: of.id, member: of.member, species: of.species, mass_kg: of.mass_kg, mine });

const carrier = { id: 1, name: 'Night minibus of the lake road', vehicle: 'minibus', ride: 'roof' };

function parcel(number, state, asked, more = {}) {
  const parts = lots.slice(0, 2).map((one) => part(one, one.member.id === asked));
  const mine = parts.filter((one) => one.mine).reduce((sum, one) => sum + one.mass_kg, 0);
  const closed = state === 'open' ? null : hour(0, 14);
  const mass_kg = 55;
  return {
    id: uuid(number), state, route: named(way), buyer: named(buyer), carrier, carton_design: named(designs[0]), timetable: 1,
    departs_at: hour(0, 16), closes_at: hour(0, 14), departure: '1-20261125-common', opened_by: joseph,
    cartons: [{
      position: 1, capacity_kg: 108, mass_kg, room_kg: closed ? 0 : 53, closed_at: closed, gross_mass_kg: closed ? 98.4 : null, safe: true,
      chance_hard: 0.982, latest_safe_departure_at: hour(0, 18.5), reason: null, parts,
    }],
    mass_kg, room_kg: closed ? 0 : 53, members: 2, cost_minor: 74_310, cost_per_kg_minor: 1352, sharing_rule: closed ? 'capped' : '',
    mine: mine ? { mass_kg: mine, share_minor: 27_025, alone_minor: 48_200 } : null, closed_at: closed, departed_at: null, driver: '', plate: '',
    handed_over: null, settled_at: null, called_off: null, ...more,
  };
}

const handedOver = {
  departed_at: hour(-3, 16.4), driver: 'Mr Kaunda', plate: 'ABZ 1234',
  handed_over: { arrived_at: hour(-2, 11), at: hour(-2, 13), is_hard: false, soft_kg: 4, core_temperature_c: -6, received_by: 'Store keeper', note: '' },
};

/** @param {any} asked id of whoever asks */
export const parcels = (asked) => [
  parcel(101, 'open', asked),
  parcel(103, 'closed', asked, { departs_at: hour(1, 16) }),
  parcel(104, 'departed', asked, { departed_at: hour(0, 2), departs_at: hour(0, 1) }),
  parcel(105, 'handed_over', asked, { ...handedOver, departs_at: hour(-3, 16) }),
  parcel(102, 'settled', asked, { ...handedOver, departs_at: hour(-6, 16), settled_at: hour(-4, 9) }),
  parcel(106, 'called_off', asked, {
    departs_at: hour(-1, 16), called_off: { at: hour(-1, 19), note: 'The minibus did not come.' }, cost_minor: 0, cost_per_kg_minor: null,
  }),
];

const RULES = {
  by_weight: [27_020, 47_290], capped: [27_025, 47_285], equal: [37_155, 37_155], serial: [33_000, 41_310], shapley: [31_125, 43_185], nucleolus: [32_000, 42_310],
};

const line = (code, name, quantity, unit, rate_minor) => ({ code, name, quantity, unit, rate_minor, amount_minor: quantity * rate_minor, priced_on: '2026-11-02' });

/** @param {any} asked id of whoever asks @param {boolean} all whether she sees everybody's */
export function split(asked, all) {
  const rows = [
    { member: agness, mine: asked === 1, mass_kg: 20, alone_minor: 48_200 },
    { member: bwalya, mine: asked === 2, mass_kg: 35, alone_minor: 56_900 },
  ];
  const members_ = all ? rows : [...rows.filter((row) => row.mine), { member: null, name: 'others', count: 1, mine: false, mass_kg: 35, alone_minor: null }];
  return {
    state: 'open', bill_minor: 74_310, missing: [], rule: 'capped', final: false, players: 2, sampled: false, core_is_empty: false, members: members_,
    lines: [line('fare_per_carton', '', 1, 'carton', 35_000), line('material', 'Used carton', 1, 'piece', 4500), line('labour', 'Packing', 2, 'h', 17_405)],
    rules: Object.entries(RULES).map(([rule, shares]) => ({
      rule, feasible: true, better_alone: [], words: '',
      shares: members_.map(({ member }) => ({ member: member?.id ?? null, amount_minor: member ? shares[member.id - 1] : 74_310 - shares[asked - 1] })),
      objection: rule === 'equal' && all ? { members: ['Agness Namukonda'], gain_minor: 955 } : null,
    })),
  };
}

const entry = (number, kind, amount_minor, more = {}) => ({
  id: uuid(200 + number), kind, amount_minor, noted_on: '2026-11-2' + number, parcel: null, claim: null, corrects: null, corrected: false, note: '', written_by: joseph, ...more,
});

export const account = (member) => ({
  member: { id: member.id, name: member.name }, balance_minor: member.id === 1 ? 11_250 : member.id === 2 ? -4300 : 0,
  owes: member.id === 1, is_owed: member.id === 2,
  entries: [
    entry(4, 'payment', -15_000, { note: 'cash' }), entry(3, 'share', 27_025, { parcel: uuid(102) }),
    entry(2, 'claim', -775, { claim: uuid(301) }), entry(1, 'correction', -100, { corrects: uuid(299), note: 'typed twice' }),
  ],
});

export const claims = [
  {
    id: uuid(301), parcel: uuid(102), kind: 'softened', state: 'shared', raised_by: agness, raised_at: hour(-4, 10), note: 'four kilograms at the top', estate_minor: 3000, rule: 'contested',
    parts: [{ member: agness, claimed_minor: 2000, awarded_minor: 775 }, { member: bwalya, claimed_minor: 4000, awarded_minor: 2225 }],
  },
  { id: uuid(302), parcel: uuid(105), kind: 'short_payment', state: 'raised', raised_by: bwalya, raised_at: hour(-1, 10), note: '', estate_minor: null, rule: '', parts: [{ member: bwalya, claimed_minor: 6000, awarded_minor: null }] },
];

export const plan = {
  id: uuid(401), asked_at: hour(0, 6), route: named(way), buyer: named(buyer), from: '2026-11-25', to: '2026-11-28', cost_minor: 74_310, cost_per_kg_minor: 743,
  bound_minor: 74_310, gap: 0, accepted_at: null, stale: false,
  cartons: [{
    departure: '1-20261125-common', departs_at: hour(0, 16), closes_at: hour(0, 14), carrier, carton_design: named(designs[0]), mass_kg: 100, capacity_kg: 108, cost_minor: 74_310,
    chance_hard: 0.982, parts: [part(lots[0]), part(lots[1]), part(lots[3])],
  }],
  left_behind: [{ lot: uuid(9), member: esther, mass_kg: 28, code: 'no_room', values: {}, words: 'No vehicle has room for it.' }],
};

const qr = { size: 33, path: 'M4 4h7v1h-7zM13 4h3v1h-3zM4 5h1v1h-1zM10 5h1v1h-1zM4 10h7v1h-7z' };

export function papers(of) {
  const parts = of.cartons.flatMap(({ position, parts: those }) => those.map((one, index) => ({ ...one, position, number: index + 1 })));
  return {
    waybill: {
      parcel: of.id, state: of.state, cooperative: 'Traders of the South End', route: of.route, carrier: of.carrier, departs_at: of.departs_at, latest_safe_departure_at: hour(0, 18.5),
      driver: 'Mr Kaunda', plate: 'ABZ 1234', buyer: { ...of.buyer, place: 'Lusaka' },
      cartons: of.cartons.map((one) => ({ position: one.position, gross_mass_kg: one.gross_mass_kg, mass_kg: one.mass_kg, species: [fish(species[0])] })),
      cartons_count: of.cartons.length, gross_mass_kg: 98.4, mass_kg: of.mass_kg,
    },
    packing_list: of.cartons.map((one) => ({ position: one.position, parts: parts.map((each) => ({ ...each, label: each.number, frozen_since: hour(-1, 19) })) })),
    labels: parts.map((each) => ({ ...each, frozen_since: hour(-1, 19), departs_at: of.departs_at, buyer: of.buyer, qr })),
    cautions: ['estimate', 'local_rule', 'no_refreeze', 'clean_bags'],
  };
}

const oneWay = (name, cost_minor, more) => ({
  way: name, available: true, cost_minor, cost_per_kg_minor: Math.ceil(cost_minor / 12.5), chance_hard: 0.982, safe: true, departs_at: hour(0, 16), closes_at: hour(0, 14),
  arrives_from: hour(1, 14), arrives_until: hour(1, 21), departure: '1-20261125-common', parcel: null, carton_design: named(designs[0]), cartons: 1, members: 1,
  kg_missing: null, filled_cost_per_kg_minor: null, storage_minor: null, quality_minor: null, reason: null, words: '', ...more,
});

export const ways = {
  question: { mass_kg: 12.5, start_temperature_c: -18, species: 'LTM', buyer: 'city-market', route: 'mpulungu-lusaka' }, currency: 'ZMW', currency_decimals: 2, best: 'share',
  ways: [
    oneWay('alone', 48_200), oneWay('share', 17_000, { parcel: uuid(101), members: 2, departure: null }),
    oneWay('wait', 41_000, { departs_at: hour(3, 16), arrives_from: hour(4, 14), arrives_until: hour(4, 21), kg_missing: 95.5, filled_cost_per_kg_minor: 760, storage_minor: 420, quality_minor: 60 }),
  ],
};

export const noRoom = {
  error: {
    code: 'no_room', message: 'There is room for 8 kg only. The next departure is that of Night minibus, 2026-11-26 16:00.',
    fields: [
      { field: 'mass_kg', value: '12.5', problem: 'is more than the 8 kg that are left', right: 'at most 8 kg here, or another departure' },
      { field: 'parcel', value: uuid(103), problem: 'is the next parcel that has room', right: '2026-11-26 16:00, Night minibus' },
    ],
  },
};

const listed = (results) => ({ count: results.length, next: null, previous: null, results });
const nowhere = { error: { code: 'not_found', message: 'There is nothing at this address.', fields: [] } };
const found = (list, id) => {
  const one = list.find((each) => String(each.id) === id);
  return one ? [200, one] : [404, nowhere];
};

/** Status and body for any path about lots, parcels and money, asked by a member; null for other paths. */
export function inventedFor(asker, path) {
  const [, , , kind, id, more] = path.split('?')[0].split('/');
  const packs = asker.role !== 'member';
  const own = (list) => list.filter((one) => packs || one.member.id === asker.id);
  const those = parcels(asker.id);
  switch (kind) {
    case 'me': return [200, meAs(asker)];
    case 'members': return [200, listed(members)];
    case 'lots': return id ? found(lots, id) : [200, listed(own(lots))];
    case 'parcels':
      if (more === 'split') return [200, split(asker.id, packs)];
      if (more === 'papers') return [200, papers(those.find((one) => one.id === id))];
      return id ? found(those, id) : [200, listed(those)];
    case 'ways': return [200, ways];
    case 'plans': return [200, plan];
    case 'statement': return [200, account(asker)];
    case 'statements': return id ? [200, account(members.find((one) => String(one.id) === id))] : [200, listed(members.map((one) => account(one)))];
    case 'claims': return id ? found(claims, id) : [200, listed(claims)];
    default: return null;
  }
}
