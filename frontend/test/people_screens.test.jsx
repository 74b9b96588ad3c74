import { beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import { newPhone } from './invented_people.js';

let root;
let phone;
let server;

const until = (test) => vi.waitFor(() => expect(test()).toBeTruthy(), { timeout: 4000 });
const one = (selector) => root.querySelector(selector);
const all = (selector) => [...root.querySelectorAll(selector)];
const words = (key) => en.messages[key];
const button = (text) => all('button').find((found) => found.textContent.includes(text));

/** A part or a screen of ours, drawn over the phone as it is. */
async function shown(file, name, props = {}) {
  const { [name]: Drawn } = await file;
  const { h, render } = await import('preact');
  root = document.body.appendChild(document.createElement('div'));
  render(h(Drawn, props), root);
}

function press(digits) {
  for (const digit of digits) all('.digit').find((found) => found.textContent === digit).click();
}

beforeEach(async () => {
  document.body.textContent = '';
  ({ server, phone } = await newPhone());
});

describe('the gate', () => {
  let gateFor;

  beforeEach(async () => ({ gateFor } = await import('../src/parts/gate.jsx')));

  it('lets a visitor see what visitors may, on a phone that nobody holds', () => {
    expect(['anybody', 'visitor', 'member', 'manager'].map(gateFor)).toEqual(['open', 'open', 'locked', 'locked']);
  });

  it('asks first who it is, on a phone that somebody holds', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    phone.lock();
    expect(['anybody', 'visitor', 'member'].map(gateFor)).toEqual(['open', 'locked', 'locked']);
    phone.looking.value = true;
    expect(['visitor', 'member'].map(gateFor)).toEqual(['open', 'locked']);
  });

  it.each([['AAAAA-AAAAA', 'open', 'closed', 'closed'], ['BBBBB-BBBBB', 'open', 'open', 'closed'], ['CCCCC-CCCCC', 'open', 'open', 'open']])(
    'opens for %s what her role may: member %s, packer %s, manager %s',
    async (code, ...wanted) => {
      await phone.enrol(code, '2580');
      expect(['member', 'packer', 'manager'].map(gateFor)).toEqual(wanted);
    },
  );
});

describe('the ways', () => {
  const urls = () => all('a').map((found) => found.getAttribute('href'));

  it('lead a visitor to the departures and onto the phone', async () => {
    await shown(import('../src/parts/nav.jsx'), 'Nav');
    expect(urls()).toEqual(['/', '/enrol']);
  });

  it('lead a holder to what is hers, and nobody else there', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await shown(import('../src/parts/nav.jsx'), 'Nav');
    expect(urls()).toEqual(['/', '/lots', '/parcels', '/statement', '/who']);
    phone.lock();
    await until(() => urls().length === 2);
    expect(urls()).toEqual(['/', '/who']);
  });
});

describe('taking somebody onto the phone', () => {
  it('says what a code looks like when it cannot be one, and asks nobody', async () => {
    await shown(import('../src/screens/enrol.jsx'), 'Enrol');
    const field = one('[name=enrol_code]');
    field.value = '0OIL';
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await Promise.resolve();
    one('.code-form').requestSubmit();
    await until(() => one('#fault-enrol_code'));
    expect(one('#fault-enrol_code').textContent).toBe(words('fault.enrol_code'));
    expect(server.asked.some(({ method }) => method === 'POST')).toBe(false);
  });

  it('asks for the own code before the one-time code is used up', async () => {
    location.hash = '#AAAAAAAAAA';
    await shown(import('../src/screens/enrol.jsx'), 'Enrol');
    await until(() => one('.keypad'));
    expect(location.hash).toBe('');
    expect(server.used.size).toBe(0);
    for (const label of ['own.choose', 'own.again']) {
      await until(() => one('.keypad label').textContent === words(label));
      press('2580');
      await until(() => !one('.digit.done').disabled);
      one('.digit.done').click();
    }
    await until(() => phone.me.value);
    expect(phone.me.value.member.name).toBe('Grace');
  });

  it('on an open line says that it cannot be done', async () => {
    vi.stubGlobal('isSecureContext', false);
    await shown(import('../src/screens/enrol.jsx'), 'Enrol');
    expect(one('[role=alert]').textContent).toContain(words('nolock.open'));
    expect(one('form')).toBe(null);
  });
});

describe('an own code', () => {
  it('of equal digits or digits in a row is too easy', async () => {
    const { isEasy } = await import('../src/parts/own_code.jsx');
    expect(['1111', '1234', '9876543'].map(isEasy)).toEqual([true, true, true]);
    expect(['2580', '1123', '90123'].map(isEasy)).toEqual([false, false, false]);
  });
});

describe('who holds the phone', () => {
  it('names all who do; the one that is chosen types her code', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await phone.enrol('BBBBB-BBBBB', '7391');
    phone.lock();
    await shown(import('../src/screens/who.jsx'), 'Who');
    expect(all('.holder strong').map((found) => found.textContent)).toEqual(['Grace', 'Mutale']);
    all('.holder')[1].click();
    await until(() => one('.keypad'));
    press('7391');
    await until(() => !one('.digit.done').disabled);
    one('.digit.done').click();
    await until(() => phone.me.value);
    expect(phone.me.value.member.name).toBe('Mutale');
  });

  it('says after a wrong code how many are left, and shows no digits while it must wait', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    phone.lock();
    await phone.noteOf('1', { tries: 3 });
    await shown(import('../src/screens/who.jsx'), 'Who');
    await until(() => one('.keypad'));
    press('9999');
    await until(() => !one('.digit.done').disabled);
    one('.digit.done').click();
    await until(() => one('.fault'));
    expect(one('.fault').textContent).toContain('1 more');
    await phone.noteOf('1', { tries: 6, tried_at: Date.now() });
    await until(() => one('.wait-left'));
    expect(one('.digits')).toBe(null);
    expect(one('.wait-left').textContent).toMatch(/^(1:00|0:59)$/);
  });

  it('tells her to wait only once it knows that the code is wrong', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    phone.lock();
    await phone.noteOf('1', { tries: 5, tried_at: Date.now() - 31_000 });
    await shown(import('../src/screens/who.jsx'), 'Who');
    await until(() => one('.keypad'));
    const derive = crypto.subtle.deriveKey.getMockImplementation();
    let answer;
    const held = new Promise((resolve) => (answer = resolve));
    crypto.subtle.deriveKey.mockImplementation(async (...how) => (await held, derive(...how)));
    press('9999');
    await until(() => !one('.digit.done').disabled);
    one('.digit.done').click();
    await until(() => phone.holders.value[0].tries === 6);
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(one('.wait-left')).toBe(null);
    answer();
    await until(() => one('.wait-left'));
  });

  it('lets her lock it', async () => {
    await phone.enrol('AAAAA-AAAAA', '2580');
    await shown(import('../src/screens/who.jsx'), 'Who');
    button(words('who.lock')).click();
    expect(phone.me.value).toBe(null);
  });
});
