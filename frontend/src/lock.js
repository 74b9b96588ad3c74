/** Locks what belongs to one person under a code that is neither stored nor sent. The only file that uses cryptography. */

/**
 * What a guess costs whoever copied the phone. Source: OWASP Password Storage Cheat Sheet, PBKDF2-HMAC-SHA256, 2023.
 * Even so a short code keeps out a neighbour, no laboratory: a lost phone is revoked.
 */
const ROUNDS = 600_000;
const SALT_BYTES = 16;
/** NIST SP 800-38D, 8.2.2: 96 random bits for each thing that is locked. */
const IV_BYTES = 12;
const CIPHER = 'AES-GCM';

/** @typedef {{iv: Uint8Array, bytes: ArrayBuffer}} Sealed */
/** @typedef {Sealed & {salt: Uint8Array, rounds: number}} LockedKey the key of a person, locked with her code */

export class WrongCode extends Error {}

/** Browsers lock nothing on pages that came over an open line. */
export const canLock = () => Boolean(globalThis.isSecureContext && globalThis.crypto?.subtle);

const random = (count) => crypto.getRandomValues(new Uint8Array(count));

export const newKey = () => crypto.subtle.generateKey({ name: CIPHER, length: 256 }, true, ['encrypt', 'decrypt']);

async function keyFrom(code, salt, iterations) {
  const digits = await crypto.subtle.importKey('raw', new TextEncoder().encode(code), 'PBKDF2', false, ['deriveKey']);
  const how = { name: 'PBKDF2', hash: 'SHA-256', salt, iterations };
  return crypto.subtle.deriveKey(how, digits, { name: CIPHER, length: 256 }, false, ['wrapKey', 'unwrapKey']);
}

/** @param {CryptoKey} key @param {string} code @returns {Promise<LockedKey>} */
export async function lockKey(key, code) {
  const [salt, iv] = [random(SALT_BYTES), random(IV_BYTES)];
  const bytes = await crypto.subtle.wrapKey('raw', key, await keyFrom(code, salt, ROUNDS), { name: CIPHER, iv });
  return { salt, rounds: ROUNDS, iv, bytes };
}

/** @param {LockedKey} locked @param {string} code @returns {Promise<CryptoKey>} */
export async function openKey({ salt, rounds, iv, bytes }, code) {
  const from = await keyFrom(code, salt, rounds);
  try {
    return await crypto.subtle.unwrapKey('raw', bytes, from, { name: CIPHER, iv }, CIPHER, true, ['encrypt', 'decrypt']);
  } catch (failure) {
    if (failure.name === 'OperationError') throw new WrongCode();
    throw failure;
  }
}

/** @param {CryptoKey} key @param {any} value @returns {Promise<Sealed>} */
export async function seal(key, value) {
  const iv = random(IV_BYTES);
  return { iv, bytes: await crypto.subtle.encrypt({ name: CIPHER, iv }, key, new TextEncoder().encode(JSON.stringify(value))) };
}

/** @param {CryptoKey} key @param {Sealed} sealed */
export async function unseal(key, { iv, bytes }) {
  return JSON.parse(new TextDecoder().decode(await crypto.subtle.decrypt({ name: CIPHER, iv }, key, bytes)));
}
