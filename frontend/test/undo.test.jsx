import { beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import { all, button, one, opened, says, sent, until, words } from './opened.js';
import { lots, members } from './invented_parcels.js';

const [agness] = members;
const said = en.messages;
const offered = lots.find(({ member, state }) => member.id === agness.id && state === 'offered');
const settle = async () => (await import('../src/outbox.js')).settle();

/** Her lot, taken back, with the line that stands below every screen. */
async function takenBack() {
  await opened(agness, 'Lot', { id: offered.id });
  await until(() => button(said['lot.withdraw']));
  const { UndoLine } = await import('../src/parts/undo_line.jsx');
  const { h, render } = await import('preact');
  render(h(UndoLine), one('*').parentNode.appendChild(document.createElement('footer')));
  button(said['lot.withdraw']).click();
  await until(() => one('.undo'));
}

beforeEach(async () => {
  vi.restoreAllMocks();
  document.body.textContent = '';
  await takenBack();
});

describe('the line below every screen', () => {
  it('says what was taken back and that it is not sent, and the button that did it is gone', () => {
    expect(words()).toContain(`${said['write.lots.withdraw']} (`);
    expect(words()).toContain('Not sent yet.');
    expect([button(said['lot.withdraw']), sent]).toEqual([undefined, []]);
  });

  it('undoes it: nothing is sent, and it can be taken back again', async () => {
    button(said['outbox.undo']).click();
    await until(() => !one('.undo'));
    await settle();
    expect(sent).toEqual([]);
    expect(button(said['lot.withdraw'])).toBeTruthy();
  });

  it('takes the keyboard over from the button that is gone', async () => {
    await until(() => document.activeElement === button(said['outbox.undo']));
  });

  it('goes once it is sent', async () => {
    await settle();
    await until(() => !one('.undo'));
    expect(sent.map(([method, path]) => `${method} ${path}`)).toEqual([`POST /api/v1/lots/${offered.id}/withdraw/`]);
  });

  it('says so where the server would not have it, until she has decided', async () => {
    says(409, { error: { code: 'conflict', message: 'it lies in a carton', fields: [] } });
    await settle();
    await until(() => words().includes('it lies in a carton'));
    expect(words()).toContain('Not done: ');
    expect(all('.undo a').map((link) => link.getAttribute('href'))).toEqual(['/outbox']);
    expect(button(said['lot.withdraw'])).toBeTruthy();
  });

  it('says so where it was too late', async () => {
    const { settleWrite } = await import('../src/store.js');
    const { outbox } = await import('../src/waiting.js');
    await settleWrite(outbox.value[0].n);
    button(said['outbox.undo']).click();
    await until(() => words().includes('Too late to undo'));
  });
});
