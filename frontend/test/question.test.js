import { describe, expect, it } from 'vitest';
import { askedBy, departurePath, departuresPath, faultsOf, isDepartures, screenOf, startingQuestion, typedNumber } from '../src/question.js';
import { buyers, designs, routes, species } from './invented.js';

const buyersOn = (slug) => buyers.filter((one) => one.place.code === routes.find((route) => route.slug === slug)?.destination.code);
const choices = { routes, species, buyers, designs, buyersOn };
const first = startingQuestion(undefined, choices, '2026-11-25');

describe('the first question', () => {
  it('can be asked at once: 80 kg, four days from today, a buyer where the road ends', () => {
    expect(first).toMatchObject({ mass_kg: '80', from: '2026-11-25', to: '2026-11-28', route: 'mpulungu-lusaka', buyer: 'city-market' });
  });
});

describe('the question of last time', () => {
  it('comes back as it was typed', () => {
    const last = { ...first, mass_kg: '62,5', species: 'LTM', carton_design: 'box' };
    expect(startingQuestion(last, choices, '2026-11-25')).toEqual(last);
  });

  it('moves on to today, as many days long as it was', () => {
    const last = { ...first, from: '2026-10-30', to: '2026-11-01' };
    expect(startingQuestion(last, choices, '2026-11-25')).toMatchObject({ from: '2026-11-25', to: '2026-11-27' });
  });

  it('drops what the cooperative no longer has', () => {
    const last = { ...first, route: 'gone', buyer: 'gone', species: 'XXX', carton_design: 'gone' };
    expect(startingQuestion(last, choices, '2026-11-25')).toMatchObject({ route: 'mpulungu-lusaka', buyer: 'city-market', species: 'IRQ', carton_design: '' });
  });
});

describe('what is typed', () => {
  it('may have a comma, a point, or the long minus', () => {
    expect(typedNumber(' 62,5 ')).toBe(62.5);
    expect(typedNumber('−18')).toBe(-18);
    expect(typedNumber('0')).toBe(0);
  });

  it('is found wrong here only where it is no number or no range of days', () => {
    expect(faultsOf(first)).toEqual({});
    expect(faultsOf({ ...first, mass_kg: '' })).toEqual({ mass_kg: 'fault.number' });
    expect(faultsOf({ ...first, mass_kg: 'much', start_temperature_c: '1e' })).toEqual({ mass_kg: 'fault.number', start_temperature_c: 'fault.number' });
    expect(faultsOf({ ...first, to: '2026-11-24' })).toEqual({ to: 'fault.days' });
  });
});

describe('a path', () => {
  it('names only what the interface takes, and nothing that was left open', () => {
    const query = new URLSearchParams(departuresPath(first).split('?')[1]);
    const names = ['buyer', 'from', 'mass_kg', 'page_size', 'route', 'species', 'start_temperature_c', 'to'];
    expect([...query.keys()].sort()).toEqual(names);
    expect([...new URLSearchParams(departurePath('1-20261125-box', first).split('?')[1]).keys()].sort()).toEqual(['buyer', 'mass_kg', 'species', 'start_temperature_c']);
  });

  it('tells a list of departures from one of them', () => {
    expect(isDepartures(departuresPath(first))).toBe(true);
    expect(isDepartures(departurePath('1-20261125-box', first))).toBe(false);
  });

  it('leads back to its question', () => {
    expect(askedBy(departuresPath(first))).toEqual(first);
  });

  it('of a screen carries the question of its carton', () => {
    expect(screenOf('journey', '1-20261125-box', first)).toMatch(/^\/journey\/1-20261125-box\?.*mass_kg=80/);
  });
});
