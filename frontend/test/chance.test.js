import { describe, expect, it } from 'vitest';
import { arrange, byVehicle, cheapestSafe, isSafe, timesOf } from '../src/chance.js';
import { departures } from './invented.js';

const asked = new URLSearchParams({ route: 'mpulungu-lusaka', from: '2026-11-25', to: '2026-11-26', mass_kg: '80' });
const { results: slots } = departures(asked, 0);

describe('a chance in words', () => {
  it('is never above the chance itself', () => {
    for (let thousandths = 0; thousandths <= 1000; thousandths += 1) {
      const { times, of } = timesOf(thousandths / 1000);
      expect(times / of).toBeLessThanOrEqual(thousandths / 1000);
    }
  });

  it('gives away less than one time in twenty', () => {
    for (let thousandths = 0; thousandths < 1000; thousandths += 1) {
      const { times, of } = timesOf(thousandths / 1000);
      expect(thousandths / 1000 - times / of).toBeLessThan(0.05 + 1e-12);
    }
  });

  it('reads 0.95 as 19 in 20 and a hair less as 18', () => {
    expect(timesOf(0.95)).toEqual({ times: 19, of: 20 });
    expect(timesOf(0.9499999)).toEqual({ times: 18, of: 20 });
  });

  it('is never certain', () => {
    expect(timesOf(1)).toEqual({ times: 99, of: 100 });
  });
});

describe('safe', () => {
  it('needs the word of the server and the chance that was asked for', () => {
    expect(isSafe({ safe: true, chance_hard: 0.95 }, 0.95)).toBe(true);
    expect(isSafe({ safe: true, chance_hard: 0.949 }, 0.95)).toBe(false);
    expect(isSafe({ safe: false, chance_hard: 0.99 }, 0.95)).toBe(false);
  });

  it('and cheapest is the least a kilogram among the safe ones, of equals the one with most to spare', () => {
    const slot = (cost_per_kg_minor, margin_h, safe = true) => ({ cost_per_kg_minor, margin_h, safe, chance_hard: 0.99 });
    const best = slot(100, 5);
    expect(cheapestSafe([slot(120, 9), slot(100, 2), best, slot(10, 9, false)], 0.95)).toBe(best);
    expect(cheapestSafe([slot(10, 9, false)], 0.95)).toBe(null);
    expect(cheapestSafe([slot(null, 9), best], 0.95)).toBe(best);
  });
});

describe('departures', () => {
  it('of one vehicle and hour stand together, none lost and none twice', () => {
    const groups = byVehicle(slots, 0.95);
    const ids = groups.flatMap(({ lead, others }) => [lead, ...others]).map((slot) => slot.id);
    expect(groups.length).toBe(6);
    expect(ids.sort()).toEqual(slots.map((slot) => slot.id).sort());
  });

  it('are led by a safe carton wherever there is one', () => {
    for (const { lead, others, safe } of byVehicle(slots, 0.95)) {
      expect(safe).toBe([lead, ...others].some((slot) => isSafe(slot, 0.95)));
    }
  });

  it('show no unsafe carton when only safe ones are wanted', () => {
    const groups = arrange(slots, { confidence: 0.95, onlySafe: true, sorting: 'earliest' });
    expect(groups.length).toBeGreaterThan(0);
    expect(groups.flatMap(({ lead, others }) => [lead, ...others]).every((slot) => isSafe(slot, 0.95))).toBe(true);
  });

  it('come by their hour, or by their price with the safe ones first', () => {
    const hours = arrange(slots, { confidence: 0.95, onlySafe: false, sorting: 'earliest' }).map(({ lead }) => lead.departs_at);
    expect(hours).toEqual([...hours].sort());
    const priced = arrange(slots, { confidence: 0.95, onlySafe: false, sorting: 'cheapest' });
    const safe = priced.filter((group) => group.safe).map(({ lead }) => lead.cost_per_kg_minor);
    expect(priced.slice(0, safe.length).every((group) => group.safe)).toBe(true);
    expect(safe).toEqual([...safe].sort((a, b) => a - b));
  });
});
