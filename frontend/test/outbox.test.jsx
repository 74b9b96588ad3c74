import { beforeEach, describe, expect, it, vi } from 'vitest';
import en from '../src/catalogues/en.json';
import { button, one, opened, says, sent, serve, silence, until, words } from './opened.js';
import { members } from './invented_parcels.js';

const [agness] = members;
const write = (more) => ({
  method: 'PATCH', path: '/api/v1/lots/7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c12/', body: { mass_kg: 25 }, seen: 'old', typed: [['mass_kg', 'mass_kg', '25'], ['note', 'note', 'x']],
  form: { whose: `${agness.id} change`, id: '1', draft: { mass_kg: '25', note: 'x' }, at: '/lots/new?change=1' }, place: '20 kg', ...more,
});

/** A write that was refused while nobody looked. */
async function background(status, error, more) {
  const { Kept, deliver, post } = await import('../src/outbox.js');
  silence();
  await expect(post(write(more))).rejects.toBeInstanceOf(Kept);
  serve(agness);
  says(status, error);
  await deliver();
}

beforeEach(async () => {
  vi.restoreAllMocks();
  document.body.textContent = '';
  await opened(agness, 'Outbox');
  await until(() => words().includes(en.messages['outbox.empty']));
});

describe('what waits', () => {
  it('is told in words: what, when, for whom, and that it goes by itself', async () => {
    const { Kept, post } = await import('../src/outbox.js');
    silence();
    await expect(post(write())).rejects.toBeInstanceOf(Kept);
    await until(() => one('.entry-line'));
    for (const key of ['write.lots.change', 'outbox.kept']) expect(words()).toContain(en.messages[key]);
    expect(words()).toContain(agness.name);
    expect(words()).toContain('Fish, kg: 25 · Note: x');
  });

  it('that was refused says why, and opens its form again with what was typed', async () => {
    await background(400, { error: { code: 'invalid', message: 'mass_kg: too much', fields: [{ field: 'mass_kg', value: '25', problem: 'too much', right: 'at most 20' }] } });
    await until(() => button(en.messages['outbox.mend']));
    expect(words()).toContain('too much: at most 20');
    button(en.messages['outbox.mend']).click();
    expect(location.pathname + location.search).toBe('/lots/new?change=1');
  });

  it('that no field of hers can mend is tried again as it is, or discarded', async () => {
    await background(409, { error: { code: 'conflict', message: 'This parcel is closed.', fields: [{ field: 'state', value: 'closed', problem: 'closed', right: 'open' }] } });
    await until(() => button(en.messages['outbox.again']));
    expect(button(en.messages['outbox.mend'])).toBe(undefined);
    expect(button(en.messages['outbox.discard'])).not.toBe(undefined);
  });

  it('is discarded, and comes back when that was a mistake', async () => {
    await background(400, { error: { code: 'invalid', message: 'no', fields: [] } });
    await until(() => button(en.messages['outbox.discard']));
    button(en.messages['outbox.discard']).click();
    await until(() => !one('.entry-line'));
    button(en.messages['outbox.undo']).click();
    await until(() => one('.entry-line'));
  });
});

describe('what two people changed', () => {
  const both = { error: { code: 'conflict', message: 'changed', fields: [] }, current: { mass_kg: 30, note: 'y', edition: 'new' } };

  it('stands side by side, only what she wrote, and goes over theirs when she says so', async () => {
    await background(409, both);
    await until(() => one('table'));
    const cells = [...document.querySelectorAll('tbody td')].map((cell) => cell.textContent);
    expect(cells).toEqual(['25', '30']);
    says(200, { edition: 'newer' });
    const before = sent.length;
    button(en.messages['outbox.keep.mine']).click();
    await until(() => words().includes(en.messages['outbox.empty']));
    expect(sent.length).toBe(before + 1);
    expect(fetch.mock.calls.findLast(([, how]) => how?.method === 'PATCH')[1].headers['If-Match']).toBe('"new"');
  });

  it('is left as they wrote it', async () => {
    await background(409, both);
    await until(() => one('table'));
    const before = sent.length;
    button(en.messages['outbox.keep.theirs']).click();
    await until(() => !one('table'));
    expect(sent.length).toBe(before);
  });
});

