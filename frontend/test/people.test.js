import { openDB } from 'idb';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { newPhone, openPhone } from './invented_people.js';

const SECRETS = '/api/v1/secrets/';
let server;
let phone;

const reopened = async () => (phone = await openPhone());

/** Everything that lies in the database, as text. */
async function stored() {
  const database = await openDB('carton-hour');
  const names = [...database.objectStoreNames];
  const all = await Promise.all(names.map((name) => database.getAll(name)));
  database.close();
  const text = (_, value) => (value instanceof ArrayBuffer || ArrayBuffer.isView(value) ? String.fromCharCode(...new Uint8Array(value.buffer ?? value)) : value);
  return JSON.stringify(all, text);
}

beforeEach(async () => {
  ({ server, phone } = await newPhone());
});

const clock = (ms) => vi.spyOn(Date, 'now').mockReturnValue(ms);

describe('enrolling', () => {
  it('makes her the one who holds the phone, and asks in her name from then on', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580', 'Landing');
    expect(phone.me.value.member.name).toBe('Grace');
    expect(server.asked[0].body).toEqual({ code: 'AAAAA-AAAAA', phone_name: 'Landing', phone: null });
    await phone.bring(SECRETS);
    expect(server.asked.at(-1).token).toBe('Token token-of-1');
  });

  it('stores neither her code nor her token in the clear, and sends the code to nobody', async () => {
    await phone.enrol('AAAAA-AAAAA', '25803691');
    await phone.bring(SECRETS);
    const all = await stored();
    expect(all).toContain('Grace');
    expect(all).not.toContain('25803691');
    expect(all).not.toContain('token-of-1');
    expect(all).not.toContain('"of"');
    expect(JSON.stringify(server.asked)).not.toContain('25803691');
  });

  it('of a second person names the same phone', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.enrol('BBBBB-BBBBB', '7391');
    expect(server.asked.filter(({ path }) => path.includes('enrolments')).at(-1).body.phone).toBe('phone-1');
    expect(phone.holders.value.map((one) => one.name)).toEqual(['Grace', 'Mutale']);
    expect(phone.me.value.member.name).toBe('Mutale');
  });

  it('with a code that was used is refused, and leaves nobody on the phone', async () => {
    server.used.add('AAAAA-AAAAA');
    await expect(phone.enrol('AAAAA-AAAAA', '2580')).rejects.toBeInstanceOf(phone.Refused);
    expect([phone.me.value, phone.holders.value]).toEqual([null, []]);
  });

  it('again with the same own code keeps what she had; with another one what nobody can open any more goes', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    server.used.clear();
    await reopened();
    await phone.enrol('AAAAA-AAAAA', '2580');
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Grace' });
    server.used.clear();
    await reopened();
    await phone.enrol('AAAAA-AAAAA', '1470');
    expect((await phone.recall(SECRETS)).value).toBe(null);
    expect(phone.holders.value.length).toBe(1);
  });
});

describe('a code from the manager', () => {
  it('is read in any case, with or without its dash', () => {
    expect(phone.readCode(' 7kq2m xb4rt ')).toBe('7KQ2M-XB4RT');
    expect(phone.readCode('7KQ2M–XB4RT')).toBe('7KQ2M-XB4RT');
  });

  it('has none of the letters that are taken for one another', () => {
    for (const letter of '0O1ILU') expect(phone.readCode(`7KQ2M-XB4R${letter}`)).toBe(null);
    expect(phone.readCode('7KQ2M-XB4R')).toBe(null);
  });
});

describe('after the page was closed', () => {
  beforeEach(async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    await reopened();
  });

  it('the phone knows the name and nothing else until she unlocks it', async () => {
    expect(phone.holders.value[0].name).toBe('Grace');
    expect([phone.me.value, phone.asPerson()]).toEqual([null, null]);
    expect((await phone.recall(SECRETS)).value).toBe(null);
  });

  it('she unlocks it without a signal and sees what she saw', async () => {
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    await phone.unlock('1', '2580');
    expect(phone.me.value.member.name).toBe('Grace');
    expect((await phone.bring(SECRETS)).value).toEqual({ of: 'Grace' });
  });

  it('a wrong code opens nothing', async () => {
    await expect(phone.unlock('1', '2581')).rejects.toBeInstanceOf(phone.WrongCode);
    expect(phone.asPerson()).toBe(null);
  });
});

