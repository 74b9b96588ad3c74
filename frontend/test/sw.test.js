import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Script, createContext } from 'node:vm';
import { beforeEach, describe, expect, it, vi } from 'vitest';

const SOURCE = readFileSync(join(import.meta.dirname, '../src/sw.js'), 'utf8');
const HOST = 'https://carton.invalid';

/** Caches of a browser, as far as a worker sees them. */
function inventedCaches() {
  const places = new Map();
  const opened = (name) => {
    if (!places.has(name)) places.set(name, new Map());
    const files = places.get(name);
    return {
      put: async (url, answer) => files.set(url, answer),
      match: async (url) => files.get(url),
      keys: async () => [...files.keys()].map((url) => ({ url: HOST + url })),
      delete: async (url) => files.delete(url),
    };
  };
  return {
    places,
    open: async (name) => opened(name),
    keys: async () => [...places.keys()],
    has: async (name) => places.has(name),
    delete: async (name) => places.delete(name),
    match: async (url) => [...places.values()].map((files) => files.get(url)).find(Boolean),
  };
}

let caches;
let fetch;

/** Places with the pages of one version each. */
const pagesOf = () => [...caches.places.keys()].filter((name) => name.startsWith('pages '));

/** A worker of one build over the caches of the phone. */
function worker(files) {
  const heard = {};
  const self = { __WB_MANIFEST: files, location: { origin: HOST }, skipWaiting: vi.fn(), clients: { claim: vi.fn() }, addEventListener: (kind, act) => (heard[kind] = act) };
  new Script(SOURCE).runInContext(createContext({ self, caches, fetch, console, URL, Set, Promise }));
  const wait = async (kind, more) => {
    let done;
    heard[kind]({ ...more, waitUntil: (promise) => (done = promise) });
    await done;
  };
  const ask = async (path, { method = 'GET', mode = 'cors' } = {}) => {
    let answer = null;
    heard.fetch({ request: { method, mode, url: path.startsWith('/') ? HOST + path : path }, respondWith: (promise) => (answer = promise) });
    return (await answer)?.body ?? null;
  };
  return { self, wait, ask, hear: (data) => heard.message({ data }) };
}

const FIRST = [{ url: 'index.html', revision: 'a' }, { url: 'assets/index-1.js', revision: null }, { url: 'assets/style-1.css', revision: null }];
const SECOND = [{ url: 'index.html', revision: 'b' }, { url: 'assets/index-2.js', revision: null }, { url: 'assets/style-1.css', revision: null }];

beforeEach(() => {
  caches = inventedCaches();
  fetch = vi.fn(async (url) => ({ ok: true, status: 200, body: `from the server: ${url}` }));
});

describe('a worker', () => {
  it('keeps every file of its build, and answers from there', async () => {
    const first = worker(FIRST);
    await first.wait('install');
    expect(fetch.mock.calls.map(([url]) => url).sort()).toEqual(['/assets/index-1.js', '/assets/style-1.css', '/index.html']);
    fetch.mockRejectedValue(new TypeError('no signal'));
    expect(await first.ask('/assets/index-1.js')).toBe('from the server: /assets/index-1.js');
  });

  it('opens the one page at the address of any screen', async () => {
    const first = worker(FIRST);
    await first.wait('install');
    for (const path of ['/', '/journey/1-20261125-common?mass_kg=80', '/lots', '/enrol']) {
      expect(await first.ask(path, { mode: 'navigate' })).toBe('from the server: /index.html');
    }
  });

  it('touches nothing that only the server can answer, nothing that is written, and no other host', async () => {
    const first = worker(FIRST);
    await first.wait('install');
    for (const path of ['/api/v1/lots/', '/admin/', '/admin', '/static/admin.css', '/q/secret/', '/calendar/secret.ics']) {
      expect([path, await first.ask(path, { mode: 'navigate' })]).toEqual([path, null]);
      expect([path, await first.ask(path)]).toEqual([path, null]);
    }
    expect(await first.ask('/assets/index-1.js', { method: 'POST' })).toBe(null);
    expect(await first.ask('https://elsewhere.invalid/assets/index-1.js')).toBe(null);
    expect(await first.ask('/administration', { mode: 'navigate' })).not.toBe(null);
  });

  it('whose files come only in part is not installed', async () => {
    fetch.mockImplementation(async (url) => ({ ok: !url.includes('style-1'), status: 503 }));
    await expect(worker(FIRST).wait('install')).rejects.toThrow('503');
  });
});

