import { describe, expect, test } from 'vitest';
import bills from './vectors/bills.json';
import grids from './vectors/grids.json';
import splits from './vectors/splits.json';
import { costOf, ladderOf } from '../src/reckon/bill.js';
import { exact, rounded } from '../src/reckon/exact.js';
import { readGrid } from '../src/reckon/grid.js';
import { reckon } from '../src/reckon/reckon.js';
import { byWeight, capped, largestRemainder } from '../src/reckon/split.js';

const shown = ({ total_minor, per_kg_minor, sound_kg, old_prices, lines }) => ({
  total_minor,
  per_kg_minor,
  sound_kg,
  old_prices,
  lines: lines.map(({ code, amount_minor, unit, rate_minor }) => [code, amount_minor, unit, rate_minor]),
});

describe('the phone and Python say the same', () => {
  test('of many cases', () => {
    expect([bills.length, grids.length, splits.length]).toEqual([16, 6, 400]);
  });

  test.each(bills.map((one, at) => [at, one]))('bills of trade %i, to the coin', (_, { terms, asked, answers }) => {
    expect(asked.map(([mass, cartons, soft]) => shown(costOf(terms, mass, cartons, soft)))).toEqual(answers);
  });

  test.each(bills.map((one, at) => [at, one]))('the price ladder of trade %i', (_, { terms, ladder, pays_from_kg }) => {
    const found = ladderOf(terms, 123);
    expect(found.ladder.map((rung) => [rung.mass_kg, rung.cartons, rung.total_minor, rung.per_kg_minor, rung.break])).toEqual(ladder);
    expect(found.break_even_kg).toBe(pays_from_kg);
  });

  test.each(grids.map((one, at) => [at, one]))('what is read from grid %i, to the minute', (_, { reckoning, asked, answers }) => {
    expect(asked.map(([mass, start]) => readGrid(reckoning, mass, start))).toEqual(answers);
  });

  test('splits by weight and capped at alone, to the coin', () => {
    const found = splits.map((one) => ({
      by_weight: byWeight(one.masses_kg, one.bill_minor, one.coin_minor),
      ...capped(one.masses_kg, one.bill_minor, one.alone_minor, one.coin_minor),
    }));
    expect(found).toEqual(splits.map((one) => ({ by_weight: one.by_weight, parts: one.capped, feasible: one.feasible })));
  });
});

describe('exact numbers', () => {
  test('a decimal is the number that a person wrote', () => {
    expect(exact(0.1)).toEqual([1n, 10n]);
    expect(exact(-2.5)).toEqual([-25n, 10n]);
    expect(exact('7/12')).toEqual([7n, 12n]);
    expect(exact(1e-7)).toEqual([1n, 10_000_000n]);
  });

  test('a float in the middle is rounded to the even digit, as IEEE 754 and Python have it', () => {
    expect([rounded(0.0625, 3), rounded(0.1875, 3), rounded(2.5, 1), rounded(0.25, 1), rounded(2.675, 2)]).toEqual([0.062, 0.188, 2.5, 0.2, 2.67]);
  });

  // The worked example of the project’s reference values, §7.
  test('seats by largest remainder', () => {
    expect(largestRemainder([47000, 16000, 15800, 12000, 6100, 3100].map(exact), 10, 1)).toEqual([5, 2, 1, 1, 1, 0]);
  });
});

describe('the giving-up hour', () => {
  const of = (closes_at, latest) => {
    const grid = { mass_kg: [10, 20], start_c: [-20, -10], hold_min: [9, 9, 9, 9], log_odds: [500, 500, 500, 500], latest_min: Array(4).fill(latest), softened: [0, 0, 0, 0] };
    const bill = { carton: { capacity_kg: 20, places: 1 } };
    return reckon({ grid, bill, closes_at, departs_at: closes_at, confidence: 0.95, wait_min: 0, cost_missing: ['fare'] }, 15, -15);
  };

  test('is told down to five minutes of the clock, as the server tells it', () => {
    expect(of('2026-03-02T15:20:00+02:00', 295).latest_safe_departure_at).toBe('2026-03-02T20:15:00+02:00');
    expect(of('2026-03-02T15:20:00+02:00', 299).latest_safe_departure_at).toBe('2026-03-02T20:15:00+02:00');
    expect(of('2026-03-02T23:53:00+02:00', 6).latest_safe_departure_at).toBe('2026-03-02T23:55:00+02:00');
    expect(of('2026-03-02T23:53:00+02:00', 13).latest_safe_departure_at).toBe('2026-03-03T00:05:00+02:00');
  });

  test('comes without a cost where a price is missing', () => {
    expect(of('2026-03-02T15:20:00+02:00', 295).cost).toBe(null);
  });
});