describe('two people on one phone', () => {
  beforeEach(async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    await phone.enrol('BBBBB-BBBBB', '7391');
  });

  it('never see each other’s answers, in memory or kept', async () => {
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    expect((await phone.bring(SECRETS)).value).toBe(null);
    await phone.unlock('1', '2580');
    expect((await phone.bring(SECRETS)).value).toEqual({ of: 'Grace' });
    phone.lock();
    expect((await phone.bring(SECRETS)).value).toBe(null);
    expect(await phone.listKept()).toEqual([]);
  });

  it('cannot open the phone with each other’s code', async () => {
    await expect(phone.unlock('1', '7391')).rejects.toBeInstanceOf(phone.WrongCode);
  });

  it('keep an answer for the one who asked, even if it comes when the other holds the phone', async () => {
    let answer;
    vi.stubGlobal('fetch', vi.fn(() => new Promise((come) => (answer = come))));
    const asking = phone.refresh(SECRETS);
    await vi.waitFor(() => expect(answer).toBeTruthy());
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    await phone.unlock('1', '2580');
    answer(new Response(JSON.stringify({ of: 'Mutale' })));
    await asking;
    expect(phone.answerTo(SECRETS).value.value).toBe(null);
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Grace' });
    await phone.unlock('2', '7391');
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Mutale' });
  });

  it('leave nothing of hers behind when one signs out, and all of the other’s', async () => {
    await phone.bring(SECRETS);
    await phone.signOut();
    expect(server.asked.at(-1)).toMatchObject({ path: '/api/v1/sign-out/', token: 'Token token-of-2' });
    expect(await stored()).not.toContain('Mutale');
    await phone.unlock('1', '2580');
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Grace' });
  });

  it('have a last question each', async () => {
    const { question, remember } = await import('../src/question.js');
    await remember({ mass_kg: '45' });
    await phone.unlock('1', '2580');
    expect(question.value).toBe(null);
    expect(await phone.readSetting('1/question')).toBeUndefined();
    expect(await phone.readSetting('2/question')).toEqual({ mass_kg: '45' });
  });
});

describe('what a visitor asks', () => {
  it('goes without a token and stays apart from what holders ask', async () => {
    await phone.bring('/api/v1/weather/');
    expect(server.asked.at(-1).token).toBeUndefined();
    await phone.enrol('AAAAA-AAAAA', '2580');
    expect((await phone.recall('/api/v1/weather/')).value).toBe(null);
    phone.lock();
    expect((await phone.recall('/api/v1/weather/')).value).toEqual({ air: 'warm' });
  });
});

describe('a phone that is turned out', () => {
  beforeEach(async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    server.out.add(1);
  });

  it('says so, and keeps what was kept, over closing the page too', async () => {
    const kept = await phone.refresh(SECRETS);
    expect(kept.value).toEqual({ of: 'Grace' });
    expect(phone.holding.value.out).toBe(true);
    await reopened();
    await phone.unlock('1', '2580');
    expect(phone.holding.value.out).toBe(true);
    expect((await phone.recall(SECRETS)).value).toEqual({ of: 'Grace' });
  });

  it('says so when something is written too', async () => {
    await expect(phone.send('POST', '/api/v1/sign-out/')).rejects.toMatchObject({ status: 401 });
    expect(phone.holding.value.out).toBe(true);
  });

  it('is let in again by a new code', async () => {
    await phone.refresh(SECRETS);
    server.out.clear();
    server.used.clear();
    await phone.enrol('AAAAA-AAAAA', '2580');
    expect(phone.holding.value.out).toBe(false);
  });

  it('can be left all the same', async () => {
    await phone.signOut();
    expect(phone.holders.value).toEqual([]);
  });
});

describe('leaving without a signal', () => {
  it('is refused, and loses nothing', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('no signal')));
    await expect(phone.signOut()).rejects.toBeInstanceOf(phone.NoSignal);
    expect(phone.me.value.member.name).toBe('Grace');
  });
});

describe('after something was written', () => {
  it('what was answered before is asked anew', async () => {
    const at = clock(1_000_000);
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.bring(SECRETS);
    at.mockReturnValue(1_000_001);
    await phone.send('POST', '/api/v1/demonstration/', { member: 1 });
    at.mockReturnValue(1_000_002);
    const before = server.asked.length;
    await phone.bring(SECRETS);
    expect(server.asked.slice(before).map(({ path }) => path)).toEqual([SECRETS]);
  });
});
