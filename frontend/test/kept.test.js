import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it, vi } from 'vitest';

const LOTS = '/api/v1/lots/?page_size=100';
const LOT = '/api/v1/lots/a/';
const MINUTE_MS = 60_000;

/** An INVENTED list of lots: kilograms by id. */
const lots = (rows) => ({ count: Object.keys(rows).length, results: Object.entries(rows).map(([id, kg]) => ({ id, kg })) });
const whole = (cursor, documents) => ({ since: null, cursor, documents, gone: [] });

let phone;
let server;
let person;
let now;

/** The page opened anew over the same phone, in the same hands. */
async function reopened() {
  vi.resetModules();
  const [answers, kept, network, people, store] = await Promise.all(
    ['answers', 'kept', 'network', 'people', 'store'].map((name) => import(`../src/${name}.js`)),
  );
  phone = { answers, kept, network, people, store };
  people.welcome(person, { member: { id: 7, name: 'Mercy', role: 'member' }, cooperative: {} });
}

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  vi.stubGlobal('isSecureContext', true);
  now = Date.parse('2026-03-02T08:00:00Z');
  vi.spyOn(Date, 'now').mockImplementation(() => now);
  vi.spyOn(console, 'warn').mockImplementation(() => {});
  person = { holder: '7', token: 'token', key: await (await import('../src/lock.js')).newKey() };
  server = { asked: [], answers: [], at: {} };
  vi.stubGlobal('fetch', vi.fn(async (path, { headers }) => {
    if (!path.startsWith('/api/v1/kept/')) return new Response(JSON.stringify(server.at[path]), { status: server.at[path] ? 200 : 404 });
    server.asked.push({ ...Object.fromEntries(new URLSearchParams(path.split('?')[1])), known: headers['If-None-Match'] });
    const answer = server.answers.shift();
    if (answer instanceof Error) throw answer;
    return answer ? new Response(JSON.stringify(answer)) : new Response(null, { status: 304 });
  }));
  await reopened();
});

/** What comes next, asked for a quarter of an hour later. */
async function download(...answers) {
  now += 15 * MINUTE_MS;
  server.answers = answers;
  await phone.kept.bringKept();
}

const there = async (path) => (await phone.answers.recall(path)).value;

describe('what came of an answer', () => {
  it('is put together with what was there', () => {
    const { composed } = phone.kept;
    expect(composed({ value: 1 }, null)).toBe(1);
    expect(composed({ head: { state: 'closed' } }, { id: 'a', state: 'open' })).toEqual({ id: 'a', state: 'closed' });
    expect(composed({ head: { count: 2 }, rows: [{ id: 'c', kg: 3 }], order: ['c', 'b'] }, lots({ a: 1, b: 2 }))).toEqual(lots({ c: 3, b: 2 }));
    expect(composed({ head: {}, rows: [{ id: 1, kg: 9 }] }, { entries: [{ id: 1, kg: 1 }, { id: 2, kg: 2 }] })).toEqual({ entries: [{ id: 1, kg: 9 }, { id: 2, kg: 2 }] });
    expect(() => composed({ head: {}, rows: [], order: ['z'] }, lots({ a: 1 }))).toThrow('missing');
  });

  it('has its curves again, to the last digit', () => {
    const steps = { _by: 100, _steps: [-1800, 0, 2, 6, 7, 10, 10, 11] };
    const curve = [-18, -18, -17.98, -17.92, -17.85, -17.75, -17.65, -17.54];
    const table = { _columns: { id: ['a', 'b'], kg: { _by: 10, _steps: [5, 5] } } };
    expect(phone.kept.lengthened({ best: [steps], table, note: null })).toEqual({ best: [curve], table: [{ id: 'a', kg: 0.5 }, { id: 'b', kg: 1 }], note: null });
  });
});

