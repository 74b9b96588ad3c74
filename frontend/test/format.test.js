import { afterEach, describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import fr from '../src/catalogues/fr.json';
import {
  age, days, daysLater, degrees, hourOfDay, hourRange, hoursDown, hoursLater, kilograms, money, percent, plain, todayIn,
} from '../src/format.js';
import { useCatalogue } from '../src/words.js';

/** Spaces of CLDR are of several kinds; a person sees one. */
const seen = (text) => text.replace(/[\u00a0\u202f]/g, ' ');

afterEach(() => useCatalogue(en));

describe('money', () => {
  it('places minor units by the decimals of its currency (ISO 4217: ZMW 2, XOF 0)', () => {
    expect(seen(money(3894, 'ZMW', 2))).toMatch(/^\D+38\.94$/);
    expect(seen(money(5, 'ZMW', 2))).toMatch(/^\D+0\.05$/);
    expect(seen(money(3894, 'XOF', 0))).toMatch(/3.?894$/);
  });

  it('keeps every coin of an amount that no float would keep after division', () => {
    expect(money(900719925474099, 'ZMW', 2).replace(/\D/g, '')).toBe('900719925474099');
  });

  it('speaks French with a comma', () => {
    useCatalogue(fr);
    expect(seen(money(3894, 'ZMW', 2))).toMatch(/^38,94 /);
  });

  it('shows what is owed with a minus', () => {
    expect(money(-100, 'ZMW', 2)).toContain('−');
  });
});

describe('hours', () => {
  it('are those of the clock at the place, whatever zone the phone is in', () => {
    expect(hourOfDay('2026-11-25T16:00:00+02:00')).toBe('16:00');
    expect(hourOfDay('2026-11-25T16:00:00+05:30')).toBe('16:00');
  });

  it('are cut to the minute downwards', () => {
    expect(hourOfDay('2026-11-25T18:29:59+02:00')).toBe('18:29');
  });

  it('name the day once where both are on one', () => {
    expect(hourRange('2026-11-24T10:00+02:00', '2026-11-24T15:00+02:00')).toBe('Tue 10:00–15:00');
    expect(hourRange('2026-11-24T22:00+02:00', '2026-11-25T04:00+02:00')).toBe('Tue 22:00 – Wed 04:00');
    expect(hourRange('2026-11-24T05:00+02:00', '2026-11-24T05:00:20+02:00')).toBe('Tue 05:00');
  });

  it('move on across midnight without leaving their zone', () => {
    expect(hoursLater('2026-11-24T22:30:00+02:00', 3.5)).toBe('2026-11-25T02:00:00+02:00');
  });

  it('of a hold are never rounded up', () => {
    expect(hoursDown(35.99)).toBe('35.5 hours');
    expect(hoursDown(35.49)).toBe('35 hours');
  });
});

describe('days', () => {
  it('are those of the place, not of the phone', () => {
    const lateEvening = new Date('2026-11-24T22:30:00Z');
    expect(todayIn('Africa/Lusaka', lateEvening)).toBe('2026-11-25');
    expect(todayIn('America/Lima', lateEvening)).toBe('2026-11-24');
  });

  it('are counted over the end of a month', () => {
    expect(daysLater('2026-02-27', 3)).toBe('2026-03-02');
  });

  it('are one day where the first is the last', () => {
    expect(days('2026-11-25', '2026-11-25')).toBe('Wed, 25 Nov');
    expect(days('2026-11-25', '2026-11-28')).toMatch(/^25.+28 Nov$/);
  });
});

describe('shares', () => {
  it('that are small but not nothing never read as nothing', () => {
    expect(percent(0)).toBe('0%');
    expect(percent(0.0004)).toBe('under 0.1%');
    expect(percent(0.05)).toBe('5%');
  });
});

describe('other figures', () => {
  it('carry the unit of their kind and a true minus', () => {
    expect(kilograms(80)).toBe('80 kg');
    expect(degrees(-18)).toBe('−18°C');
    expect(plain(0.028472)).toBe('0.0285');
    expect(plain(94.126)).toBe('94.13');
  });

  it('tell the age of an answer downwards', () => {
    expect(age(0, 59_000)).toBe('just now');
    expect(age(0, 119_000)).toBe('1 minute ago');
    expect(age(0, 3 * 3_600_000)).toBe('3 hours ago');
    expect(age(0, 49 * 3_600_000)).toBe('2 days ago');
  });
});
