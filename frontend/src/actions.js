/** What a person writes: sent in her name, and answered, refused, or not sent at all. */
import { outdate } from './answers.js';
import { getFile, write } from './network.js';
import { asPerson, noticeOut } from './people.js';
import { language } from './words.js';

/**
 * Sends in the name of whoever is unlocked. Nothing is repeated or kept for later: a NoSignal says that it may not have
 * arrived, so a client gives each new thing its own id (crypto.randomUUID) when the form opens, and sends that again.
 *
 * @param {'POST' | 'PATCH'} method @param {string} path under /api/v1/ @param {any} [body]
 * @returns {Promise<any>} the answer
 * @throws {import('./network.js').Refused} with `fields`, `code`, `status`, `wait_s`
 * @throws {import('./network.js').NoSignal} nothing came back
 * @throws {import('./network.js').NoAnswer} the server is broken
 */
export async function send(method, path, body) {
  const person = asPerson();
  try {
    return await write(method, path, body, { language: language.value, token: person?.token });
  } catch (problem) {
    await noticeOut(problem, person);
    throw problem;
  } finally {
    outdate();
  }
}

/** A file in the name of whoever is unlocked. @param {string} path @returns {Promise<Blob>} */
export async function bringFile(path) {
  const person = asPerson();
  try {
    return await getFile(path, { language: language.value, token: person?.token });
  } catch (problem) {
    await noticeOut(problem, person);
    throw problem;
  }
}

/** @param {string} path @param {any} [body] */
export const post = (path, body) => send('POST', path, body);

/** @param {string} path @param {any} body */
export const patch = (path, body) => send('PATCH', path, body);