describe('the first download', () => {
  it('is there without a signal, locked, and says how old it is', async () => {
    await download(whole('one', [{ path: LOTS, value: lots({ a: 1 }) }, { path: LOT, value: { id: 'a', kg: 1 } }]));
    const at = now;
    now += MINUTE_MS;
    await reopened();
    const kept = await phone.answers.recall(LOTS);
    expect([kept.value, kept.kept_at]).toEqual([lots({ a: 1 }), at]);
    const rows = await phone.store.readGiven('7');
    expect(JSON.stringify([...rows])).not.toContain('kg');
    expect((await phone.answers.listKept()).map((one) => one.path).sort()).toEqual([LOTS, LOT].sort());
  });

  it('outlives any number of other answers', async () => {
    await download(whole('one', [{ path: LOTS, value: lots({ a: 1 }) }]));
    for (let count = 0; count < 125; count += 1) {
      now += 1;
      await phone.store.keepOwnAnswer('7', `/${count}`, { count });
    }
    expect(await there(LOTS)).toEqual(lots({ a: 1 }));
  });

  it('is drawn where a screen waits for it', async () => {
    const answer = phone.answers.answerTo(LOTS);
    await download(whole('one', [{ path: LOTS, value: lots({ a: 1 }) }]));
    expect(answer.value.value).toEqual(lots({ a: 1 }));
    expect(phone.kept.keptAt.value).toBe(now);
  });
});

describe('the next download', () => {
  beforeEach(() => download(whole('one', [{ path: LOTS, value: lots({ a: 1, b: 2 }) }, { path: LOT, value: { id: 'a', kg: 1 } }])));

  it('builds on the one before, and drops what is gone', async () => {
    await download({ since: 'one', cursor: 'two', documents: [{ path: LOTS, head: { count: 1 }, rows: [], order: ['b'] }], gone: [LOT] });
    expect(server.asked.at(-1)).toMatchObject({ since: 'one', known: '"one"' });
    expect(await there(LOTS)).toEqual(lots({ b: 2 }));
    await reopened();
    expect(await there(LOT)).toBe(null);
    expect((await phone.store.readState('7')).cursor).toBe('two');
  });

  it('makes everything as new as it is, where nothing changed', async () => {
    await download(null);
    expect((await phone.answers.recall(LOT)).kept_at).toBe(phone.kept.keptAt.value);
    await reopened();
    expect((await phone.answers.recall(LOT)).kept_at).toBe(now);
  });

  it('of tomorrow builds on what was asked today', async () => {
    const [today, tomorrow] = [2, 3].map((day) => `/api/v1/departures/?from=2026-03-0${day}`);
    await download({ since: 'one', cursor: 'two', documents: [{ path: today, value: lots({ a: 1, b: 2 }) }], gone: [] });
    await download({ since: 'two', cursor: 'three', documents: [{ path: tomorrow, like: today, head: {}, rows: [{ id: 'c', kg: 3 }], order: ['b', 'c'] }], gone: [today] });
    expect(await there(tomorrow)).toEqual(lots({ b: 2, c: 3 }));
  });

  it('that is lost or breaks off leaves all as it was, and is asked for again', async () => {
    const next = { since: 'one', cursor: 'two', documents: [{ path: LOTS, head: {}, rows: [{ id: 'a', kg: 9 }] }, { path: LOT, head: { kg: 9 } }], gone: [] };
    await expect(download(new TypeError('no signal'))).rejects.toBeInstanceOf(phone.network.NoSignal);
    phone.network.online.value = true;
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementationOnce(function once(row) {
      put.mockRestore();
      queueMicrotask(() => this.transaction.abort());
      return this.put(row);
    });
    await expect(download(next, new TypeError('no signal'))).rejects.toThrow();
    await reopened();
    expect([await there(LOTS), (await phone.store.readState('7')).cursor]).toEqual([lots({ a: 1, b: 2 }), 'one']);
    await download(next);
    expect(server.asked.at(-1).since).toBe('one');
    expect([await there(LOTS), await there(LOT)]).toEqual([lots({ a: 9, b: 2 }), { id: 'a', kg: 9 }]);
  });

  it('builds on what was given, though a screen has asked since and seen what changed back', async () => {
    now += MINUTE_MS;
    server.at[LOTS] = lots({ a: 5, b: 2 });
    await phone.answers.refresh(LOTS);
    await reopened();
    expect((await phone.answers.recall(LOTS)).value).toEqual(lots({ a: 5, b: 2 }));
    await download({ since: 'one', cursor: 'two', documents: [{ path: LOTS, head: {}, rows: [{ id: 'b', kg: 7 }] }], gone: [] });
    expect(await there(LOTS)).toEqual(lots({ a: 1, b: 7 }));
    await reopened();
    expect(await there(LOTS)).toEqual(lots({ a: 1, b: 7 }));
  });

  it('does not hide what a screen asked later than it', async () => {
    server.at[LOTS] = lots({ a: 5, b: 2, c: 3 });
    now += 15 * MINUTE_MS;
    server.answers = [{ since: 'one', cursor: 'two', documents: [{ path: LOTS, head: {}, rows: [{ id: 'a', kg: 5 }] }], gone: [] }];
    const coming = phone.kept.bringKept();
    await vi.waitFor(() => expect(server.answers).toEqual([]));
    now += 1;
    await Promise.all([phone.answers.refresh(LOTS), coming]);
    await reopened();
    expect(await there(LOTS)).toEqual(lots({ a: 5, b: 2, c: 3 }));
  });

  it('comes whole where the phone lost what it builds on', async () => {
    const broken = { since: 'one', cursor: 'two', documents: [{ path: '/api/v1/never/', head: {} }], gone: [] };
    await download(broken, whole('two', [{ path: LOT, value: { id: 'a', kg: 3 } }]));
    expect(server.asked.slice(-2).map((one) => one.since)).toEqual(['one', undefined]);
    await reopened();
    expect([await there(LOT), await there(LOTS)]).toEqual([{ id: 'a', kg: 3 }, null]);
  });

  it('is nothing where another page of this phone was faster', async () => {
    await phone.store.keepGiven('7', 'one', { given: [], gone: [], state: { cursor: 'other', at: now, about: '' } });
    await phone.store.keepGiven('7', 'one', { given: [], gone: [LOTS], state: { cursor: 'two', at: now, about: '' } });
    expect((await phone.store.readState('7')).cursor).toBe('other');
    expect(await there(LOTS)).toEqual(lots({ a: 1, b: 2 }));
  });
});