describe('a new version', () => {
  beforeEach(async () => {
    await worker(FIRST).wait('install');
    fetch.mockClear();
  });

  it('fetches only what changed', async () => {
    await worker(SECOND).wait('install');
    expect(fetch.mock.calls.map(([url]) => url).sort()).toEqual(['/assets/index-2.js', '/index.html']);
  });

  it('leaves the version before whole until the person agrees', async () => {
    const second = worker(SECOND);
    await second.wait('install');
    expect(second.self.skipWaiting).not.toHaveBeenCalled();
    expect(pagesOf()).toHaveLength(2);
    second.hear({ type: 'SKIP_WAITING' });
    expect(second.self.skipWaiting).toHaveBeenCalledTimes(1);
    await second.wait('activate');
    expect(pagesOf()).toHaveLength(1);
    expect(second.self.clients.claim).toHaveBeenCalled();
    expect(await second.ask('/assets/index-2.js')).toBe('from the server: /assets/index-2.js');
  });
});

describe('late files', () => {
  const late = (number) => [
    { url: `assets/later_office-${number}.js`, revision: null, late: 'office' }, { url: 'assets/later_more-1.js', revision: null, late: 'office' },
    { url: `assets/later_members-${number}.js`, revision: null, late: 'members' },
  ];
  const [OFFICE, MEMBERS] = ['/assets/later_office-1.js', '/assets/later_members-1.js'];
  const asked = () => fetch.mock.calls.map(([url]) => url).sort();
  let first;

  beforeEach(async () => {
    first = worker([...FIRST, ...late(1)]);
    await first.wait('install');
  });

  it('do not come with the first visit', () => {
    expect(asked()).toEqual(['/assets/index-1.js', '/assets/style-1.css', '/index.html']);
  });

  it('come together when one of them is first asked for, once, and are served from here after that', async () => {
    fetch.mockClear();
    await Promise.all([first.ask(OFFICE), first.ask('/assets/later_more-1.js')]);
    expect(asked()).toEqual(['/assets/later_more-1.js', OFFICE]);
    fetch.mockRejectedValue(new TypeError('no signal'));
    expect(await first.ask(OFFICE)).toBe(`from the server: ${OFFICE}`);
    expect(await first.ask('/assets/later_more-1.js')).toBe('from the server: /assets/later_more-1.js');
  });

  it('come ahead where the page says that somebody needs them, and a line that breaks does no harm', async () => {
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    fetch.mockRejectedValueOnce(new TypeError('no signal'));
    await first.wait('message', { data: { type: 'KEEP_LATE', whose: ['members', 'office'] } });
    await first.wait('message', { data: { type: 'KEEP_LATE', whose: ['members', 'office'] } });
    fetch.mockRejectedValue(new TypeError('no signal'));
    expect(await first.ask(OFFICE)).toBe(`from the server: ${OFFICE}`);
    vi.restoreAllMocks();
  });

  it('of members bring none of the office', async () => {
    fetch.mockClear();
    await first.wait('message', { data: { type: 'KEEP_LATE', whose: ['members'] } });
    expect(asked()).toEqual([MEMBERS]);
    await worker([...SECOND, ...late(2)]).wait('install');
    expect(asked()).toEqual(['/assets/index-2.js', MEMBERS, MEMBERS.replace('1', '2'), '/index.html']);
  });

  it('of a new version come with it where those of the one before are kept, and the old ones go', async () => {
    await first.ask(OFFICE);
    fetch.mockClear();
    const second = worker([...SECOND, ...late(2)]);
    await second.wait('install');
    expect(asked()).toEqual(['/assets/index-2.js', '/assets/later_office-2.js', '/index.html']);
    fetch.mockRejectedValue(new TypeError('no signal'));
    expect(await first.ask(OFFICE)).toBe(`from the server: ${OFFICE}`);
    await second.wait('activate');
    expect([...caches.places.get('office pages').keys()].sort()).toEqual(['/assets/later_more-1.js', '/assets/later_office-2.js']);
  });

  it('of a new version stay away where none was needed', async () => {
    fetch.mockClear();
    await worker([...SECOND, ...late(2)]).wait('install');
    expect(asked()).toEqual(['/assets/index-2.js', '/index.html']);
  });
});

