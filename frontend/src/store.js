/** The only file that talks to IndexedDB: settings, answers by the path that was asked, who holds the phone, and what waits. */
import { signal } from '@preact/signals';
import { openDatabaseOf } from './database.js';

const MOST_ANSWERS = 120;
const OLDEST_MS = 45 * 24 * 3_600_000;

/** @typedef {{path: string, value: any, kept_at: number}} Kept an answer and when it was kept, ms since 1970 */

/**
 * Upgrades of the database, in order. Only ever add at the end: a phone may come from any earlier number.
 *
 * @type {((database: IDBDatabase) => void)[]}
 */
export const UPGRADES = [
  (database) => {
    database.createObjectStore('settings');
    database.createObjectStore('answers', { keyPath: 'path' }).createIndex('kept_at', 'kept_at');
  },
  (database) => {
    database.createObjectStore('people', { keyPath: 'id' });
    const own = database.createObjectStore('own_answers', { keyPath: ['holder', 'path'] });
    own.createIndex('kept_at', 'kept_at');
    own.createIndex('holder', 'holder');
  },
  (database) => void database.createObjectStore('outbox', { keyPath: 'n', autoIncrement: true }).createIndex('holder', 'holder'),
];

/** Whether what is kept outlives this page; false in private windows that refuse a database. */
export const lasting = signal(true);

let database;
const open = () => (database ??= openDatabase());

async function openDatabase() {
  try {
    return await openDatabaseOf('carton-hour', UPGRADES.length, {
      upgrade(opened, from) {
        for (const step of UPGRADES.slice(from)) step(opened);
      },
      blocking() {
        // Another page of ours has a newer database to set up: let go of this one.
        database?.then((opened) => opened?.close());
        database = undefined;
      },
    });
  } catch (failure) {
    console.warn('nothing can be kept on this phone:', failure.message);
    lasting.value = false;
    return null;
  }
}

/** @param {string} key */
export const readSetting = async (key) => (await open())?.get('settings', key);

/** @param {string} key @param {any} value */
export const writeSetting = async (key, value) => (await open())?.put('settings', value, key);

/** @param {string} path @returns {Promise<Kept | undefined>} */
export const readAnswer = async (path) => (await open())?.get('answers', path);

/** @returns {Promise<Kept[]>} newest first */
export async function listAnswers() {
  const kept = (await (await open())?.getAllFromIndex('answers', 'kept_at')) ?? [];
  return kept.reverse();
}

/** @param {'answers' | 'own_answers'} place @param {(before: any) => any} make what stands there now, of what stood there before */
async function keep(place, key, make) {
  const opened = await open();
  try {
    const step = opened?.transaction(place, 'readwrite');
    await step?.store.put(make(await step.store.get(key)));
    if (opened) await prune(opened, place);
  } catch (failure) {
    // A full phone still shows the answer; it just cannot keep it.
    console.warn('the answer could not be kept:', failure.message);
    lasting.value = false;
  }
}

/** @param {string} path @param {any} value @returns {Promise<Kept>} */
export async function keepAnswer(path, value) {
  const kept = { path, value, kept_at: Date.now() };
  await keep('answers', path, () => kept);
  return kept;
}

/** Drops what is too old, and the oldest beyond the number kept. */
async function prune(opened, place) {
  const all = await opened.getAllKeysFromIndex(place, 'kept_at');
  const old = await opened.getAllKeysFromIndex(place, 'kept_at', IDBKeyRange.upperBound(Date.now() - OLDEST_MS));
  const surplus = all.slice(0, Math.max(0, all.length - MOST_ANSWERS));
  await Promise.all([...old, ...surplus].map((key) => opened.delete(place, key)));
}

/** @typedef {{path: string, sealed: import('./lock.js').Sealed, kept_at: number}} Own an answer that only its owner can read */

/**
 * A row of `own_answers`. What a screen asked has `sealed` and `kept_at`. What came with everything (kept.js) has `given`,
 * on which its next changes build; a screen that asks it anew lays `sealed` and `seen_at` beside it. Such a row has no
 * `kept_at`, so that it never counts as too old or one too many.
 *
 * The row of the path KEPT says what all those given rows are: the cursor, and `at`, when they were asked for.
 */
export const KEPT = '/api/v1/kept/';

/** @typedef {{cursor: string, at: number, about: string}} State */

/** What stands in a row: what was given, unless a screen has asked since. @returns {Own} */
function standing({ path, given, sealed, seen_at, kept_at }, at) {
  return given && !(seen_at > at) ? { path, sealed: given, kept_at: at } : { path, sealed, kept_at: kept_at ?? seen_at };
}

const readOwn = async (holder, path) => (await open())?.get('own_answers', [holder, path]);

/** @param {string} holder @returns {Promise<State | undefined>} */
export const readState = (holder) => readOwn(holder, KEPT);

/** @param {string} holder @param {string} path @returns {Promise<Own | undefined>} */
export async function readOwnAnswer(holder, path) {
  const [own, state] = await Promise.all([readOwn(holder, path), readState(holder)]);
  return own && standing(own, state?.at);
}

/** @param {string} holder @param {string} path @param {import('./lock.js').Sealed} sealed @returns {Promise<Own>} */
export async function keepOwnAnswer(holder, path, sealed) {
  const now = Date.now();
  await keep('own_answers', [holder, path], (before) =>
    before?.given ? { ...before, sealed, seen_at: now } : { holder, path, sealed, kept_at: now },
  );
  return { path, sealed, kept_at: now };
}

