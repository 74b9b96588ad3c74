import { afterEach, describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import fr from '../src/catalogues/fr.json';
import mg from '../src/catalogues/mg.json';
import sw from '../src/catalogues/sw.json';
import {
  age, altitude, centimetres, day, dayWithYear, days, daysLater, degrees, hourOfDay, hourRange, hoursDown, hoursLater, hoursUp, kilograms, kilometres, longDay, money, monthName, percent, plain, tape, todayIn, weekday,
} from '../src/format.js';
import { useCatalogue } from '../src/words.js';

/** Spaces of CLDR are of several kinds; a person sees one. */
const seen = (text) => text.replace(/[\u00a0\u202f]/g, ' ');

afterEach(() => useCatalogue(en));

describe('money', () => {
  it('names the coin as people at home do, whatever they speak', () => {
    for (const [words, text] of [[en, 'K43.00'], [fr, '43,00 K'], [mg, 'K 43.00'], [sw, 'K 43.00']]) {
      useCatalogue(words);
      expect(seen(money(4300, 'ZMW', 2))).toBe(text);
    }
  });

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

/** Node has all of CLDR, which Chromium has not: what our catalogue carries is held to it. */
describe('Malagasy, which no Chromium knows', () => {
  const utc = (date, options) => new Intl.DateTimeFormat('mg', { ...options, timeZone: 'UTC' }).format(new Date(date));
  const unit = (value, of, more) => new Intl.NumberFormat('mg', { style: 'unit', unit: of, ...more }).format(value);
  const EVERY_DAY = Array.from({ length: 365 }, (_, index) => daysLater('2026-01-01', index));

  it('is known here', () => expect(Intl.DateTimeFormat.supportedLocalesOf('mg')).toEqual(['mg']));

  it('has the names and the order of days and months that CLDR has', () => {
    useCatalogue(mg);
    for (const date of EVERY_DAY) {
      expect(day(date)).toBe(utc(date, { weekday: 'short', day: 'numeric', month: 'short' }));
      expect(dayWithYear(date)).toBe(utc(date, { day: 'numeric', month: 'short', year: 'numeric' }));
      expect(longDay(`${date}T08:00+03:00`)).toBe(utc(date, { weekday: 'long', day: 'numeric', month: 'long' }));
      expect(weekday(`${date}T08:00+03:00`)).toBe(utc(date, { weekday: 'short' }));
    }
    expect(Array.from({ length: 12 }, (_, index) => monthName(index + 1))).toEqual(Array.from({ length: 12 }, (_, index) => utc(new Date(Date.UTC(2000, index)), { month: 'short' })));
  });

  it('has the digits and the units that CLDR has', () => {
    useCatalogue(mg);
    expect(plain(12_345.678)).toBe(new Intl.NumberFormat('mg', { maximumFractionDigits: 2 }).format(12_345.678));
    expect(percent(0.35)).toBe(new Intl.NumberFormat('mg', { style: 'percent' }).format(0.35));
    expect(kilograms(80.5)).toBe(unit(80.5, 'kilogram'));
    expect(degrees(18)).toBe(unit(18, 'celsius'));
    expect(kilometres(1060)).toBe(unit(1060, 'kilometer'));
    expect(altitude(770)).toBe(unit(770, 'meter'));
    expect([tape(0.05), centimetres(0.125)]).toEqual([unit(5, 'centimeter'), unit(12.5, 'centimeter')]);
    expect([hoursDown(35.7), hoursUp(35.7)]).toEqual([unit(35.5, 'hour', { unitDisplay: 'long' }), unit(36, 'hour', { unitDisplay: 'long' })]);
  });

  it('tells spans of days and the age of an answer in words', () => {
    useCatalogue(mg);
    expect(days('2026-11-25', '2026-11-25')).toBe('Alar 25 Nov');
    expect(days('2026-11-25', '2026-11-28')).toBe('25 – 28 Nov');
    expect(days('2026-11-25', '2026-12-03')).toBe('25 Nov – 3 Des');
    expect(age(0, 119_000)).toBe('efa 1 minitra izay');
    expect(age(0, 3 * 3_600_000)).toBe('efa 3 ora izay');
    expect(age(0, 25 * 3_600_000)).toBe('omaly');
    expect(age(0, 49 * 3_600_000)).toBe('efa 2 andro izay');
  });
});

describe('Swahili', () => {
  it('has names of its own for days and months', () => {
    useCatalogue(sw);
    expect(longDay('2026-03-03T16:05:00+02:00')).toBe('Jumanne, 3 Machi');
    expect(day('2026-08-02')).toBe('Jumapili, 2 Ago');
    expect(age(0, 3 * 3_600_000)).toBe('saa 3 zilizopita');
    expect([tape(0.6), centimetres(0.125), altitude(770)]).toEqual(['cm 60', 'cm 12.5', 'mita 770']);
  });
});

describe('the clock', () => {
  it.each([en, fr, mg, sw])('has 24 hours in every language, and none is counted from sunrise', (words) => {
    useCatalogue(words);
    expect(hourOfDay('2026-11-25T16:00:00+02:00')).toBe('16:00');
    expect(hourOfDay('2026-11-25T00:05:00+02:00')).toBe('00:05');
    expect(hourRange('2026-11-24T10:00+02:00', '2026-11-24T15:00+02:00')).toMatch(/ 10:00–15:00$/);
  });
});