describe('the phone asks', () => {
  const nothing = whole('one', []);

  it('by itself every quarter of an hour at most, and at once when wished', async () => {
    await download(nothing);
    now += 14 * MINUTE_MS;
    server.answers = [null];
    await phone.kept.bringKept();
    expect(server.asked.length).toBe(1);
    await phone.kept.bringKept(true);
    expect(server.asked.length).toBe(2);
  });

  it('not by itself where data is to be spared, and then for less', async () => {
    vi.stubGlobal('navigator', { ...navigator, onLine: true, connection: { saveData: true } });
    await download(nothing);
    expect(server.asked).toEqual([]);
    await phone.kept.bringKept(true);
    expect(server.asked[0].sparing).toBe('true');
    vi.unstubAllGlobals();
  });

  it('in the name of whoever is unlocked, and keeps it for her alone', async () => {
    await download(whole('one', [{ path: LOTS, value: lots({ a: 1 }) }]));
    phone.people.lock();
    await phone.kept.bringKept(true);
    expect(server.asked.length).toBe(1);
    expect(await there(LOTS)).toBe(null);
  });

  it('and keeps nothing of hers once she has left', async () => {
    server.answers = [whole('one', [{ path: LOTS, value: lots({ a: 1 }) }])];
    const coming = phone.kept.bringKept(true);
    await vi.waitFor(() => expect(server.answers).toEqual([]));
    await phone.people.forget('7');
    await coming;
    expect(await phone.store.readState('7')).toBeUndefined();
    expect((await phone.store.readGiven('7')).size).toBe(0);
  });

  it('anew for everything once her key is another one', async () => {
    await download(whole('one', [{ path: LOTS, value: lots({ a: 1 }) }]));
    await phone.store.dropOwnAnswers('7');
    await download(nothing);
    expect(server.asked.at(-1).since).toBeUndefined();
  });
});

describe('a full phone', () => {
  const fill = () => vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
    throw new DOMException('full', 'QuotaExceededError');
  });

  it('says that it is full, asks for no more at once, and still has what was kept', async () => {
    await download(whole('c1', [{ path: LOTS, value: lots({ a: 1 }) }]));
    const filled = fill();
    const change = { since: 'c1', cursor: 'c2', gone: [], documents: [{ path: LOTS, head: {}, rows: [{ id: 'a', kg: 9 }] }] };
    await expect(download(change, whole('c2', []))).rejects.toMatchObject({ name: 'QuotaExceededError' });
    expect([phone.kept.full.value, server.asked.length]).toEqual([true, 2]);
    expect(await there(LOTS)).toEqual(lots({ a: 1 }));
    filled.mockRestore();
    await download(change);
    expect([phone.kept.full.value, server.asked.at(-1).since]).toEqual([false, 'c1']);
  });
});
