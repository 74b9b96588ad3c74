import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { IDBFactory } from 'fake-indexeddb';
import { h, render } from 'preact';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import mg from '../src/catalogues/mg.json';

/** Catalogues as the server of the build has them, by the end of their address. */
const served = (address) => readFileSync(join(import.meta.dirname, '../src/catalogues', address.match(/\w+\.json/)[0]), 'utf8');

let words;
let root;
let kept;

function browser({ silent = [], languages = ['en'], controller = null } = {}) {
  vi.stubGlobal('fetch', vi.fn(async (address) => {
    if (silent.some((name) => address.includes(`/${name}.json`))) throw new TypeError('no signal');
    return new Response(served(address));
  }));
  kept = new Map();
  vi.stubGlobal('caches', { open: async () => ({ put: async (address, answer) => kept.set(address, answer) }) });
  vi.stubGlobal('navigator', { onLine: true, languages, serviceWorker: { controller } });
}

const asked = () => fetch.mock.calls.map(([address]) => address.match(/\w+(?=\.json)/)[0]);
const again = async () => {
  vi.resetModules();
  words = await import('../src/words.js');
};

const started = async () => {
  await words.chooseLanguage();
  await words.speak(words.language.value);
};

beforeEach(() => (globalThis.indexedDB = new IDBFactory()));

afterEach(() => {
  if (root) render(null, root);
  root = null;
  vi.unstubAllGlobals();
});

describe('a phone', () => {
  it.each([[['mg-MG', 'fr'], 'mg'], [['sw-TZ'], 'sw'], [['bem', 'fr-CD'], 'fr'], [['bem'], 'en']])('that asks for %s is spoken to in %s, and fetches no other words', async (languages, tag) => {
    browser({ languages });
    await again();
    await started();
    expect([words.language.value, document.documentElement.lang]).toEqual([tag, tag]);
    expect(asked()).toEqual([tag]);
  });

  it('keeps the words of the first visit where the worker will look for them', async () => {
    browser({ languages: ['sw'] });
    await again();
    await started();
    await vi.waitFor(() => expect([...kept.keys()].map((address) => address.match(/\w+(?=\.json)/)[0])).toEqual(['sw']));
    expect((await [...kept.values()][0].json()).language).toBe('sw');
  });

  it('leaves that to the worker once there is one', async () => {
    browser({ controller: {} });
    await again();
    await started();
    expect(kept.size).toBe(0);
  });

  it('keeps the choice', async () => {
    browser();
    await again();
    await started();
    await words.switchLanguage('mg');
    await again();
    await started();
    expect(words.language.value).toBe('mg');
  });

  it('brings the words of the office with a language once they are wanted', async () => {
    browser();
    await again();
    await started();
    await words.speakOffice();
    await words.switchLanguage('sw');
    expect(asked().slice(-2).sort()).toEqual(['office_sw', 'sw']);
    expect(words.t('quotes.back')).toBe('← Ofa');
  });
});

describe('a language that is not on the phone', () => {
  const opened = async () => {
    await again();
    await started();
    const { Band } = await import('../src/parts/frame.jsx');
    root = document.body.appendChild(document.createElement('div'));
    (await import('preact')).render(h(Band, { first: true }), root);
  };
  const choose = (tag) => {
    const choice = root.querySelector('.languages');
    choice.value = tag;
    choice.dispatchEvent(new Event('change', { bubbles: true }));
  };

  it('is said to need a signal, and the one before goes on', async () => {
    browser({ silent: ['sw'] });
    await opened();
    choose('sw');
    await vi.waitFor(() => expect(root.querySelector('[role=alert]').textContent).toContain('Kiswahili'));
    expect([words.language.value, root.querySelector('.languages').value]).toEqual(['en', 'en']);
    choose('mg');
    await vi.waitFor(() => expect(words.language.value).toBe('mg'));
    await vi.waitFor(() => expect(root.querySelector('[role=alert]')).toBe(null));
  });

  it('is chosen again at the next start as if nothing had been', async () => {
    browser({ silent: ['sw'] });
    await again();
    await started();
    await words.switchLanguage('sw');
    await again();
    await started();
    expect(words.language.value).toBe('en');
  });

  it('can be chosen out of four, each by its own name, and says whether a native reader checked it', async () => {
    browser({ languages: ['mg'] });
    await opened();
    expect([...root.querySelectorAll('option')].map((one) => [one.lang, one.textContent])).toEqual([['en', 'English'], ['fr', 'Français'], ['mg', 'Malagasy'], ['sw', 'Kiswahili']]);
    expect(root.textContent).toContain(mg.messages['language.unread']);
    words.useCatalogue({ ...en, read_by_native: true });
    await vi.waitFor(() => expect(root.querySelector('.band-note')).toBe(null));
  });
});
