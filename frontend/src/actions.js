/** What a person writes: sent in her name, and answered, refused, kept for later, or not sent at all. */
import { outdate } from './answers.js';
import { getFile } from './network.js';
import { hold, post as keep, sendAs, settle } from './outbox.js';
import { asPerson, noticeOut } from './people.js';
import { mayWait } from './waiting.js';
import { language } from './words.js';

/** Keys of writes that got no answer: the same again is the same write. @type {Map<string, string>} */
const unanswered = new Map();

async function sendNow(what) {
  const person = asPerson();
  // What it may rest on goes before it.
  await settle(what);
  const text = JSON.stringify(what);
  const key = unanswered.get(text) ?? crypto.randomUUID();
  unanswered.set(text, key);
  try {
    const answer = await sendAs(person, { ...what, key });
    unanswered.delete(text);
    return answer;
  } catch (problem) {
    if (problem.status) unanswered.delete(text);
    await noticeOut(problem, person);
    if (problem.current) await hold(what, problem);
    throw problem;
  } finally {
    outdate();
  }
}

/**
 * Sends in the name of whoever is unlocked. What a form writes goes through the outbox where it may wait; the rest
 * needs its answer at once, and a NoSignal says that it may not have arrived. What takes something back and is `undoable`
 * always goes through the outbox.
 *
 * @param {'POST' | 'PATCH'} method @param {string} path under /api/v1/ @param {any} [body]
 * @param {{seen?: string, form?: any, typed?: any, place?: string, n?: number, undoable?: boolean, forgets?: string}} [form] that it was written on
 * @returns {Promise<any>} the answer
 * @throws {import('./network.js').Refused} with `fields`, `code`, `status`, `wait_s`
 * @throws {import('./outbox.js').Kept} no answer yet, and it waits
 * @throws {import('./network.js').NoSignal} nothing came back
 * @throws {import('./network.js').NoAnswer} the server is broken
 */
export const send = (method, path, body, form) => (form && (form.undoable || mayWait(path)) ? keep : sendNow)({ method, path, body, ...form });

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
