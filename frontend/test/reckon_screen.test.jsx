import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import { costOf } from '../src/reckon/bill.js';
import { money } from '../src/format.js';
import { invented, reckoning } from './invented.js';

const NOW = Date.parse('2026-11-25T06:00:00+02:00');
const ID = '1-20261125-common';
const ABOUT = { mass_kg: '80', start_temperature_c: '-18', species: 'LTM', buyer: 'city-market' };
let root;

const until = (test) => vi.waitFor(() => expect(test()).toBeTruthy(), 15_000);
const section = () => root.querySelector('[aria-labelledby=reckon]');
const answer = () => section().querySelector('[role=status]').textContent;

/** The journey of 80 kg, or how to pack it; without a signal for some of what is asked. */
async function opened(query, silent = () => false, name = 'Journey') {
  globalThis.indexedDB = new IDBFactory();
  vi.resetModules();
  vi.stubGlobal('fetch', vi.fn(async (path) => {
    if (silent(path)) throw new TypeError('no signal');
    const [status, body] = invented(path, NOW);
    return new Response(JSON.stringify(body), { status });
  }));
  (await import('../src/words.js')).useCatalogue(en);
  const { [name]: Screen } = await import('../src/screens/later.js');
  const { h, render } = await import('preact');
  document.body.textContent = '';
  root = document.body.appendChild(document.createElement('div'));
  render(h(Screen, { id: ID, query }), root);
  await until(section);
}

async function type(name, text) {
  const field = section().querySelector(`[name=${name}]`);
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  await new Promise((go) => setTimeout(go, 10));
}

describe('other fish on the same departure', { timeout: 40_000 }, () => {
  beforeEach(() => {
    vi.spyOn(Date, 'now').mockReturnValue(NOW);
    vi.stubGlobal('ResizeObserver', class { observe() {} disconnect() {} });
  });

  it('says nothing of its own beside the full answer, until another weight is typed', async () => {
    await opened(ABOUT);
    await until(() => root.querySelector('.giveup'));
    await until(() => answer() === '');
    await type('mass_kg', '107,5');
    for (const said of ['Safe', 'still hard: 99 times in 100', 'at least', 'a kg']) expect(answer()).toContain(said);
    expect(section().textContent).toContain('Worked out on this phone, on the cautious side.');
    expect(section().querySelector('a.button').getAttribute('href')).toContain('mass_kg=107.5');
  });

  it('prices a kilogram by the terms that it has', async () => {
    await opened(ABOUT);
    await until(() => root.querySelector('.giveup'));
    await type('mass_kg', '100');
    const { bill } = reckoning(ID, new URLSearchParams(ABOUT));
    const soft = Number((await import('../src/reckon/grid.js')).readGrid(reckoning(ID, new URLSearchParams(ABOUT)), 100, -18).soft);
    const cost = costOf(bill, 100, 1, soft);
    expect(answer()).toContain(money(cost.per_kg_minor, bill.currency, bill.currency_decimals));
  });

  it('answers by itself where the full answer was never fetched', async () => {
    await opened({ ...ABOUT, mass_kg: '60' }, (path) => path.includes('mass_kg=60'));
    await until(() => /Safe|Not safe/.test(answer()));
    expect(root.querySelectorAll('#ladder').length).toBe(1);
  });

  it('says so where it cannot tell', async () => {
    await opened(ABOUT);
    await type('start_temperature_c', '−6');
    expect(answer()).toContain('Freeze it colder first');
    await type('start_temperature_c', '-18');
    await type('mass_kg', '4');
    expect(answer()).toContain('So little fish');
    await type('mass_kg', '300');
    expect(answer()).toContain('does not fit');
    await type('mass_kg', 'much');
    expect(section().textContent).toContain('This is not a number');
  });

  it('stands on the packing sheet, too, and leads from there to the sheet of the other fish', async () => {
    await opened(ABOUT, () => false, 'Packing');
    await until(() => root.querySelector('#buy'));
    await until(() => answer() === '');
    await type('start_temperature_c', '-15');
    for (const said of ['still hard', 'at least']) expect(answer()).toContain(said);
    expect(section().querySelector('[role=status] a.button').getAttribute('href')).toMatch(/^\/packing\/.*start_temperature_c=-15/);
    expect(section().className).toContain('on-screen');
  });

  it('is what a packing sheet tells that was never asked for, without a signal', async () => {
    await opened({ ...ABOUT, mass_kg: '60' }, (path) => path.includes('mass_kg=60'), 'Packing');
    await until(() => /Safe|Not safe/.test(answer()));
    expect(root.textContent).toContain('was never asked on this phone');
    expect(root.querySelectorAll('#buy').length).toBe(0);
  });
});
