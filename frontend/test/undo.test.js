import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ID, LOTS, OWN, about, delivered, heldPhone, join, kept, offer, phone, refusal, reopened, states, there } from './invented_outbox.js';

const LOT = `${LOTS}${ID}10/`;
const withdraw = (more) => phone.send('POST', `${LOT}withdraw/`, {}, about(10, { undoable: true, ...more }));
const PHONE = `/api/v1/phones/${ID}70/revoke/`;
const revoke = () => phone.send('POST', PHONE, {}, about(70, { undoable: true }));
const paths = () => there.rows.map(({ path }) => path);
const arrived = (count) => vi.waitFor(() => expect(there.rows.length).toBe(count));

/** The database needs its own time: only the hours of the phone stand still. */
beforeEach(async () => {
  await heldPhone();
  vi.useFakeTimers({ toFake: ['Date', 'setTimeout', 'clearTimeout'] });
});
afterEach(() => vi.useRealTimers());

const pass = (ms) => vi.advanceTimersByTimeAsync(ms);

describe('what takes something back', () => {
  it('lies on the phone at once, sealed, and is not sent as long as it can be undone', async () => {
    await kept(withdraw());
    expect(phone.outbox.value.map((one) => phone.isUndoable(one))).toEqual([true]);
    expect(Object.keys((await phone.listWrites('1'))[0]).sort()).toEqual(['holder', 'n', 'sealed', 'undo_until']);
    await pass(phone.UNDO_MS - 100);
    await delivered();
    expect(there.came).toEqual([]);
  });

  it('that was undone never reaches the server', async () => {
    await kept(withdraw());
    expect(await phone.discard(phone.outbox.value[0])).toBe(true);
    expect([phone.outbox.value, await phone.listWrites('1')]).toEqual([[], []]);
    await pass(phone.UNDO_MS * 2);
    await delivered();
    expect(there.came).toEqual([]);
  });

  it('goes by itself once its time is over, once', async () => {
    await kept(withdraw());
    await pass(phone.UNDO_MS + 5);
    await arrived(1);
    await delivered();
    expect([there.came.length, phone.outbox.value]).toEqual([1, []]);
  });

  it.each([['before', 100], ['after', 60_000]])('goes once though the page was closed, opened again %s its time', async (_, closed_ms) => {
    await kept(withdraw());
    // A page that is closed wakes up no more.
    vi.clearAllTimers();
    await reopened();
    await pass(closed_ms);
    await phone.unlock('1', OWN);
    await pass(phone.UNDO_MS + 5);
    await vi.waitFor(() => expect(there.rows.length).toBeGreaterThan(0));
    await delivered();
    expect(paths()).toEqual([`${LOT}withdraw/`]);
  });

  it('of a kind that needs its answer at once is kept all the same, and goes when there is a signal', async () => {
    there.silent = true;
    await kept(revoke());
    await pass(phone.UNDO_MS + 5);
    await delivered();
    expect([there.rows, states()]).toEqual([[], ['waits']]);
    expect(phone.isUndoable(phone.outbox.value[0])).toBe(false);
    there.silent = false;
    await delivered();
    expect(paths()).toEqual([PHONE]);
  });

  it('and is refused stays with the reason, for a person to decide', async () => {
    there.says = () => refusal(409, 'it lies in a carton');
    await kept(withdraw());
    await pass(phone.UNDO_MS + 5);
    await vi.waitFor(() => expect(states()).toEqual(['refused']));
    expect(phone.outbox.value[0]).toMatchObject({ undoable: true, problem: { message: 'it lies in a carton' } });
  });

  it('goes at once on a phone that keeps nothing', async () => {
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    await withdraw();
    expect(paths()).toEqual([`${LOT}withdraw/`]);
    vi.restoreAllMocks();
  });

  it('waits no longer than that where the clock was set back', async () => {
    await kept(withdraw());
    vi.setSystemTime(Date.now() - 3_600_000);
    await delivered();
    expect(there.rows.length).toBe(1);
  });

  it('takes with it a setting of this phone, once it is done', async () => {
    await phone.writeSetting('1/calendar', 'x');
    await kept(withdraw({ forgets: '1/calendar' }));
    expect(await phone.readSetting('1/calendar')).toBe('x');
    await pass(phone.UNDO_MS + 5);
    await arrived(1);
    await delivered();
    expect(await phone.readSetting('1/calendar')).toBe(null);
  });
});

