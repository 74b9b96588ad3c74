/** An INVENTED phone with what waits on it, and a server that answers each write once, for tests. */
import { expect, vi } from 'vitest';
import { newPhone, openPhone } from './invented_people.js';

export const LOTS = '/api/v1/lots/';
export const ID = '7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c';
export const OWN = '2580';

/** An INVENTED server that answers each key of a token once, and what a test makes of it. */
function book(server) {
  const kept = new Map();
  const found = { rows: [], came: [], says: null, loses: 0, silent: false };
  const people = server.fetch;
  found.fetch = async (path, options = {}) => {
    const { method = 'GET', body, headers } = options;
    if (method === 'GET' || /enrolments|sign-|demonstration/.test(path)) return people(path, options);
    if (found.silent) throw new TypeError('no signal');
    const token = headers.Authorization;
    const key = `${token} ${headers['Idempotency-Key']}`;
    found.came.push({ method, path, body: JSON.parse(body), token, key: headers['Idempotency-Key'], seen: headers['If-Match'], version: headers['App-Version'] });
    if (server.out.has(Number(token.split('-').at(-1)))) return new Response(JSON.stringify({ error: { code: 'not_known', message: 'out', fields: [] } }), { status: 401 });
    const other = found.says?.(found.came.at(-1));
    if (other) return new Response(typeof other[1] === 'string' ? other[1] : JSON.stringify(other[1]), { status: other[0], headers: other[2] });
    if (!kept.has(key)) {
      found.rows.push({ token, path, ...JSON.parse(body) });
      kept.set(key, JSON.stringify({ id: JSON.parse(body).id, edition: `edition-${found.rows.length}` }));
    }
    // It was done, and the answer never came.
    if (found.loses-- > 0) throw new TypeError('the line broke');
    return new Response(kept.get(key), { status: 201 });
  };
  return found;
}

export const refusal = (status, message, more = {}) => [status, { error: { code: 'x', message, fields: [] }, ...more }];
export const about = (n, more = {}) => ({ form: { whose: `1 ${n}`, id: ID + n, draft: {}, at: '/lots/new' }, typed: [], place: 'Offer fish', ...more });

/** The phone as it is open now, the server behind it, and what that was told of writes. */
export let phone;
export let server;
export let there;

const listen = () => vi.stubGlobal('fetch', vi.fn(there.fetch));

/** A phone that its first member holds; what follows is what she does on it. */
export async function heldPhone() {
  ({ server, phone } = await newPhone());
  there = book(server);
  listen();
  await phone.enrol('AAAAA-AAAAA', OWN);
}

export const offer = (n) => phone.send('POST', LOTS, { id: ID + n, mass_kg: n }, about(n));
export const join = (n, parcel) => phone.send('POST', `/api/v1/parcels/${parcel}/join/`, { lot: ID + n }, about(n));
export const kept = (promise) => expect(promise).rejects.toBeInstanceOf(phone.Kept);
export const states = () => phone.outbox.value.map(({ state }) => state);

/** All that lies there is answered, or nothing more can be. */
export async function delivered() {
  await phone.deliver();
  await phone.deliver();
}

export async function reopened() {
  phone = await openPhone();
  listen();
}
