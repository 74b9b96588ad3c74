import { afterEach, describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import { clockIn, instantAt } from '../src/format.js';
import { readTyped, startOf, typedMoney } from '../src/typed.js';
import { useCatalogue } from '../src/words.js';

afterEach(() => useCatalogue(en));

const PLACE = { decimals: 2, zone: 'Africa/Lusaka' };

describe('money as it is typed', () => {
  it.each([['120', 12_000], ['120.5', 12_050], ['120,50', 12_050], ['1 200.05', 120_005], ['0.01', 1], ['12\u202f000', 1_200_000]])('%s is read to the coin', (text, minor) => {
    expect(typedMoney(text, 2)).toBe(minor);
  });

  it.each(['', 'much', '-5', '1.005', '1.2.3', '1e3', '٣'])('%s is no amount', (text) => {
    expect(typedMoney(text, 2)).toBeNaN();
  });

  it('without decimals takes none', () => {
    expect(typedMoney('500', 0)).toBe(500);
    expect(typedMoney('500.5', 0)).toBeNaN();
  });

  it('keeps digits that a product with 100 would lose (IEEE 754: 1.15 × 100 is 114.99…)', () => {
    expect(1.15 * 100).not.toBe(115);
    expect(typedMoney('1.15', 2)).toBe(115);
  });
});

describe('an hour as it is typed', () => {
  it('is that of the place, whatever zone the phone is in', () => {
    expect(instantAt('2026-11-25T16:00', 'Africa/Lusaka')).toBe('2026-11-25T14:00:00.000Z');
    expect(instantAt('2026-11-25T16:00', 'Asia/Kolkata')).toBe('2026-11-25T10:30:00.000Z');
  });

  it('is right on both sides of a change of clocks (IANA: Paris, 29 March 2026, 02:00)', () => {
    expect(instantAt('2026-03-29T01:30', 'Europe/Paris')).toBe('2026-03-29T00:30:00.000Z');
    expect(instantAt('2026-03-29T03:30', 'Europe/Paris')).toBe('2026-03-29T01:30:00.000Z');
  });

  it('comes back as the clock of the place shows it', () => {
    const typed = '2026-07-01T23:45';
    expect(clockIn('Africa/Lusaka', new Date(instantAt(typed, 'Africa/Lusaka')))).toBe(typed);
  });

  it('that is none is told so', () => {
    expect(instantAt('soon', 'Africa/Lusaka')).toBe(null);
  });
});

describe('a form', () => {
  const FIELDS = [
    { name: 'mass_kg', kind: 'number' }, { name: 'paid', kind: 'money', optional: true }, { name: 'note', kind: 'text', optional: true },
    { name: 'at', kind: 'hour', start: '2026-11-25T16:00' }, { name: 'since', kind: 'since' }, { name: 'hard', kind: 'yes', start: 'yes' },
  ];

  it('begins with what stands in it at first', () => {
    expect(startOf(FIELDS)).toMatchObject({ mass_kg: '', hard: 'yes', at: '2026-11-25T16:00' });
  });

  it('becomes what the server takes', () => {
    const { body, faults } = readTyped(FIELDS, { mass_kg: '62,5', paid: '3.50', note: ' two bags ', at: '2026-11-25T16:00', since: '2026-11-24', hard: 'no' }, PLACE);
    expect(faults).toEqual({});
    expect(body).toEqual({
      mass_kg: 62.5, paid: 350, note: 'two bags', at: '2026-11-25T14:00:00.000Z', since: '2026-11-23T22:00:00.000Z', hard: false,
    });
  });

  it('says at each field what is wrong, all at once', () => {
    const { faults } = readTyped(FIELDS, { mass_kg: 'a lot', paid: 'some', note: '', at: '', since: '', hard: 'yes' }, PLACE);
    expect(faults).toEqual({ mass_kg: 'fault.number', paid: 'fault.money', at: 'fault.blank', since: 'fault.blank' });
  });

  it('sends nothing, not nought, for what may be left empty', () => {
    expect(readTyped(FIELDS, { ...startOf(FIELDS), mass_kg: '1', since: '2026-11-24' }, PLACE).body).toMatchObject({ paid: null, note: '' });
  });
});
