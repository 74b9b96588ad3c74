/** The only file that talks to IndexedDB: settings, answers by the path that was asked, and who holds the phone. */
import { signal } from '@preact/signals';
import { openDB } from 'idb';

const MOST_ANSWERS = 120;
const OLDEST_MS = 45 * 24 * 3_600_000;

/** @typedef {{path: string, value: any, kept_at: number}} Kept an answer and when it was kept, ms since 1970 */

/**
 * Upgrades of the database, in order. Only ever add at the end: a phone may come from any earlier number.
 *
 * @type {((database: import('idb').IDBPDatabase) => void)[]}
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
];

/** Whether what is kept outlives this page; false in private windows that refuse a database. */
export const lasting = signal(true);

let database;
const open = () => (database ??= openDatabase());

async function openDatabase() {
  try {
    return await openDB('carton-hour', UPGRADES.length, {
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

/** @param {'answers' | 'own_answers'} place */
async function keep(place, kept) {
  const opened = await open();
  try {
    await opened?.put(place, kept);
    if (opened) await prune(opened, place);
  } catch (failure) {
    // A full phone still shows the answer; it just cannot keep it.
    console.warn('the answer could not be kept:', failure.message);
    lasting.value = false;
  }
  return kept;
}

/** @param {string} path @param {any} value @returns {Promise<Kept>} */
export const keepAnswer = (path, value) => keep('answers', { path, value, kept_at: Date.now() });

/** Drops what is too old, and the oldest beyond the number kept. */
async function prune(opened, place) {
  const all = await opened.getAllKeysFromIndex(place, 'kept_at');
  const old = await opened.getAllKeysFromIndex(place, 'kept_at', IDBKeyRange.upperBound(Date.now() - OLDEST_MS));
  const surplus = all.slice(0, Math.max(0, all.length - MOST_ANSWERS));
  await Promise.all([...old, ...surplus].map((key) => opened.delete(place, key)));
}

/** @typedef {{holder: string, path: string, sealed: import('./lock.js').Sealed, kept_at: number}} Own an answer that only its owner can read */

/** @param {string} holder @param {string} path @returns {Promise<Own | undefined>} */
export const readOwnAnswer = async (holder, path) => (await open())?.get('own_answers', [holder, path]);

/** @param {string} holder @param {string} path @param {import('./lock.js').Sealed} sealed @returns {Promise<Own>} */
export const keepOwnAnswer = (holder, path, sealed) => keep('own_answers', { holder, path, sealed, kept_at: Date.now() });

/** @param {string} holder @returns {Promise<Own[]>} newest first */
export async function listOwnAnswers(holder) {
  const kept = (await (await open())?.getAllFromIndex('own_answers', 'holder', holder)) ?? [];
  return kept.sort((one, other) => other.kept_at - one.kept_at);
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

/** @param {string} id */
export async function dropHolder(id) {
  await dropOwnAnswers(id);
  const opened = await open();
  await opened?.delete('settings', IDBKeyRange.bound(`${id}/`, `${id}/\uffff`));
  await opened?.delete('people', id);
}
