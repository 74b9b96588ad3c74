import { IDBFactory } from 'fake-indexeddb';
import { openDB } from 'idb';
import { beforeEach, describe, expect, it, vi } from 'vitest';

const DAY_MS = 86_400_000;
let store;

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  vi.resetModules();
  store = await import('../src/store.js');
});

describe('the store', () => {
  it('keeps settings and answers', async () => {
    await store.writeSetting('language', 'fr');
    await store.keepAnswer('/a', { hours: [1, 2] });
    expect(await store.readSetting('language')).toBe('fr');
    expect((await store.readAnswer('/a')).value).toEqual({ hours: [1, 2] });
    expect(await store.readAnswer('/b')).toBeUndefined();
  });

  it('lists answers with the newest first', async () => {
    vi.spyOn(Date, 'now').mockReturnValueOnce(1000).mockReturnValueOnce(3000).mockReturnValueOnce(2000).mockReturnValue(3000);
    for (const path of ['/a', '/b', '/c']) await store.keepAnswer(path, 1);
    vi.restoreAllMocks();
    const paths = (await store.listAnswers()).map((one) => one.path);
    expect(new Set(paths)).toEqual(new Set(['/a', '/b', '/c']));
    expect(paths.at(-1)).toBe('/a');
  });

  it('drops what is 45 days old', async () => {
    const clock = vi.spyOn(Date, 'now').mockReturnValue(0);
    await store.keepAnswer('/old', 1);
    clock.mockReturnValue(46 * DAY_MS);
    await store.keepAnswer('/new', 1);
    clock.mockRestore();
    expect((await store.listAnswers()).map((one) => one.path)).toEqual(['/new']);
  });

  it('keeps the newest 120 answers', async () => {
    const clock = vi.spyOn(Date, 'now');
    for (let count = 0; count < 125; count += 1) {
      clock.mockReturnValue(count);
      await store.keepAnswer(`/${count}`, count);
    }
    clock.mockRestore();
    const kept = await store.listAnswers();
    expect(kept.length).toBe(120);
    expect(await store.readAnswer('/4')).toBeUndefined();
    expect((await store.readAnswer('/124')).value).toBe(124);
  });

  it('opens from every earlier number of the database', async () => {
    for (let from = 1; from <= store.UPGRADES.length; from += 1) {
      globalThis.indexedDB = new IDBFactory();
      const old = await openDB('carton-hour', from, { upgrade: (database) => store.UPGRADES.slice(0, from).forEach((step) => step(database)) });
      await old.put('settings', 'fr', 'language');
      const held = { people: { id: '1' }, outbox: { holder: '1', sealed: 'x' } };
      const there = Object.entries(held).filter(([name]) => old.objectStoreNames.contains(name));
      for (const [name, row] of there) await old.put(name, row);
      old.close();
      vi.resetModules();
      const later = await import('../src/store.js');
      expect(await later.readSetting('language')).toBe('fr');
      await later.keepAnswer('/a', 1);
      expect((await later.readAnswer('/a')).value).toBe(1);
      expect((await later.listHolders()).length).toBe(from > 1 ? 1 : 0);
      const waited = there.some(([name]) => name === 'outbox') ? 1 : 0;
      expect((await later.listWrites('1')).length).toBe(waited);
      await later.keepWrite({ holder: '1', sealed: 'y' });
      expect((await later.listWrites('1')).map(({ sealed }) => sealed)).toEqual(waited ? ['x', 'y'] : ['y']);
      expect(await later.countWrites()).toEqual({ 1: waited + 1 });
    }
  });

  it('says when the phone lets it keep nothing, and goes on', async () => {
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    vi.spyOn(globalThis.indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('refused', 'SecurityError');
    });
    expect((await store.keepAnswer('/a', 1)).value).toBe(1);
    expect(await store.readAnswer('/a')).toBeUndefined();
    expect(store.lasting.value).toBe(false);
    vi.restoreAllMocks();
  });
});
