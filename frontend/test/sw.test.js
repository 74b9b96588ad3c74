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
    return { put: async (url, answer) => files.set(url, answer), match: async (url) => files.get(url) };
  };
  return {
    places,
    open: async (name) => opened(name),
    keys: async () => [...places.keys()],
    delete: async (name) => places.delete(name),
    match: async (url) => [...places.values()].map((files) => files.get(url)).find(Boolean),
  };
}

let caches;
let fetch;

/** A worker of one build over the caches of the phone. */
function worker(files) {
  const heard = {};
  const self = { __WB_MANIFEST: files, location: { origin: HOST }, skipWaiting: vi.fn(), clients: { claim: vi.fn() }, addEventListener: (kind, act) => (heard[kind] = act) };
  new Script(SOURCE).runInContext(createContext({ self, caches, fetch, URL, Set, Promise }));
  const wait = async (kind) => {
    let done;
    heard[kind]({ waitUntil: (promise) => (done = promise) });
    await done;
  };
  const ask = async (path, { method = 'GET', mode = 'cors' } = {}) => {
    let answer = null;
    heard.fetch({ request: { method, mode, url: path.startsWith('/') ? HOST + path : path }, respondWith: (promise) => (answer = promise) });
    return (await answer)?.body ?? null;
  };
  return { self, wait, ask, hear: (data) => heard.message({ data }) };
}

const FIRST = [{ url: 'index.html', revision: 'a' }, { url: 'assets/index-1.js', revision: null }, { url: 'assets/en-1.json', revision: null }];
const SECOND = [{ url: 'index.html', revision: 'b' }, { url: 'assets/index-2.js', revision: null }, { url: 'assets/en-1.json', revision: null }];

beforeEach(() => {
  caches = inventedCaches();
  fetch = vi.fn(async (url) => ({ ok: true, status: 200, body: `from the server: ${url}` }));
});

describe('a worker', () => {
  it('keeps every file of its build, and answers from there', async () => {
    const first = worker(FIRST);
    await first.wait('install');
    expect(fetch.mock.calls.map(([url]) => url).sort()).toEqual(['/assets/en-1.json', '/assets/index-1.js', '/index.html']);
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
    for (const path of ['/api/v1/lots/', '/admin/', '/admin', '/static/admin.css']) {
      expect([path, await first.ask(path, { mode: 'navigate' })]).toEqual([path, null]);
      expect([path, await first.ask(path)]).toEqual([path, null]);
    }
    expect(await first.ask('/assets/index-1.js', { method: 'POST' })).toBe(null);
    expect(await first.ask('https://elsewhere.invalid/assets/index-1.js')).toBe(null);
    expect(await first.ask('/administration', { mode: 'navigate' })).not.toBe(null);
  });

  it('whose files come only in part is not installed', async () => {
    fetch.mockImplementation(async (url) => ({ ok: !url.includes('en-1'), status: 503 }));
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
    expect(caches.places.size).toBe(2);
    second.hear({ type: 'SKIP_WAITING' });
    expect(second.self.skipWaiting).toHaveBeenCalledTimes(1);
    await second.wait('activate');
    expect(caches.places.size).toBe(1);
    expect(second.self.clients.claim).toHaveBeenCalled();
    expect(await second.ask('/assets/index-2.js')).toBe('from the server: /assets/index-2.js');
  });
});
