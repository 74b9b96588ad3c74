import { beforeEach, describe, expect, it } from 'vitest';
import { lots, members, parcels } from './invented_parcels.js';
import { all, one, opened, sent, type, until, words } from './opened.js';

const [agness, bwalya, , , joseph] = members;
const open = parcels(agness.id)[0];

beforeEach(() => {
  document.body.textContent = '';
  history.replaceState(null, '', '/');
});

describe('a carton that did not leave', () => {
  const [, closed, , , , calledOff] = parcels(0);
  const lot = lots.at(-1);
  const linked = (text) => all('a').find((found) => found.textContent === text)?.getAttribute('href');

  it('is called off by whoever packs, who says why', async () => {
    await opened(joseph, 'Parcel', { id: closed.id });
    await until(() => one('.steps-of'));
    expect(linked('It did not leave: call it off')).toBe(`/parcels/${closed.id}/step?do=call_off`);
    await opened(joseph, 'ParcelStep', { id: closed.id, query: { do: 'call_off' } });
    await until(() => one('form'));
    expect(words()).toContain('Never freeze soft fish again');
    one('form').requestSubmit();
    await until(() => one('#fault-note'));
    expect(sent).toEqual([]);
    await type('note', 'The minibus did not come.');
    one('form').requestSubmit();
    await until(() => sent.length);
    expect(sent).toEqual([['POST', `/api/v1/parcels/${closed.id}/call-off/`, { note: 'The minibus did not come.' }]]);
  });

  it('is called off only while it is closed, and by no member', async () => {
    for (const [person, parcel] of [[joseph, open], [joseph, parcels(0)[2]], [agness, closed]]) {
      await opened(person, 'Parcel', { id: parcel.id });
      await until(() => one('.carton-fill'));
      expect(words()).not.toContain('call it off');
    }
  });

  it('says why, and that nobody owes the bill; no papers travel with it, a later cost may come', async () => {
    await opened(joseph, 'Parcel', { id: calledOff.id });
    await until(() => one('.steps-of'));
    expect(words()).toContain('Tue 19:00: The minibus did not come.');
    expect(words()).toContain('nobody owes it');
    expect(linked('Papers to print')).toBe(undefined);
    expect(linked('A cost that came later')).toBe(`/parcels/${calledOff.id}/step?do=correct`);
  });

  it('is over in the list of cartons', async () => {
    await opened(agness, 'Parcels');
    await until(() => one('.entry-line'));
    const over = all('details').find((found) => found.textContent.startsWith('Over: 3'));
    expect(over.textContent).toContain('called off');
  });

  it('leaves fish that its owner may offer again: as much, but as cold as it is now', async () => {
    await opened(agness, 'Lot', { id: lot.id });
    await until(() => one('.entry-line'));
    expect(words()).toContain('24 kg did not leave Wed 16:00');
    expect(linked('Offer it again')).toBe(`/lots/new?again=${lot.id}&mass=24`);
    await opened(agness, 'LotNew', { query: { again: lot.id, mass: '24' } });
    await until(() => one('form'));
    const typed = (name) => one(`[name=${name}]`).value;
    expect([typed('mass_kg'), typed('species'), typed('frozen_since'), typed('start_temperature_c')]).toEqual(['24', lot.species.code, '2026-11-24', '']);
    await type('start_temperature_c', '-17');
    one('form').requestSubmit();
    await until(() => sent.length);
    const [[method, path, body]] = sent;
    expect([method, path]).toEqual(['POST', '/api/v1/lots/']);
    expect(body).toMatchObject({ mass_kg: 24, start_temperature_c: -17, species: lot.species.code, route: lot.route.slug, buyer: lot.buyer.slug });
    expect(body.id).toMatch(/^[0-9a-f-]{36}$/);
  });

  it('is no fish of others to offer again', async () => {
    await opened(bwalya, 'Lot', { id: lot.id });
    await until(() => one('.entry-line'));
    expect(linked('Offer it again')).toBe(undefined);
  });
});
