import { beforeEach, describe, expect, it } from 'vitest';
import { RULES, SUBJECTS, figuresOf, readRules, typedFigure } from '../src/fares.js';
import { me } from '../src/people.js';
import { byThing } from '../src/screens/fares.jsx';
import { tariffs } from './invented_office.js';
import { meAs, members } from './invented_parcels.js';

const figure = (subject, name) => SUBJECTS[subject].figures().find((one) => one.name === name);

beforeEach(() => {
  me.value = meAs(members[5]);
});

describe('a figure', () => {
  it('is typed in the units that people use, and goes back as it came', () => {
    for (const [subject, name, value, typed] of [
      ['terms', 'confidence', 0.95, '95'], ['terms', 'softened_share_limit', 0.05, '5'], ['terms', 'labour_price_minor_per_hour', 2500, '25.00'],
      ['carton-designs', 'insulation_top_m', 0.125, '12.5'], ['timetables', 'delay_hours_mean', 0.29, '0.29'],
    ]) {
      const one = figure(subject, name);
      expect(typedFigure(one, { [name]: value })).toBe(typed);
      const read = one.kind === 'money' ? value : Number(typed);
      expect(figuresOf([one], { [name]: read })).toEqual({ [name]: value });
    }
  });

  it('of a limit is a share or a temperature, by what is measured', () => {
    const value = figure('buyer-limits', 'limit_value');
    expect(typedFigure(value, { limit_kind: 'softened_share', limit_value: 0.07 })).toBe('7');
    expect(typedFigure(value, { limit_kind: 'core_c', limit_value: -9 })).toBe('−9');
    expect(figuresOf([value], { limit_kind: 'softened_share', limit_value: 7 }).limit_value).toBe(0.07);
    expect(figuresOf([value], { limit_kind: 'core_c', limit_value: -9 }).limit_value).toBe(-9);
  });

  it('that is not there stands empty, and stays away', () => {
    const seats = figure('timetables', 'seats_left');
    expect(typedFigure(seats, { seats_left: null })).toBe('');
    expect(figuresOf([seats], { seats_left: null })).toEqual({ seats_left: null });
  });
});

describe('the rules of a fare', () => {
  const DEFAULTS = { amount_minor: 0, minimum_minor: 0, minimum_kg: 0, seats_per_carton: null, volumetric_divisor_cm3_per_kg: null, surcharge_share: null, steps_per_kilogram: false, months: [], steps: [] };
  const some = {
    per_carton: { amount_minor: 30_005 }, per_kilogram: { amount_minor: 150, minimum_kg: 20, minimum_minor: 3000 }, per_seat: { amount_minor: 45_000, seats_per_carton: 2 },
    per_volume: { amount_minor: 32_000 }, per_volumetric_kilogram: { amount_minor: 90, volumetric_divisor_cm3_per_kg: 6000, minimum_kg: 10 }, return_of_empty: { amount_minor: 5000 },
    surcharge: { surcharge_share: -0.07, months: [12, 1] }, by_step: { steps_per_kilogram: true, steps: [{ from_kg: 0, amount_minor: 90 }, { from_kg: 50.5, amount_minor: 80 }] },
  };

  it('go through the form and back unchanged, every kind of them', () => {
    expect(Object.keys(some).sort()).toEqual(Object.keys(RULES).sort());
    const rules = Object.entries(some).map(([kind, said]) => ({ kind, ...DEFAULTS, ...said }));
    const typed = typedFigure({ name: 'rules', kind: 'rules' }, { rules });
    const { rules: read, faults } = readRules(typed);
    expect(faults).toEqual({});
    expect(read.map((rule) => ({ ...DEFAULTS, ...rule }))).toEqual(rules);
  });

  it('say what is wrong by the place that the server has for it', () => {
    const { faults } = readRules(JSON.stringify([{ kind: 'per_carton', months: [], steps: [], amount_minor: 'much' }, { kind: 'by_step', months: [], steps_per_kilogram: 'no', steps: [{ from_kg: '', amount_minor: '5' }] }]));
    expect(faults).toEqual({ 'rules.0.amount_minor': 'fault.money', 'rules.1.steps.0.from_kg': 'fault.blank' });
  });
});

describe('rows that follow each other', () => {
  it('are told as what counts now and what comes; what is over is not told', () => {
    const [minibus, lorry] = byThing('tariffs', tariffs, '2026-11-25');
    expect([minibus.now.id, minibus.coming.map(({ id }) => id)]).toEqual([2, [3]]);
    expect([lorry.now.id, lorry.coming]).toEqual([4, []]);
  });

  it('change on the day itself', () => {
    expect(byThing('tariffs', tariffs, '2099-01-01')[0].now.id).toBe(3);
    expect(byThing('tariffs', tariffs, '2098-12-31')[0].now.id).toBe(2);
  });
});
