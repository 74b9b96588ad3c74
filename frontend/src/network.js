/** The only file that talks to the network. */
import { signal } from '@preact/signals';

// The first question after a start of the server takes it half a minute.
const PATIENCE_MS = 75_000;
const MOST_PAGES = 6;

/** @typedef {{field: string, value: string, problem: string, right: string, language: string}} FieldFault */

/** The server answered, and refused the question. */
export class Refused extends Error {
  /** @param {number} status @param {{code: string, message: string, fields?: FieldFault[]}} error @param {number} [wait_s] before which it is no use asking again @param {string} [language] of its words, but for those that say another */
  constructor(status, error, wait_s = 0, language = 'en') {
    super(error.message);
    this.status = status;
    this.code = error.code;
    this.language = error.language ?? language;
    this.fields = (error.fields ?? []).map((one) => ({ language, ...one }));
    /** How the row is by now, where it is no longer as it was seen. */
    this.current = error.current;
    /** All that was said, to be kept. */
    this.told = { ...error, status, language: this.language, fields: this.fields };
    this.wait_s = wait_s;
  }
}

/** Nothing came back: no signal, or the server is away. */
export class NoSignal extends Error {}

/** Something came back that is no answer: the server is broken, or a hotspot wants a sign-in. */
export class NoAnswer extends Error {}

/** What the last request said of the signal, until the browser says otherwise. */
export const online = signal(navigator.onLine);
addEventListener('online', () => (online.value = true));
addEventListener('offline', () => (online.value = false));

/** Whether the person asked to spare data. */
export const sparing = () => Boolean(navigator.connection?.saveData);

/** Whether the server takes nothing more from pages as old as these. */
export const tooOld = signal(false);
const TOO_OLD = 426;

/** @typedef {{language: string, token?: string, known?: string, key?: string, seen?: string}} As the language of the answer, the token of whoever asks, and the tag of what she has; of a write its key, and the edition of the row that she saw */

/** @param {string} path @param {RequestInit} [options] */
async function reach(path, options) {
  try {
    return await fetch(path, { ...options, signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch (failure) {
    online.value = false;
    throw new NoSignal(failure.message);
  }
}

/** @param {Response} response */
async function read(response) {
  try {
    return [204, 304].includes(response.status) ? null : await response.json();
  } catch (failure) {
    throw new NoAnswer(`${response.status}: ${failure.message}`);
  }
}

/** @param {As} as */
const headers = ({ language, token, known, key, seen }) => ({
  Accept: 'application/json',
  'Accept-Language': language,
  ...(token && { Authorization: `Token ${token}` }),
  ...(known && { 'If-None-Match': `"${known}"` }),
  ...(key && { 'Idempotency-Key': `"${key}"` }),
  ...(seen && { 'If-Match': `"${seen}"` }),
});

/** @param {Response} response */
async function answerOf(response) {
  const body = await read(response);
  // Files come from the phone itself; only the server's answer proves a signal.
  online.value = true;
  if (response.ok || response.status === 304) return body;
  if (response.status < 500 && body?.error) {
    if (response.status === TOO_OLD) tooOld.value = true;
    const { headers: said } = response;
    throw new Refused(response.status, { ...body.error, current: body.current }, Number(said.get('Retry-After') ?? 0), said.get('Content-Language')?.slice(0, 2));
  }
  throw new NoAnswer(String(response.status));
}

/** @param {string} path under /api/v1/ @param {As} as @returns {Promise<any>} null where it is still what she has */
export const get = async (path, as) => answerOf(await reach(path, { headers: headers(as) }));

/**
 * Screens use `send` of actions.js, which knows who writes.
 *
 * @param {'POST' | 'PATCH'} method @param {string} path @param {any} body a file goes as it is @param {As} as
 * @returns {Promise<any>} null where the server has nothing to say
 * @throws {Refused} @throws {NoSignal} @throws {NoAnswer}
 */
export async function write(method, path, body, as) {
  const [type, sent] = body instanceof Blob ? [body.type, body] : ['application/json', JSON.stringify(body ?? {})];
  return answerOf(await reach(path, { method, headers: { ...headers(as), 'Content-Type': type, 'App-Version': __VERSION__ }, body: sent }));
}

/** A file that the server makes. @param {string} path @param {As} as @returns {Promise<Blob>} */
export async function getFile(path, as) {
  const response = await reach(path, { headers: headers(as) });
  return response.ok ? response.blob() : answerOf(response);
}

/**
 * An answer with all its pages; one without pages, or of one page that was named, comes back as it is.
 *
 * @param {string} path @param {As} as
 */
export async function getWhole(path, as) {
  const first = await get(path, as);
  // An account has its lines among other things.
  const rows = first.results ? 'results' : 'entries';
  let next = !/[?&]page=/.test(path) && first.next;
  for (let page = 1; next && page < MOST_PAGES; page += 1) {
    const { pathname, search } = new URL(next, location.origin);
    const more = await get(pathname + search, as);
    first[rows] = first[rows].concat(more[rows]);
    next = more.next;
  }
  return first;
}

/** Words of this build. @param {string} address */
export async function fetchFile(address) {
  const response = await reach(address);
  // At the first visit no worker is there yet that would keep them: they go where it looks for them (sw.js).
  if (response.ok && globalThis.caches && !navigator.serviceWorker?.controller) {
    const copy = response.clone();
    caches.open('words').then((kept) => kept.put(address, copy)).catch(console.warn);
  }
  return read(response);
}
