/** The only file that talks to IndexedDB: settings, and answers by the path that was asked. */
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

/** @param {string} path @param {any} value @returns {Promise<Kept>} */
export async function keepAnswer(path, value) {
  const kept = { path, value, kept_at: Date.now() };
  const opened = await open();
  try {
    await opened?.put('answers', kept);
    if (opened) await prune(opened);
  } catch (failure) {
    // A full phone still shows the answer; it just cannot keep it.
    console.warn('the answer could not be kept:', failure.message);
    lasting.value = false;
  }
  return kept;
}

/** Drops what is too old, and the oldest beyond the number kept. */
async function prune(opened) {
  const all = await opened.getAllKeysFromIndex('answers', 'kept_at');
  const old = await opened.getAllKeysFromIndex('answers', 'kept_at', IDBKeyRange.upperBound(Date.now() - OLDEST_MS));
  const surplus = all.slice(0, Math.max(0, all.length - MOST_ANSWERS));
  await Promise.all([...new Set([...old, ...surplus])].map((path) => opened.delete('answers', path)));
}
