import { beforeEach, describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import { PATTERNS } from '../src/parts/patterns.jsx';
import { lots, members, noRoom, parcels } from './invented_parcels.js';
import { all, button, one, opened, says, sent, serve, silence, type, until, words } from './opened.js';

const [agness, bwalya, , , joseph] = members;
const open = parcels(agness.id)[0];

beforeEach(() => {
  document.body.textContent = '';
  history.replaceState(null, '', '/');
});

describe('my lots', () => {
  it('show each with its state in words and where it goes', async () => {
    await opened(agness, 'Lots');
    await until(() => one('.entry-line'));
    expect(words()).toContain('waits for a carton');
    expect(words()).toContain('20 kg leave Wed 16:00');
    expect(words()).not.toContain('Chanda');
  });

  it('are everybody’s for whoever packs, each with a name', async () => {
    await opened(joseph, 'Lots');
    await until(() => one('.entry-line'));
    expect(words()).toContain('Chanda Mulenga');
  });
});

describe('offering fish', () => {
  beforeEach(async () => {
    await opened(agness, 'LotNew');
    await until(() => one('form'));
  });

  it('says at each field what is wrong before it asks the server', async () => {
    await type('mass_kg', 'much');
    one('form').requestSubmit();
    await until(() => one('#fault-mass_kg'));
    expect(one('#fault-mass_kg').textContent).toBe(en.messages['fault.number']);
    expect(one('#fault-frozen_since').textContent).toBe(en.messages['fault.blank']);
    expect(sent).toEqual([]);
  });

  const fill = async () => {
    await type('mass_kg', '35');
    await type('frozen_since', '2026-11-24');
    one('form').requestSubmit();
  };

  it('sends numbers and instants, with an id of its own', async () => {
    says(201, lots[0]);
    await fill();
    await until(() => location.pathname === `/lots/${lots[0].id}`);
    const [[method, path, body]] = sent;
    expect([method, path]).toEqual(['POST', '/api/v1/lots/']);
    expect(body).toMatchObject({ mass_kg: 35, start_temperature_c: -18, may_be_split: false, deliver_by: null, frozen_since: '2026-11-23T22:00:00.000Z' });
    expect(body.id).toMatch(/^[0-9a-f-]{36}$/);
    expect(body).not.toHaveProperty('from');
  });

  it('sends one lot however often the button is touched', async () => {
    says(201, lots[0]);
    await fill();
    one('form').requestSubmit();
    one('form').requestSubmit();
    await until(() => location.pathname !== '/');
    expect(sent.length).toBe(1);
  });

  it('without a signal is kept in the outbox, and goes as the same lot once there is one', async () => {
    silence();
    await fill();
    await until(() => location.pathname === '/outbox');
    const [, { body: lost }] = fetch.mock.calls.at(-1);
    serve(agness);
    says(201, lots[0]);
    (await import('../src/outbox.js')).deliver();
    await until(() => sent.length);
    expect(sent[0][2].id).toBe(JSON.parse(lost).id);
  });

  it('that the server refuses shows the fault at its field and keeps what was typed', async () => {
    says(400, { error: { code: 'invalid', message: '', fields: [{ field: 'mass_kg', value: 35, problem: 'too much', right: 'at most 30 kg' }] } });
    await fill();
    await until(() => one('#fault-mass_kg'));
    expect(one('#fault-mass_kg').textContent).toBe('too much: at most 30 kg');
    expect(one('[name=mass_kg]').value).toBe('35');
  });
});

describe('send alone, share, or wait', () => {
  beforeEach(async () => {
    await opened(agness, 'Ways', { query: { lot: lots[2].id } });
    await until(() => one('.way'));
  });

  it('stand in three columns with cost, chance and day, one of them marked', () => {
    expect(all('.way h2').map((found) => found.textContent.trim())).toEqual(['Alone', 'Share', 'Wait']);
    for (const column of all('.way')) expect(column.textContent).toMatch(/a kilo.+in all.+still hard.+times in.+leaves/);
    expect(all('.way.best h2').map((found) => found.textContent.trim())).toEqual(['Share']);
    expect(one('.way.best').textContent).toContain('cheapest');
  });

  it('lead on to the carton that can be shared', () => {
    expect(all('a').map((found) => found.getAttribute('href'))).toContain(`/parcels/${open.id}?lot=${lots[2].id}`);
  });
});

describe('a shared carton', () => {
  const shown = async (asker) => {
    await opened(asker, 'Parcel', { id: open.id });
    await until(() => one('.carton-fill'));
  };

  it('is drawn with each one’s part, by name and kilograms, and the room left', async () => {
    await shown(agness);
    const drawing = one('.carton-fill').textContent.replace(/\u00a0/g, ' ');
    expect(drawing).toContain('You20 kg');
    expect(drawing).toContain('Bwalya Sinkala35 kg');
    expect(drawing).toContain('free53 kg');
    expect(one('.carton-fill').getAttribute('aria-label')).toContain('Bwalya Sinkala');
    expect(words()).toContain('Room for 53 kg more');
  });

  it('tells its members apart by patterns, not by colour', async () => {
    await shown(agness);
    const fills = all('.part-edge').map((found) => found.getAttribute('fill'));
    expect(new Set(fills).size).toBe(2);
    for (const fill of fills) expect(one(fill.slice(4, -1))).not.toBe(null);
  });

  it('says what she would pay, beside alone', async () => {
    await shown(agness);
    expect(one('.mine-box').textContent).toMatch(/270\.25.+482\.00/);
  });

  it('takes her lot with one touch, or says why not', async () => {
    await shown(agness);
    await until(() => button('Put 12.5'));
    says(409, noRoom);
    button('Put 12.5').click();
    await until(() => one('[role=alert]'));
    expect(words()).toContain('There is room for 8 kg only.');
    const next = all('[role=alert] a')[0];
    expect([next.textContent, next.getAttribute('href')]).toEqual(['See the one of Thu 16:00', `/parcels/${parcels(0)[1].id}?lot=${lots[2].id}`]);
    expect(sent).toEqual([['POST', `/api/v1/parcels/${open.id}/join/`, { lot: lots[2].id, mass_kg: 12.5 }]]);
  });

  it('lets a member take out only her own fish, and close nothing', async () => {
    await shown(bwalya);
    expect(all('.part-line button').length).toBe(1);
    expect(words()).not.toContain('Close carton');
  });

  it('lets whoever packs put in any lot, and close the carton', async () => {
    await shown(joseph);
    await until(() => button('Put 45'));
    expect(all('a').some((found) => found.textContent === 'Close carton 1')).toBe(true);
    expect(all('.part-line button').length).toBe(2);
  });

  it('that is closed takes and gives nothing more', async () => {
    await opened(joseph, 'Parcel', { id: parcels(0)[1].id });
    await until(() => one('.carton-fill'));
    expect(one('.part-rope')).not.toBe(null);
    expect(all('.part-line button').length).toBe(0);
    expect(words()).not.toContain('Put fish in');
  });
});

describe('the steps of a parcel', () => {
  const step = async (index, query) => {
    const parcel = parcels(0)[index];
    await opened(joseph, 'ParcelStep', { id: parcel.id, query });
    await until(() => one('form'));
    return parcel;
  };

  it('close a carton with what was weighed and measured, or with nothing', async () => {
    const parcel = await step(0, { do: 'close', carton: '1' });
    await type('closed_at', '2026-11-25T15:20');
    await type('gross_mass_kg', '98,4');
    one('form').requestSubmit();
    await until(() => sent.length);
    const written = { closed_at: '2026-11-25T13:20:00.000Z', gross_mass_kg: 98.4, core_temperature_c: null };
    expect(sent).toEqual([['POST', `/api/v1/parcels/${parcel.id}/cartons/1/close/`, written]]);
  });

  it('ask how many kilograms had softened where not all was hard', async () => {
    await step(2, { do: 'hand_over' });
    await type('is_hard', 'no');
    await type('received_by', 'Store keeper');
    one('form').requestSubmit();
    await until(() => one('#fault-soft_kg'));
    expect(sent).toEqual([]);
    await type('soft_kg', '4');
    one('form').requestSubmit();
    await until(() => sent.length);
    expect(sent[0][2]).toMatchObject({ is_hard: false, soft_kg: 4, received_by: 'Store keeper' });
  });

  it('take the way of a later cost in words, never as a sign', async () => {
    await step(3, { do: 'correct' });
    await type('way', 'less');
    await type('amount_minor', '12.50');
    await type('note', 'fare given back');
    one('form').requestSubmit();
    await until(() => sent.length);
    expect(sent[0][2]).toMatchObject({ amount_minor: -1250, note: 'fare given back' });
  });
});

describe('a plan', () => {
  it('shows each carton with its fish, what stays behind with its reason, and changes nothing until it is accepted', async () => {
    await opened(joseph, 'Plan', { id: 'any' });
    await until(() => one('.carton-fill'));
    expect(words()).toContain('Chanda Mulenga');
    expect(words()).toContain('Esther Sichone · 28 kg');
    expect(words()).toContain('No plan can cost less.');
    expect(sent).toEqual([]);
    says(200, { parcels: [open] });
    button('Accept').click();
    await until(() => location.pathname === `/parcels/${open.id}`);
    expect(sent.length).toBe(1);
  });
});

describe('papers', () => {
  it('have the last hour, cartons and lines to sign on the waybill, and a code on each label', async () => {
    await opened(joseph, 'Papers', { id: parcels(0)[1].id });
    await until(() => one('.printed'));
    expect(words()).toContain('Leaves not later than Wed 18:30');
    expect(all('.sign').length).toBe(3);
    button('Labels').click();
    await until(() => one('.lot-label'));
    expect(all('.lot-label .qr').length).toBe(2);
  });
});

describe('patterns', () => {
  it('are enough for eight people and more', () => {
    expect(PATTERNS).toBeGreaterThanOrEqual(8);
  });
});
