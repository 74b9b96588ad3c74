import { beforeEach, describe, expect, it, vi } from 'vitest';
import { newPhone, openPhone } from './invented_people.js';

const SECRETS = '/api/v1/secrets/';
let phone;

const reopened = async () => (phone = await openPhone());
const clock = (ms) => vi.spyOn(Date, 'now').mockReturnValue(ms);

beforeEach(async () => {
  ({ phone } = await newPhone());
});

describe('wrong codes', () => {
  const AT = Date.parse('2026-11-25T06:00:00Z');

  it('cost nothing five times, then half a minute, and twice as long each time, up to an hour', () => {
    const seconds = [0, 1, 4, 5, 6, 7, 8, 11, 12, 40].map((tries) => phone.waitAfter(tries) / 1000);
    expect(seconds).toEqual([0, 0, 0, 30, 60, 120, 240, 1920, 3600, 3600]);
  });

  it('make even the right one wait, over closing the page, and lose nothing', async () => {
    clock(AT);
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    for (let tries = 0; tries < 5; tries += 1) await expect(phone.unlock('1', '9999')).rejects.toBeInstanceOf(phone.WrongCode);
    await reopened();
    await expect(phone.unlock('1', '2580')).rejects.toBeInstanceOf(phone.MustWait);
    clock(AT + 29_999);
    await expect(phone.unlock('1', '2580')).rejects.toBeInstanceOf(phone.MustWait);
    clock(AT + 30_000);
    await phone.unlock('1', '2580');
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Grace' });
    expect((await phone.readHolder('1')).tries).toBe(0);
  });

  it('are counted while they are tried, so that closing the page gives none for nothing', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    const trying = phone.unlock('1', '9999');
    await vi.waitFor(async () => expect((await phone.readHolder('1')).tries).toBe(1));
    await expect(trying).rejects.toBeInstanceOf(phone.WrongCode);
  });

  it('of two open pages count together', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await Promise.allSettled(['1', '2', '3'].map((last) => phone.unlock('1', `999${last}`)));
    expect((await phone.readHolder('1')).tries).toBe(3);
  });

  it('are no longer waited for than the wait itself where the clock was set back', () => {
    expect(phone.waitLeft({ tries: 5, tried_at: AT }, AT - 86_400_000)).toBe(30_000);
    expect(phone.waitLeft({ tries: 5, tried_at: AT }, AT + 10_000)).toBe(20_000);
  });
});

describe('a phone that nobody touches', () => {
  const AT = Date.parse('2026-11-25T06:00:00Z');

  beforeEach(async () => {
    clock(AT);
    await phone.enrol('AAAAA-AAAAA', '2580');
    phone.watchTouch();
  });

  it('locks itself after 15 minutes, before the touch that comes then is heard', () => {
    clock(AT + phone.IDLE_MS - 1);
    dispatchEvent(new Event('pointerdown'));
    expect(phone.me.value).not.toBe(null);
    clock(AT + 2 * phone.IDLE_MS);
    dispatchEvent(new Event('pointerdown'));
    expect([phone.me.value, phone.asPerson()]).toEqual([null, null]);
  });

  it('locks itself when the clock was set back', () => {
    clock(AT - 60_000);
    document.dispatchEvent(new Event('visibilitychange'));
    expect(phone.me.value).toBe(null);
  });
});
