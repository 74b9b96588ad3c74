import { IDBFactory } from 'fake-indexeddb';
import { render } from 'preact';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';

const until = (test) => vi.waitFor(() => expect(test()).toBeTruthy(), { timeout: 5000 });
const button = (text) => [...document.querySelectorAll('button')].find((one) => one.textContent === text);

async function drawn() {
  document.body.textContent = '';
  vi.resetModules();
  (await import('../src/words.js')).useCatalogue(en);
  const { FirstRun, FirstRunLink, readFirstRun } = await import('../src/parts/first_run.jsx');
  await readFirstRun();
  const { h, render: draw } = await import('preact');
  draw(h('div', {}, h(FirstRun), h(FirstRunLink)), document.body.appendChild(document.createElement('div')));
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

describe('the first run', () => {
  it('takes four steps at most, and never comes by itself again', async () => {
    await drawn();
    await until(() => button('Next'));
    let steps = 1;
    for (; button('Next'); steps += 1) {
      const before = document.querySelector('h2').textContent;
      button('Next').click();
      await until(() => document.querySelector('h2').textContent !== before);
    }
    expect(steps).toBe(4);
    expect(document.body.textContent).toContain('Step 4 of 4');
    button('Begin').click();
    await until(() => !document.querySelector('.first-run'));
    await drawn();
    await new Promise((go) => setTimeout(go, 50));
    expect(document.querySelector('.first-run')).toBe(null);
  });

  it('can be left at once and opened again', async () => {
    await drawn();
    await until(() => button('Skip'));
    button('Skip').click();
    await until(() => !document.querySelector('.first-run'));
    button('How it works, in 4 steps').click();
    await until(() => document.body.textContent.includes('Step 1 of 4'));
  });
});

describe('help beside a number', () => {
  it('comes and goes with a touch on its name, and only where something is told', async () => {
    document.body.textContent = '';
    const { Fact } = await import('../src/parts/fact.jsx');
    render(<dl><Fact name="fact.holds">40 hours</Fact><Fact name="waybill.driver">Mr Phiri</Fact></dl>, document.body.appendChild(document.createElement('div')));
    expect(document.querySelectorAll('button').length).toBe(1);
    const touch = document.querySelector('button');
    expect(touch.getAttribute('aria-expanded')).toBe('false');
    touch.click();
    await until(() => document.querySelector('.help')?.textContent === en.messages['means.fact.holds']);
    touch.click();
    await until(() => !document.querySelector('.help'));
  });

  it('says for every number what it means and whom to ask, in whole sentences', () => {
    const told = Object.entries(en.messages).filter(([key]) => key.startsWith('means.') && key !== 'means.what');
    expect(told.length).toBeGreaterThan(25);
    for (const [key, words] of told) expect(words, key).toMatch(/^[A-Z“"].{40,}\.$/);
  });
});
