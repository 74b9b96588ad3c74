import { IDBFactory } from 'fake-indexeddb';
import { render } from 'preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import fr from '../src/catalogues/fr.json';
import { invented } from './invented.js';

const NOW = Date.parse('2026-11-25T06:00:00+02:00');
let root;

const until = (test) => vi.waitFor(() => expect(test()).toBeTruthy());
const all = (selector) => [...root.querySelectorAll(selector)];
const one = (selector) => root.querySelector(selector);
/** What stands lowest comes last. */
const listed = () => until(() => one('.slot') && one('footer'));
const button = (words) => all('button').find((found) => found.textContent.includes(words));

const serve = () =>
  vi.stubGlobal('fetch', vi.fn(async (path) => {
    const [status, body] = invented(path, NOW);
    return new Response(JSON.stringify(body), { status });
  }));

/** A screen on a phone that has seen nothing but what is kept. */
async function opened(file, name, props, words = en, kept = new IDBFactory()) {
  globalThis.indexedDB = kept;
  vi.resetModules();
  (await import('../src/words.js')).useCatalogue(words);
  const { [name]: Screen } = await import(`../src/screens/${file}.jsx`);
  const { h } = await import('preact');
  root = document.body.appendChild(document.createElement('div'));
  (await import('preact')).render(h(Screen, props), root);
}

beforeEach(() => {
  if (root) render(null, root);
  document.body.textContent = '';
  // The whole clock: what is asked about begins today.
  vi.useFakeTimers({ toFake: ['Date'], now: NOW });
  serve();
});

afterEach(() => vi.useRealTimers());

const ABOUT = { mass_kg: '80', start_temperature_c: '-18', species: 'LTM', buyer: 'city-market' };
const SAFE = { id: '1-20261125-common', query: ABOUT };

async function type(name, text) {
  const field = one(`[name=${name}]`);
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  await Promise.resolve();
}

describe('the departures', () => {
  beforeEach(async () => {
    await opened('departures', 'Departures', {});
    await listed();
  });

  it('say in words when each leaves, arrives, and how surely it is hard', () => {
    const words = one('.slot.safe').textContent;
    for (const said of ['leaves', 'arrives', 'still hard:', 'times in', 'not later than', 'a kg']) expect(words).toContain(said);
  });

  it('mark one as the cheapest of the safe ones', () => {
    expect(all('.tag').length).toBe(1);
    expect(one('.tag').closest('.slot').classList.contains('safe')).toBe(true);
  });

  it('tell safe from unsafe by a word and a picture, not by colour alone', () => {
    for (const slot of all('.slot')) {
      const state = slot.querySelector('.state');
      expect(state.textContent).toBe(slot.classList.contains('safe') ? 'Safe' : 'Not safe');
      expect(state.querySelector('svg')).not.toBe(null);
    }
  });

  it('give a reason and what would help where it is not safe, and no hour to leave by', () => {
    const words = one('.slot.unsafe').textContent;
    expect(words).toContain('The carton surely holds only');
    expect(words).toContain('Freeze colder');
    expect(words).not.toContain('not later than');
  });

  it('can be cut down to the safe ones', async () => {
    button('Only safe').click();
    await until(() => !one('.slot.unsafe'));
    expect(all('.slot.safe').length).toBeGreaterThan(0);
  });

  it('put the cheapest first when asked, each with its day', async () => {
    button('Cheapest').click();
    await until(() => one('.slot .tag') === one('.slot').querySelector('.tag'));
    expect(one('.slot h3').textContent).toMatch(/Wed|Thu|Fri|Sat/);
  });

  it('carry what must be said of every answer', () => {
    for (const code of ['estimate', 'local_rule', 'no_refreeze', 'clean_bags']) expect(root.textContent).toContain(en.messages[`caution.${code}`]);
  });
});

