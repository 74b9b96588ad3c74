/** A screen about lots, parcels, money or the office, on the phone of one of the invented members, and what a test looks at. */
import { IDBFactory } from 'fake-indexeddb';
import { expect, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import office from '../src/catalogues/office_en.json';
import { invented } from './invented.js';
import { inventedOffice } from './invented_office.js';
import { NOW, inventedFor, meAs, parcels } from './invented_parcels.js';

let root;
/** What was sent, and what the server says to it. */
export let sent;
let answer;
export const says = (status, body) => (answer = () => [status, body]);

export const until = (test) => vi.waitFor(() => expect(test()).toBeTruthy());
export const all = (selector) => [...root.querySelectorAll(selector)];
export const one = (selector) => root.querySelector(selector);
export const words = () => root.textContent.replace(/[\u00a0\u202f]/g, ' ');
export const button = (text) => all('button').find((found) => found.textContent.includes(text));

export function serve(asker) {
  sent = [];
  answer = () => [200, parcels(asker.id)[0]];
  vi.stubGlobal('fetch', vi.fn(async (path, { method = 'GET', body } = {}) => {
    if (method !== 'GET') sent.push([method, path, body instanceof Blob ? body : JSON.parse(body)]);
    const [status, found] = method === 'GET' ? inventedOffice(path) ?? inventedFor(asker, path) ?? invented(path, NOW) : answer(path, method);
    return new Response(JSON.stringify(found), { status });
  }));
}

export const silence = () => vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));

/** A screen on the phone of one of the invented members. */
export async function opened(asker, name, props = {}) {
  globalThis.indexedDB = new IDBFactory();
  vi.resetModules();
  vi.stubGlobal('isSecureContext', true);
  serve(asker);
  (await import('../src/words.js')).useCatalogue({ ...en, messages: { ...en.messages, ...office.messages } });
  const { newKey } = await import('../src/lock.js');
  const { welcome } = await import('../src/people.js');
  welcome({ holder: String(asker.id), token: 'token', key: await newKey() }, meAs(asker));
  const { [name]: Screen } = { ...(await import('../src/screens/later_lots.js')), ...(await import('../src/screens/later_members.js')), ...(await import('../src/screens/later_office.js')) };
  const { h } = await import('preact');
  root = document.body.appendChild(document.createElement('div'));
  const drawn = await import('preact');
  drawn.render(h(Screen, { query: {}, ...props }), root);
}

export async function type(name, text) {
  const field = one(`[name="${name}"]`);
  field.value = text;
  field.dispatchEvent(new Event(field.tagName === 'SELECT' ? 'change' : 'input', { bubbles: true }));
  await Promise.resolve();
}