const readAllOwn = async (holder) => (await (await open())?.getAllFromIndex('own_answers', 'holder', holder)) ?? [];

/** @param {string} holder @returns {Promise<Own[]>} newest first */
export async function listOwnAnswers(holder) {
  const rows = await readAllOwn(holder);
  const at = rows.find((row) => row.path === KEPT)?.at;
  const kept = rows.filter((row) => row.path !== KEPT).map((row) => standing(row, at));
  return kept.sort((one, other) => other.kept_at - one.kept_at);
}

/** What came with everything, by path. @param {string} holder @returns {Promise<Map<string, import('./lock.js').Sealed>>} */
export async function readGiven(holder) {
  return new Map((await readAllOwn(holder)).filter((row) => row.given).map((row) => [row.path, row.given]));
}

/**
 * One download in one step: all of it is kept, with its cursor, or nothing of it.
 *
 * @param {string} holder @param {string | undefined} since the cursor it builds on; nothing is kept where another page was faster
 * @param {{given: [string, import('./lock.js').Sealed][], gone: string[], state: State}} download
 */
export async function keepGiven(holder, since, { given, gone, state }) {
  const step = (await open()).transaction('own_answers', 'readwrite');
  const { store } = step;
  if ((await store.get([holder, KEPT]))?.cursor !== since) return;
  const before = await Promise.all(given.map(([path]) => store.get([holder, path])));
  const rows = given.map(([path, sealed], place) => {
    const seen_at = before[place]?.seen_at ?? before[place]?.kept_at;
    return { holder, path, given: sealed, ...(seen_at > state.at && { sealed: before[place].sealed, seen_at }) };
  });
  rows.push({ holder, path: KEPT, ...state });
  await Promise.all([step.done, ...gone.map((path) => store.delete([holder, path])), ...rows.map((row) => store.put(row))]);
}

/** @returns {Promise<import('./people.js').Holder[]>} */
export const listHolders = async () => (await (await open())?.getAll('people')) ?? [];

/** @param {string} id */
export const readHolder = async (id) => (await open())?.get('people', id);

/** A holder whom the phone cannot keep is an error, not a warning: her code at the server is used up. */
export async function keepHolder(holder) {
  const opened = await open();
  if (!opened) throw new Error('nothing can be kept on this phone');
  await opened.put('people', holder);
}

/**
 * Changes a holder in one step, so that two open pages count every try.
 *
 * @param {string} id @param {(holder: any) => any} change may throw: then nothing is changed
 */
export async function changeHolder(id, change) {
  const step = (await open()).transaction('people', 'readwrite');
  const holder = await step.store.get(id);
  if (!holder) throw new Error(`nobody of this phone: ${id}`);
  const changed = change(holder);
  await step.store.put(changed);
  await step.done;
  return changed;
}

/** @param {string} holder */
export async function dropOwnAnswers(holder) {
  const opened = await open();
  const keys = (await opened?.getAllKeysFromIndex('own_answers', 'holder', holder)) ?? [];
  await Promise.all(keys.map((key) => opened.delete('own_answers', key)));
}

/** @typedef {{n: number, holder: string, sealed: import('./lock.js').Sealed, undo_until?: number}} Waiting one write of the outbox; `n` is its place in the row, `undo_until` (ms) stands there until it is sent */

/** @param {string} holder @returns {Promise<Waiting[]>} in order */
export const listWrites = async (holder) => (await (await open())?.getAllFromIndex('outbox', 'holder', holder)) ?? [];

/** How many wait, by holder. @returns {Promise<Record<string, number>>} */
export async function countWrites() {
  const counts = {};
  for (const { holder } of (await (await open())?.getAll('outbox')) ?? []) counts[holder] = (counts[holder] ?? 0) + 1;
  return counts;
}

/** One step of the outbox that outlives a dead battery. */
async function stepOfOutbox(act) {
  const step = (await open()).transaction('outbox', 'readwrite', { durability: 'strict' });
  const done = await act(step.store);
  await step.done;
  return done;
}

/** @param {Omit<Waiting, 'n'> | Waiting} write @returns {Promise<number>} its place @throws where nothing can be kept */
export const keepWrite = (write) => stepOfOutbox((outbox) => outbox.put(write));

/** @param {number} n */
export const dropWrite = (n) => stepOfOutbox((outbox) => outbox.delete(n));

/** Takes what can still be undone: to be sent, or away. Of two that come at once one has it. @param {number} n @param {(outbox: any, row: Waiting) => Promise<any>} act @returns {Promise<boolean>} whether it was still there to be taken */
const takeUndoable = (n, act) => stepOfOutbox(async (outbox) => {
  const row = await outbox.get(n);
  if (row?.undo_until) await act(outbox, row);
  return Boolean(row?.undo_until);
});

/** From now on it may be on its way. @param {number} n */
export const settleWrite = (n) => takeUndoable(n, (outbox, { undo_until, ...row }) => outbox.put(row));

/** It never was. @param {number} n */
export const undoWrite = (n) => takeUndoable(n, (outbox) => outbox.delete(n));

/** All of hers goes, what waits too: whoever calls it has been told. @param {string} id */
export async function dropHolder(id) {
  await dropOwnAnswers(id);
  for (const { n } of await listWrites(id)) await dropWrite(n);
  const opened = await open();
  await opened?.delete('settings', IDBKeyRange.bound(`${id}/`, `${id}/\uffff`));
  await opened?.delete('people', id);
}