describe('the question', () => {
  beforeEach(async () => {
    await opened('departures', 'Departures', {});
    await listed();
    one('.question').click();
    await until(() => one('.sheet'));
  });

  it('that the server refuses shows the fault at its field and keeps what was typed', async () => {
    await type('mass_kg', '500');
    one('.sheet form').requestSubmit();
    await until(() => one('.fault'));
    expect(one('#fault-mass_kg').textContent).toBe('more than fits: at most 108 kg');
    expect(one('[name=mass_kg]').value).toBe('500');
    expect(one('[name=mass_kg]').getAttribute('aria-describedby')).toBe('fault-mass_kg');
  });

  it('that is no number is told so without asking the server', async () => {
    const before = fetch.mock.calls.length;
    await type('mass_kg', 'a lot');
    one('.sheet form').requestSubmit();
    await until(() => one('#fault-mass_kg'));
    expect(fetch.mock.calls.length).toBe(before);
  });

  it('that can be answered becomes the question', async () => {
    await type('mass_kg', '62,5');
    one('.sheet form').requestSubmit();
    await until(() => !one('.sheet'));
    expect(one('.question').textContent).toContain('62.5 kg');
    expect(fetch.mock.calls.some(([path]) => path.includes('mass_kg=62.5'))).toBe(true);
  });
});

describe('without a signal', () => {
  it('a phone that has seen nothing is told what to do', async () => {
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    await opened('departures', 'Departures', {});
    await until(() => one('[role=alert]'));
    expect(root.textContent).toContain(en.messages['problem.silent.do']);
  });
});

describe('after midnight', () => {
  it('the list of the day before still serves, with its own days and its age', async () => {
    await opened('departures', 'Departures', {});
    await listed();
    const [days, before] = [one('.question').textContent, all('.slot').length];
    render(null, root);
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    vi.setSystemTime(NOW + 19.5 * 3_600_000);
    await opened('departures', 'Departures', {}, en, globalThis.indexedDB);
    await until(() => root.textContent.includes(en.messages['old.silent']));
    await listed();
    expect(one('[role=alert]')).toBe(null);
    expect(one('.question').textContent).toBe(days);
    expect(all('.slot').length).toBeLessThan(before);
    expect(root.textContent).toContain('19 hours ago');
  });
});

describe('the packing sheet', () => {
  beforeEach(async () => {
    await opened('packing', 'Packing', SAFE);
    await until(() => one('.section svg'));
  });

  it('tells its drawing in words too', () => {
    expect(one('.section svg').getAttribute('aria-label')).toContain('100 cm long');
  });

  it('lists steps in order and what to buy, and says where there is no price', () => {
    expect(all('.steps li').length).toBe(10);
    expect(root.textContent).toContain('Sisal rope');
    expect(root.textContent).toContain('no price');
  });

  it('names the families that can carry histamine for a fish of them', () => {
    expect(root.textContent).toContain(en.messages['caution.histamine']);
  });
});

describe('a packing sheet of a departure that is not safe', () => {
  it('says so, and writes no hour on the carton', async () => {
    await opened('packing', 'Packing', { id: '3-20261125-small', query: ABOUT });
    await until(() => one('.section svg'));
    expect(root.textContent).toContain(en.messages['packing.unsafe']);
    expect(root.textContent).not.toContain('Write on it');
  });
});

describe('in French', () => {
  it('the departures are French', async () => {
    await opened('departures', 'Departures', {}, fr);
    await listed();
    expect(one('.slot.safe').textContent).toContain('encore dur');
    expect(root.textContent).toContain('Perche élancée');
  });
});

describe('what is kept', () => {
  it('is named by kind with its age', async () => {
    await opened('departures', 'Departures', {});
    await listed();
    const { Kept } = await import('../src/screens/kept.jsx');
    const { h, render: draw } = await import('preact');
    draw(h(Kept), root);
    await until(() => one('tbody tr'));
    expect(root.textContent).toContain('Lists of departures');
    expect(root.textContent).toContain(en.messages['kept.words.unread']);
    expect(root.querySelector('[role=alert]')).toBe(null);
    (await import('../src/kept.js')).full.value = true;
    await until(() => root.querySelector('[role=alert]'));
    expect(root.querySelector('[role=alert]').textContent).toContain(en.messages['kept.full']);
  });
});