describe('what is written while something can be undone', () => {
  it('does not wait for it, unless it is about the same', async () => {
    await kept(withdraw());
    await offer(11);
    await kept(join(10, `${ID}99`));
    expect(there.rows.map(({ id }) => id)).toEqual([`${ID}11`]);
    await pass(phone.UNDO_MS + 5);
    await arrived(3);
    expect(paths()).toEqual([LOTS, `${LOT}withdraw/`, `/api/v1/parcels/${ID}99/join/`]);
  });

  it('waits for what leaves a carton, too: it is closed with what then lies in it', async () => {
    const leave = { n: 1, state: 'waits', path: `/api/v1/parcels/${ID}99/leave/`, body: { lot: ID + 10 }, undo_until: Date.now() + 5000 };
    const close = { n: 2, state: 'waits', path: `/api/v1/parcels/${ID}99/close/`, body: { carton: 1 } };
    const fare = { n: 3, state: 'waits', path: '/api/v1/tariffs/3/withdraw/', body: {}, undo_until: Date.now() + 5000 };
    const another = { n: 4, state: 'waits', path: '/api/v1/tariffs/', body: { carrier: 1 } };
    expect(phone.nextOf([leave, close, fare, another])).toBe(null);
    expect(phone.nextOf([{ ...leave, path: leave.path.replace('99', '98') }, close])).toBe(close);
  });

  it('and needs its answer at once has it sent before', async () => {
    await kept(withdraw());
    await kept(revoke());
    await phone.send('POST', '/api/v1/quotes/', { id: `${ID}60`, lot: ID + 10 }, about(60));
    expect(paths()).toEqual([`${LOT}withdraw/`, '/api/v1/quotes/']);
  });
});

describe('whoever goes on', () => {
  it('and locks the phone has it sent at once, in her name', async () => {
    await kept(revoke());
    phone.lock();
    await arrived(1);
    expect(there.rows[0]).toMatchObject({ path: PHONE, token: 'Token token-of-1' });
    expect([phone.outbox.value, await vi.waitFor(async () => (expect(await phone.listWrites('1')).toEqual([]), 'none'))]).toEqual([[], 'none']);
  });

  it('and locks it without a signal finds it in the outbox, and it goes later', async () => {
    await kept(revoke());
    there.silent = true;
    phone.lock();
    await vi.waitFor(async () => expect((await phone.listWrites('1'))[0].undo_until).toBe(undefined));
    there.silent = false;
    await phone.unlock('1', OWN);
    await arrived(1);
  });

  it('and hides the page has it sent at once', async () => {
    const own = PHONE.replace('70', '71');
    await kept(phone.send('POST', own, {}, about(71, { undoable: true })));
    vi.spyOn(document, 'hidden', 'get').mockReturnValue(true);
    document.dispatchEvent(new Event('visibilitychange'));
    // Pages of the tests before hear of it, too, and send what is theirs.
    await vi.waitFor(() => expect(paths().filter((path) => path === own).length).toBe(1));
    vi.restoreAllMocks();
  });

  it('undoes at the very moment at which it goes: one of both happens, and she is told which', async () => {
    await kept(withdraw());
    const [one] = phone.outbox.value;
    const [settled, undone] = await Promise.all([phone.settleWrite(one.n), phone.discard(one)]);
    expect([settled, undone]).toEqual([true, false]);
    await delivered();
    expect(there.rows.length).toBe(1);
    expect(await phone.discard(one)).toBe(false);
  });
});
