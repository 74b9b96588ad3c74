import { beforeEach, describe, expect, it, vi } from 'vitest';
import { ID, LOTS, OWN, about, delivered, heldPhone, join, kept, offer, phone, refusal, reopened, states, there } from './invented_outbox.js';

beforeEach(heldPhone);

describe('a write with a signal', () => {
  it('is answered at once, with a key of its own and the version of these pages, and nothing waits', async () => {
    expect((await offer(10)).id).toBe(`${ID}10`);
    const [came] = there.came;
    expect(came.key).toMatch(/^"[0-9a-f-]{36}"$/);
    expect(came.version).toMatch(/^\d+\.\d+\.\d+$/);
    expect([phone.outbox.value, phone.counts.value]).toEqual([[], {}]);
  });

  it('that is refused says why on its form and stays nowhere', async () => {
    there.says = () => refusal(400, 'too much');
    await expect(offer(10)).rejects.toMatchObject({ status: 400, message: 'too much' });
    expect(await phone.listWrites('1')).toEqual([]);
  });
});

describe('writes without a signal', () => {
  beforeEach(async () => {
    there.silent = true;
    for (const n of [10, 11, 12]) await kept(offer(n));
  });

  it('wait in order, sealed, and go in order once there is one', async () => {
    expect(states()).toEqual(['waits', 'waits', 'waits']);
    expect(Object.keys((await phone.listWrites('1'))[0]).sort()).toEqual(['holder', 'n', 'sealed']);
    there.silent = false;
    await delivered();
    expect(there.rows.map(({ mass_kg }) => mass_kg)).toEqual([10, 11, 12]);
    expect(phone.outbox.value).toEqual([]);
  });

  it('outlive a closed page, and wait for their owner to unlock', async () => {
    await reopened();
    there.silent = false;
    await phone.readCounts();
    expect(phone.counts.value).toEqual({ 1: 3 });
    await delivered();
    expect(there.rows).toEqual([]);
    await phone.unlock('1', OWN);
    await vi.waitFor(() => expect(there.rows.length).toBe(3));
  });

  it('stop at the first that gets no answer, also where the server is broken', async () => {
    there.silent = false;
    there.says = ({ body }) => (body.mass_kg === 11 ? [500, 'broken'] : null);
    await phone.deliver();
    expect(there.rows.map(({ mass_kg }) => mass_kg)).toEqual([10]);
    expect(states()).toEqual(['waits', 'waits']);
  });

  it('are done once though every answer is lost, each under its own key', async () => {
    there.silent = false;
    there.loses = 3;
    for (let tries = 0; tries < 4; tries += 1) await phone.deliver();
    expect(there.rows.map(({ mass_kg }) => mass_kg)).toEqual([10, 11, 12]);
    expect(new Set(there.came.map(({ key }) => key)).size).toBe(3);
    expect(there.came.length).toBe(6);
  });

  it('that are refused stay with their reason, and the rest goes on', async () => {
    there.silent = false;
    there.says = ({ body }) => (body.mass_kg === 11 ? refusal(400, 'too much') : null);
    await delivered();
    expect(there.rows.map(({ mass_kg }) => mass_kg)).toEqual([10, 12]);
    expect(phone.outbox.value.map(({ state, problem }) => [state, problem.message])).toEqual([['refused', 'too much']]);
  });

  it('come back in their place when one that was discarded is wanted after all', async () => {
    const [, second] = phone.outbox.value;
    await phone.discard(second);
    expect(phone.outbox.value.length).toBe(2);
    await phone.undo(second);
    expect(phone.outbox.value.map(({ body }) => body.mass_kg)).toEqual([10, 11, 12]);
  });

  it('are never sent by another holder, and the phone tells how many of hers wait', async () => {
    there.silent = false;
    phone.lock();
    await phone.enrol('BBBBB-BBBBB', '7391');
    await delivered();
    expect([there.rows, phone.outbox.value, phone.counts.value]).toEqual([[], [], { 1: 3 }]);
    await kept(Promise.reject(new phone.Kept()));
    await phone.unlock('1', OWN);
    await vi.waitFor(() => expect(there.rows.length).toBe(3));
    expect(new Set(there.rows.map(({ token }) => token))).toEqual(new Set(['Token token-of-1']));
  });

  it('are shown to nobody else, even while the last of them is on its way', async () => {
    let answer;
    there.silent = false;
    there.says = () => null;
    const slow = there.fetch;
    vi.stubGlobal('fetch', vi.fn((path, how) => (/lots/.test(path) ? new Promise((go) => (answer = () => go(slow(path, how)))) : slow(path, how))));
    const first = phone.deliver();
    await vi.waitFor(() => expect(answer).toBeTruthy());
    await phone.enrol('BBBBB-BBBBB', '7391');
    expect(phone.outbox.value).toEqual([]);
    answer();
    await first;
    await phone.deliver();
    expect([phone.outbox.value, there.rows.length, phone.counts.value]).toEqual([[], 1, { 1: 2 }]);
  });

  it('go with whoever leaves the phone, and with nobody else', async () => {
    await phone.forget('1');
    expect(await phone.listWrites('1')).toEqual([]);
  });
});

