/** Who holds this phone: several may, each behind an own code. Whoever is unlocked is `me`; her key lives in memory only. */
import { computed, signal } from '@preact/signals';
import { seal, unseal } from './lock.js';
import { Refused, get } from './network.js';
import { changeHolder, dropHolder, listHolders } from './store.js';
import { language } from './words.js';

/** Without a touch for so long, the phone may lie in other hands. */
export const IDLE_MS = 15 * 60_000;
const LOOK_EVERY_MS = 10_000;

/**
 * @typedef {Object} Me what the interface says of whoever asks
 * @property {{id: number, name: string, role: 'member' | 'packer' | 'manager'}} member
 * @property {{slug: string, name: string, currency: string, currency_decimals: number, coin_minor: number, time_zone: string}} cooperative
 * @property {{id: string, name: string}} phone
 */

/**
 * @typedef {Object} Holder as the store has it: the name can be read by all who hold the phone, the rest by its owner
 * @property {string} id
 * @property {string} name
 * @property {string} role
 * @property {string} cooperative its name
 * @property {string} phone uuid by which the server knows this phone
 * @property {string} expires_at
 * @property {boolean} out whether the server no longer knows the token
 * @property {number} tries wrong codes since the last right one
 * @property {number} tried_at ms
 * @property {import('./lock.js').LockedKey} lock
 * @property {import('./lock.js').Sealed} sealed token and Me
 */

/** @typedef {{holder: string, token: string, key: CryptoKey}} Person in memory while unlocked */

/** @type {import('@preact/signals').Signal<Holder[]>} */
export const holders = signal([]);
/** @type {import('@preact/signals').Signal<Me | null>} */
export const me = signal(null);
/** Whether somebody looks at what visitors of the demonstration see, though the phone has holders. */
export const looking = signal(false);

const person = signal(null);

/** Whose answers are asked for now: pass it along, so that none comes under another's name. @returns {Person | null} */
export const asPerson = () => person.value;

/** The holder that is unlocked, or '' for a visitor. */
export const who = computed(() => person.value?.holder ?? '');
/** The holder that is unlocked, as the store has it. */
export const holding = computed(() => holders.value.find((one) => one.id === who.value) ?? null);

const STEPS = ['member', 'packer', 'manager'];
/** @param {'member' | 'packer' | 'manager'} role the least that is needed */
export const isAtLeast = (role) => STEPS.indexOf(me.value?.member.role) >= STEPS.indexOf(role);

let touched_at = 0;
export const touch = () => (touched_at = Date.now());

export async function readHolders() {
  holders.value = await listHolders();
}

/** @param {Person} unlocked @param {Me} known */
export function welcome(unlocked, known) {
  touch();
  person.value = unlocked;
  me.value = known;
  looking.value = false;
}

export function lock() {
  person.value = null;
  me.value = null;
}

/** A clock that was set back counts as time that has passed. */
const idle = () => Date.now() - touched_at >= IDLE_MS || Date.now() < touched_at;

function lockWhenIdle() {
  if (person.value && idle()) lock();
}

export function watchTouch() {
  // Before anything else hears of it: the first touch after a long while opens nothing.
  const hear = () => {
    lockWhenIdle();
    touch();
  };
  for (const kind of ['pointerdown', 'keydown']) addEventListener(kind, hear, { capture: true });
  document.addEventListener('visibilitychange', lockWhenIdle);
  setInterval(lockWhenIdle, LOOK_EVERY_MS);
}

/** @param {string} id @param {Partial<Holder>} change */
export async function noteOf(id, change) {
  await changeHolder(id, (holder) => ({ ...holder, ...change }));
  await readHolders();
}

/** The server says that it does not know the token: what is kept stays, and the screens say so. */
export function noticeOut(problem, asked) {
  if (asked && problem instanceof Refused && problem.status === 401) return noteOf(asked.holder, { out: true });
}

/** The clear part of a holder's row. @param {Me} known */
export const faceOf = (known) => ({
  name: known.member.name,
  role: known.member.role,
  cooperative: known.cooperative.name,
  phone: known.phone.id,
});

/** Asks who she is by now: the name or the role may have changed. */
export async function freshenMe() {
  const asked = asPerson();
  try {
    const known = await get('/api/v1/me/', { language: language.value, token: asked.token });
    const sealed = await seal(asked.key, { token: asked.token, me: known });
    await noteOf(asked.holder, { ...faceOf(known), sealed, out: false });
    if (asPerson() === asked) me.value = known;
  } catch (problem) {
    // Without a signal she goes on as the phone knows her.
    await noticeOut(problem, asked);
  }
}

/** @param {CryptoKey} key @param {Holder} holder */
export async function enter(key, holder) {
  const { token, me: known } = await unseal(key, holder.sealed);
  welcome({ holder: holder.id, token, key }, known);
}

/** Everything of hers leaves this phone. @param {string} id */
export async function forget(id) {
  if (who.value === id) lock();
  await dropHolder(id);
  await readHolders();
}
