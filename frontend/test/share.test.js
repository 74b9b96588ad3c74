import { describe, expect, it } from 'vitest';
import { byWeight, capped } from '../src/reckon/split.js';
import { shareAgain } from '../src/reckon/share.js';
import splits from './vectors/splits.json';

/** A split as the server gives it, of a case that Python worked out (tests/test_vectors.py). */
const split = ({ masses_kg, alone_minor, bill_minor, feasible }, more = {}) => ({
  final: true, bill_minor, lines: [{ unit: 'kg' }], rules: [{ rule: 'capped', feasible }],
  members: masses_kg.map((mass_kg, at) => ({ member: { id: at + 1 }, mine: at === 0, mass_kg, alone_minor: alone_minor[at] })), ...more,
});

/** The same numbers each time: a small generator of the kind of Lehmer. */
function drawn(seed) {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}

const cases = splits.filter(({ bill_minor, masses_kg }) => bill_minor > 1 && masses_kg.length > 1);
const EVEN = (value) => Math.round(value * 10) / 10 || 0.1;

describe('a bill that is shared again', () => {
  it('by the weights as they are is what Python makes of it, to the coin', () => {
    for (const one of cases) {
      const { bill, by_weight, capped: most } = shareAgain(split(one), one.masses_kg, { coin: one.coin_minor });
      expect([bill, by_weight, most]).toEqual([one.bill_minor, one.by_weight, one.capped]);
    }
  });

  it('tells nobody less than she would pay, whatever the other fish really costs alone between no more and by the kilogram', () => {
    const draw = drawn(7);
    for (const one of cases) {
      const masses = one.masses_kg.map((mass) => (draw() < 0.5 ? mass : EVEN(mass * (0.5 + draw()))));
      const told = shareAgain(split(one), masses, { coin: one.coin_minor });
      const alone = one.alone_minor.map((minor, at) => {
        if (minor === null) return null;
        const ends = [minor, (minor * masses[at]) / one.masses_kg[at]];
        return Math.round(Math.min(...ends) + draw() * Math.abs(ends[0] - ends[1]));
      });
      const { parts } = capped(masses, told.bill, alone, one.coin_minor);
      parts.forEach((part, at) => expect([part <= told.capped[at], one, masses]).toEqual([true, one, masses]));
    }
  });

  it('tells a member who does not see the others no less either', () => {
    const draw = drawn(11);
    for (const one of cases.filter(({ feasible, alone_minor }) => feasible && alone_minor[0] !== null)) {
      const [own] = one.masses_kg;
      const now = EVEN(own * (0.4 + draw() * 1.4));
      const whole = split(one, { final: false });
      const [mine, ...others] = whole.members;
      const rest = { member: null, mass_kg: Math.round(others.reduce((sum, row) => sum + row.mass_kg, 0) * 1000) / 1000, alone_minor: null };
      const told = shareAgain({ ...whole, members: [mine, rest] }, [now, rest.mass_kg], { coin: one.coin_minor, room: 1000 });
      const masses = [now, ...one.masses_kg.slice(1)];
      const ends = [mine.alone_minor, (mine.alone_minor * now) / own];
      const real = one.bill_minor + Math.floor(draw() * (told.bill - one.bill_minor));
      const alone = Math.round(Math.min(...ends) + draw() * Math.abs(ends[0] - ends[1]));
      const { parts } = capped(masses, real, [alone, ...one.alone_minor.slice(1)], one.coin_minor);
      expect([parts[0] <= told.capped[0], one, now]).toEqual([true, one, now]);
      expect(byWeight(masses, real, one.coin_minor)[0]).toBeLessThanOrEqual(told.by_weight[0]);
      expect(told.capped[1]).toBe(null);
    }
  });

  it('grows with the fish as if all of it went by weight while the parcel is open, and never shrinks', () => {
    const open = split({ masses_kg: [20, 30], alone_minor: [4000, 5000], bill_minor: 5001, feasible: true }, { final: false });
    expect(shareAgain(open, [30, 30], { coin: 1, room: 10 }).bill).toBe(6002);
    expect(shareAgain(open, [10, 30], { coin: 1, room: 10 }).bill).toBe(5001);
    expect(shareAgain({ ...open, final: true }, [30, 30], { coin: 1 }).bill).toBe(5001);
  });

  it('says nothing where the bill may leap: another carton, and a fare in steps', () => {
    const open = split({ masses_kg: [20, 30], alone_minor: [4000, 5000], bill_minor: 5001, feasible: true }, { final: false });
    expect(shareAgain(open, [30.1, 30], { coin: 1, room: 10 })).toEqual({ outside: 'room' });
    expect(shareAgain(open, [30, 30], { coin: 1 })).toEqual({ outside: 'room' });
    expect(shareAgain({ ...open, lines: [{ unit: 'step' }] }, [30, 30], { coin: 1, room: 10 })).toEqual({ outside: 'steps' });
  });
});
