/** Taking a person onto this phone, by the manager's code or by name and password, and off it again. */
import { WrongCode, lockKey, newKey, openKey, seal } from './lock.js';
import { Refused, write } from './network.js';
import { asPerson, enter, faceOf, forget, holders, readHolders } from './people.js';
import { dropOwnAnswers, keepHolder, readHolder } from './store.js';
import { language, t } from './words.js';

const CODE = /^[2-9A-HJKMNP-TV-Z]{10}$/;

/** A code as the server takes it, or null where it cannot be one. @param {string} text */
export function readCode(text) {
  const letters = text.toUpperCase().replace(/[\s\u2010-\u2015-]/g, '');
  return CODE.test(letters) ? `${letters.slice(0, 5)}-${letters.slice(5)}` : null;
}

/** One phone is one phone for the server, however many hold it. */
const thisPhone = (name) => ({ phone_name: name || t('phone.unnamed'), phone: holders.value.at(-1)?.phone ?? null });

const as = () => ({ language: language.value, token: asPerson()?.token });

/** The key that her kept answers are locked with, if it can still be had. */
async function oldKey(id, own) {
  if (asPerson()?.holder === id) return asPerson().key;
  const before = await readHolder(id);
  try {
    return before ? await openKey(before.lock, own) : null;
  } catch (failure) {
    if (failure instanceof WrongCode) return null;
    throw failure;
  }
}

async function freshKey(id) {
  // What was locked with a key that nobody has any more is only in the way.
  await dropOwnAnswers(id);
  return newKey();
}

/** @param {{token: string, expires_at: string, me: import('./people.js').Me}} session @param {string} own her code on this phone */
export async function takeOn({ token, expires_at, me }, own) {
  const id = String(me.member.id);
  const key = (await oldKey(id, own)) ?? (await freshKey(id));
  const [lock, sealed] = [await lockKey(key, own), await seal(key, { token, me })];
  const holder = { id, ...faceOf(me), expires_at, out: false, tries: 0, tried_at: 0, lock, sealed };
  await keepHolder(holder);
  await readHolders();
  await enter(key, holder);
  // Else a phone that runs full would drop what waits to be sent; a browser that refuses says so on /outbox.
  navigator.storage?.persist?.();
}

/** The own code is chosen before: a code of the manager is used up by the first answer. @param {string} code @param {string} own @param {string} [name] of the phone */
export const enrol = async (code, own, name) =>
  takeOn(await write('POST', '/api/v1/enrolments/', { code, ...thisPhone(name) }, { language: language.value }), own);

/** @param {string} name @param {string} password @param {string} own */
export const signIn = async (name, password, own) =>
  takeOn(await write('POST', '/api/v1/sign-in/', { name, password, ...thisPhone() }, { language: language.value }), own);

/** A code for one of the invented people. @param {number} member */
export const codeToLookAs = async (member) => (await write('POST', '/api/v1/demonstration/', { member }, { language: language.value })).code;

/** Whoever is unlocked leaves this phone; the server is told first, unless it let her out before. */
export async function signOut() {
  const { holder } = asPerson();
  try {
    await write('POST', '/api/v1/sign-out/', {}, as());
  } catch (problem) {
    if (!(problem instanceof Refused && problem.status === 401)) throw problem;
  }
  await forget(holder);
}
