/** The only file that talks to the network. */
import { signal } from '@preact/signals';

// The first question after a start of the server takes it half a minute.
const PATIENCE_MS = 75_000;
const MOST_PAGES = 6;

/** @typedef {{field: string, value: string, problem: string, right: string}} FieldFault */

/** The server answered, and refused the question. */
export class Refused extends Error {
  /** @param {number} status @param {{code: string, message: string, fields?: FieldFault[]}} error */
  constructor(status, error) {
    super(error.message);
    this.status = status;
    this.code = error.code;
    this.fields = error.fields ?? [];
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

/** @param {string} path @param {RequestInit} [options] */
async function send(path, options) {
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
    return await response.json();
  } catch (failure) {
    throw new NoAnswer(`${response.status}: ${failure.message}`);
  }
}

/** @param {string} path under /api/v1/ @param {string} language that its messages should be in */
export async function get(path, language) {
  const response = await send(path, { headers: { Accept: 'application/json', 'Accept-Language': language } });
  const body = await read(response);
  // Files come from the phone itself; only the server's answer proves a signal.
  online.value = true;
  if (response.ok) return body;
  if (response.status < 500 && body.error) throw new Refused(response.status, body.error);
  throw new NoAnswer(String(response.status));
}

/**
 * An answer with all its pages; one without pages comes back as it is.
 *
 * @param {string} path @param {string} language
 */
export async function getWhole(path, language) {
  const first = await get(path, language);
  let { next } = first;
  for (let page = 1; next && page < MOST_PAGES; page += 1) {
    const { pathname, search } = new URL(next, location.origin);
    const more = await get(pathname + search, language);
    first.results = first.results.concat(more.results);
    next = more.next;
  }
  return first;
}

/** A file of this build. @param {string} address */
export async function fetchFile(address) {
  return read(await send(address));
}
