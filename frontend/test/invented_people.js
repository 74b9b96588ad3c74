/** An INVENTED server that lets people in, for tests: it knows names and codes of nobody real. */
import { IDBFactory } from 'fake-indexeddb';
import { vi } from 'vitest';
import en from '../src/catalogues/en.json';

const cooperative = {
  slug: 'south-end', name: 'Traders of the South End', currency: 'ZMW', currency_decimals: 2, coin_minor: 5, language: 'en',
  time_zone: 'Africa/Lusaka', sharing_rule: 'capped', claims_rule: 'contested',
};

export const people = {
  'AAAAA-AAAAA': { id: 1, name: 'Grace', role: 'member' },
  'BBBBB-BBBBB': { id: 2, name: 'Mutale', role: 'packer' },
  'CCCCC-CCCCC': { id: 3, name: 'Esther', role: 'manager' },
};

const refused = (status, code, field) => [status, { error: { code, message: code, fields: field ? [{ field, value: '', problem: 'not known', right: 'a code that was not used' }] : [] } }];

/** Answers as the interface does; `out` turns tokens away, `used` holds codes that were used up. */
export function inventedPeople() {
  const server = { used: new Set(), out: new Set(), asked: [] };

  const session = (member) => {
    const me = { member, cooperative, phone: { id: 'phone-1', name: 'Phone' } };
    return { token: `token-of-${member.id}`, expires_at: '2027-05-24T06:00:00+02:00', phone: me.phone, me };
  };

  const enrol = ({ code }) => {
    if (!people[code] || server.used.has(code)) return refused(400, 'invalid', 'code');
    server.used.add(code);
    return [201, session(people[code])];
  };

  const known = (token) => Object.values(people).find((one) => `Token token-of-${one.id}` === token && !server.out.has(one.id));

  const routes = {
    'POST enrolments': enrol,
    'POST sign-in': ({ name, password }) => (name === 'esther' && password === 'long enough' ? [201, session(people['CCCCC-CCCCC'])] : refused(400, 'invalid', 'password')),
    'POST demonstration': ({ member }) => [200, { code: Object.keys(people).find((code) => people[code].id === member), expires_at: '2026-11-26T06:00:00+02:00' }],
    'GET demonstration': () => [200, { people: Object.values(people) }],
    'POST sign-out': (_, token) => (known(token) ? [204, null] : refused(401, 'not_known')),
    'GET me': (_, token) => (known(token) ? [200, session(known(token)).me] : refused(401, 'not_known')),
    'GET secrets': (_, token) => (known(token) ? [200, { of: known(token).name }] : refused(401, 'not_known')),
    'GET weather': () => [200, { air: 'warm' }],
  };

  /** In the place of fetch. */
  server.fetch = async (path, { method = 'GET', body, headers }) => {
    server.asked.push({ path, method, body: body && JSON.parse(body), token: headers.Authorization });
    const [status, answer] = routes[`${method} ${path.split('/')[3]}`](body && JSON.parse(body), headers.Authorization);
    return new Response(answer && JSON.stringify(answer), { status });
  };
  return server;
}

const FEW_ROUNDS = 1000;

/** A small part of the work of each code; what the full work is, and does, lock.test.js says. */
export function hasten() {
  const derive = crypto.subtle.deriveKey.bind(crypto.subtle);
  vi.spyOn(crypto.subtle, 'deriveKey').mockImplementation((how, ...more) => derive({ ...how, iterations: FEW_ROUNDS }, ...more));
}

/** The page opened anew over the same phone: nothing of what was in memory is left. */
export async function openPhone() {
  vi.resetModules();
  const names = ['people', 'enrolment', 'unlocking', 'answers', 'actions', 'network', 'lock', 'store', 'words', 'waiting', 'outbox'];
  const phone = Object.assign({}, ...(await Promise.all(names.map((name) => import(`../src/${name}.js`)))));
  phone.useCatalogue(en);
  await phone.readHolders();
  return phone;
}

/** A phone that nobody holds yet, and a server that knows nobody's token. */
export async function newPhone() {
  vi.restoreAllMocks();
  hasten();
  globalThis.indexedDB = new IDBFactory();
  const server = inventedPeople();
  vi.stubGlobal('fetch', vi.fn(server.fetch));
  vi.stubGlobal('isSecureContext', true);
  return { server, phone: await openPhone() };
}