describe('a write about something else that waits', () => {
  it('goes after it: a lot that was offered offline and then put into a carton', async () => {
    there.silent = true;
    await kept(offer(10));
    await kept(join(10, `${ID}99`));
    there.silent = false;
    await delivered();
    expect(there.rows.map(({ path }) => path.split('/')[3])).toEqual(['lots', 'parcels']);
  });

  it('waits while that is refused, and goes once it is mended; others pass by', async () => {
    there.silent = true;
    await kept(offer(10));
    await kept(join(10, `${ID}99`));
    await kept(offer(11));
    there.silent = false;
    there.says = ({ body }) => (body.mass_kg === 10 ? refusal(400, 'too much') : null);
    await delivered();
    expect(states()).toEqual(['refused', 'waits']);
    expect(there.rows.map(({ id }) => id)).toEqual([`${ID}11`]);
    const [wrong] = phone.outbox.value;
    await phone.send('POST', LOTS, { id: ID + 10, mass_kg: 9 }, about(10, { n: wrong.n }));
    await delivered();
    expect(there.rows.map(({ path }) => path.split('/')[3])).toEqual(['lots', 'lots', 'parcels']);
    expect(phone.outbox.value).toEqual([]);
  });

  it('is found by the id that both name', () => {
    const lot = { n: 1, state: 'refused', path: LOTS, body: { id: ID + 10 } };
    const into = { n: 2, state: 'waits', path: `/api/v1/parcels/${ID}99/join/`, body: { lot: ID + 10 } };
    const other = { ...into, n: 3, body: { lot: ID + 11 } };
    expect(phone.nextOf([lot, into])).toBe(null);
    expect(phone.nextOf([lot, into, other])).toBe(other);
    expect(phone.nextOf([{ ...lot, state: 'waits' }, into]).n).toBe(1);
  });
});

describe('a mended write', () => {
  it('that is refused again stays in the outbox', async () => {
    there.silent = true;
    await kept(offer(10));
    there.silent = false;
    there.says = () => refusal(400, 'too much');
    await delivered();
    const [wrong] = phone.outbox.value;
    await expect(phone.send('POST', LOTS, { id: ID + 10, mass_kg: 8 }, about(10, { n: wrong.n }))).rejects.toMatchObject({ status: 400 });
    await phone.deliver();
    expect(phone.outbox.value.map(({ n, state, body }) => [n, state, body.mass_kg])).toEqual([[wrong.n, 'refused', 8]]);
    expect(new Set(there.came.map(({ key }) => key)).size).toBe(2);
  });
});

describe('a row that two people changed', () => {
  const path = `${LOTS}${ID}10/`;
  const both = refusal(409, 'changed', { current: { note: 'theirs', edition: 'new' }, sent: {} });
  const change = (seen = 'old') => phone.send('PATCH', path, { note: 'mine' }, about(10, { seen }));

  it('is kept with both versions even where its form waits, and mine goes over theirs only when a person says so', async () => {
    there.says = ({ seen }) => (seen === '"old"' ? both : null);
    await expect(change()).rejects.toMatchObject({ current: { note: 'theirs' } });
    await phone.deliver();
    expect(states()).toEqual(['conflict']);
    expect(there.rows).toEqual([]);
    await phone.again(phone.outbox.value[0]);
    expect(there.came.at(-1).seen).toBe('"new"');
    expect(there.rows.length).toBe(1);
  });

  it('of two changes of hers the second rests on what the first made', async () => {
    there.silent = true;
    await kept(change());
    await kept(change());
    there.silent = false;
    await delivered();
    expect(there.came.map(({ seen }) => seen)).toEqual(['"old"', '"edition-1"']);
    expect(phone.outbox.value).toEqual([]);
  });
});