describe('words', () => {
  const words = (number) => ['en', 'sw', 'office_en', 'office_sw'].map((name) => ({ url: `assets/${name}-${number}.json`, revision: null, words: true }));
  const late = { url: 'assets/later_office-1.js', revision: null, late: 'office' };
  const kept = () => [...caches.places.get('words').keys()].sort();
  const asked = () => fetch.mock.calls.map(([url]) => url).sort();
  const from = (name) => `from the server: /assets/${name}.json`;
  const silent = () => fetch.mockRejectedValue(new TypeError('no signal'));
  let first;

  beforeEach(async () => {
    // What the page laid there before there was a worker.
    await (await caches.open('words')).put('/assets/en-1.json', { body: from('en-1') });
    first = worker([...FIRST, ...words(1), late]);
    await first.wait('install');
  });

  it('of no other language come with the first visit, and those that the page had are not fetched again', async () => {
    expect(asked()).toEqual(['/assets/index-1.js', '/assets/style-1.css', '/index.html']);
    silent();
    expect(await first.ask('/assets/en-1.json')).toBe(from('en-1'));
  });

  it('of another language need a signal once', async () => {
    silent();
    await expect(first.ask('/assets/sw-1.json')).rejects.toThrow('no signal');
    fetch.mockImplementation(async (url) => ({ ok: true, body: `from the server: ${url}` }));
    expect(await first.ask('/assets/sw-1.json')).toBe(from('sw-1'));
    silent();
    expect(await first.ask('/assets/sw-1.json')).toBe(from('sw-1'));
  });

  it('of the office come ahead in the languages that are spoken, where its screens are kept', async () => {
    await first.wait('message', { data: { type: 'KEEP_LATE', whose: ['members', 'office'] } });
    expect(kept()).toEqual(['/assets/en-1.json', '/assets/office_en-1.json']);
    await first.ask('/assets/sw-1.json');
    await first.wait('message', { data: { type: 'KEEP_LATE', whose: ['members', 'office'] } });
    expect(kept()).toEqual(['en', 'office_en', 'office_sw', 'sw'].map((name) => `/assets/${name}-1.json`));
  });

  it('of a new version come in the languages that the phone has, and the old ones stay until the person agrees', async () => {
    const second = worker([...SECOND, ...words(2), late]);
    await second.wait('install');
    expect(kept()).toEqual(['/assets/en-1.json', '/assets/en-2.json']);
    silent();
    expect(await first.ask('/assets/en-1.json')).toBe(from('en-1'));
    await second.wait('activate');
    expect(kept()).toEqual(['/assets/en-2.json']);
    expect(await second.ask('/assets/en-2.json')).toBe(from('en-2'));
  });

  it('that a version before there were four kept among its pages come along', async () => {
    caches = inventedCaches();
    await (await caches.open('pages 9 1')).put('/assets/sw-0.json', { body: from('sw-0') });
    await worker([...SECOND, ...words(2), late]).wait('install');
    expect(kept()).toEqual(['/assets/sw-2.json']);
  });

  it('that were chosen while a new version waited are not lost: the old ones serve until the new ones can come', async () => {
    const second = worker([...SECOND, ...words(2), late]);
    await second.wait('install');
    await first.ask('/assets/sw-1.json');
    silent();
    await second.wait('activate');
    expect(await second.ask('/assets/sw-2.json')).toBe(from('sw-1'));
    fetch.mockImplementation(async (url) => ({ ok: true, body: `from the server: ${url}` }));
    expect(await second.ask('/assets/sw-2.json')).toBe(from('sw-2'));
  });
});
