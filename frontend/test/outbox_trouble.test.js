import { beforeEach, describe, expect, it, vi } from 'vitest';
import { ID, OWN, about, delivered, heldPhone, kept, offer, phone, reopened, server, states, there } from './invented_outbox.js';

beforeEach(heldPhone);

describe('what says nothing of the write itself', () => {
  it.each([[401, {}], [426, {}], [429, { 'Retry-After': '30' }], [503, {}]])('%i leaves it where it is', async (status, headers) => {
    there.says = () => [status, { error: { code: 'x', message: '', fields: [] } }, headers];
    await kept(offer(10));
    expect(states()).toEqual(['waits']);
    expect(phone.tooOld.value).toBe(status === 426);
    expect(Boolean(phone.holding.value.out)).toBe(status === 401);
  });

  it('a page of a hotspot is no answer either', async () => {
    there.says = () => [200, '<html>sign in</html>'];
    await kept(offer(10));
    expect(states()).toEqual(['waits']);
  });
});

describe('a token that counts no more', () => {
  it('keeps what waits, and it goes under the new token of the same member', async () => {
    server.out.add(1);
    await kept(offer(10));
    server.out.clear();
    server.used.clear();
    await phone.enrol('AAAAA-AAAAA', OWN);
    await vi.waitFor(() => expect(there.rows.length).toBe(1));
    expect(phone.outbox.value).toEqual([]);
  });

  it('with another own code on a locked phone what was locked before is told, not dropped', async () => {
    there.silent = true;
    await kept(offer(10));
    await reopened();
    server.used.clear();
    there.silent = true;
    await phone.enrol('AAAAA-AAAAA', '1470');
    await phone.deliver();
    expect(states()).toEqual(['locked']);
    there.silent = false;
    await delivered();
    expect(there.came).toEqual([]);
    expect(phone.outbox.value.length).toBe(1);
  });
});

describe('a full phone', () => {
  const fill = () => vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
    throw new DOMException('full', 'QuotaExceededError');
  });

  it('still sends with a signal, and says plainly that it keeps nothing without one', async () => {
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    fill();
    expect((await offer(10)).id).toBe(`${ID}10`);
    there.silent = true;
    await expect(offer(11)).rejects.toBeInstanceOf(phone.NoSignal);
    expect(phone.lasting.value).toBe(false);
    vi.restoreAllMocks();
  });
});

describe('what needs its answer at once', () => {
  it.each(['/api/v1/plans/', '/api/v1/quotes/', '/api/v1/imports/members/', '/api/v1/enrolment-codes/', '/api/v1/members/', '/api/v1/phones/1/revoke/', '/api/v1/what-if/'])('%s does not wait', async (path) => {
    there.silent = true;
    await expect(phone.send('POST', path, {}, about(1))).rejects.toBeInstanceOf(phone.NoSignal);
    expect(phone.outbox.value).toEqual([]);
  });

  it('is the same write when it is sent again', async () => {
    there.loses = 1;
    const once = () => phone.send('POST', '/api/v1/members/', { name: 'New' }, about(1));
    await expect(once()).rejects.toBeInstanceOf(phone.NoSignal);
    await once();
    expect(there.rows.length).toBe(1);
    await once();
    expect(there.rows.length).toBe(2);
  });
});

describe('waiting for the next try', () => {
  it('takes 5 seconds at least, longer each time, and never more than a quarter of an hour', () => {
    expect(phone.pauseAfter(1, 0)).toBe(5000);
    expect(phone.pauseAfter(1, 1)).toBe(10_000);
    expect(phone.pauseAfter(3, 1)).toBe(40_000);
    expect(phone.pauseAfter(40, 1)).toBe(900_000);
    const drawn = Array.from({ length: 50 }, () => phone.pauseAfter(20));
    expect(Math.min(...drawn)).toBeGreaterThanOrEqual(5000);
    expect(new Set(drawn).size).toBeGreaterThan(40);
  });

  it('ends at once when the browser finds a signal', async () => {
    there.silent = true;
    await kept(offer(77));
    there.silent = false;
    dispatchEvent(new Event('online'));
    // Pages of the tests before hear of it, too, and send what is theirs.
    await vi.waitFor(() => expect(there.rows.filter(({ mass_kg }) => mass_kg === 77).length).toBe(1));
    await vi.waitFor(() => expect(phone.outbox.value).toEqual([]));
  });
});
