import { beforeEach, describe, expect, it, vi } from 'vitest';
import { differences, losing, quotes, sent as issued, tariffs, tried } from './invented_office.js';
import { members } from './invented_parcels.js';
import { all, button, one, opened, says, sent, type, until, words } from './opened.js';

const [agness, , , , joseph, mary] = members;

beforeEach(() => {
  document.body.textContent = '';
  history.replaceState(null, '', '/');
});

const sends = () => sent.map(([method, path]) => `${method} ${path}`);

describe('quotes', () => {
  it('stand by what became of them, those that lose money on top with how much and why', async () => {
    await opened(joseph, 'Quotes');
    await until(() => one('.losing') && one('.sewn'));
    expect(words()).toContain('1 quote would now lose money');
    expect(words()).toContain('Loses K0.30 a kg: K12.00 on 40 kg');
    expect(words()).toContain('Fare, by the carton: K300.00 → K600.00');
    expect(all('details.sewn').map((found) => [found.querySelector('h2').textContent, found.open])).toEqual([['Waiting for an answer: 1', true], ['Accepted: 1', true], ['Over: 1', false]]);
    expect(words()).toContain('The buyer asks: 1 question');
  });

  it('of a member alone tell nothing of what others lose', async () => {
    await opened(agness, 'Quotes');
    await until(() => one('.sewn'));
    expect(fetch.mock.calls.some(([path]) => path.includes('losing'))).toBe(false);
  });
});

describe('a quote', () => {
  it('tells its prices, how sure it is, until when and why, and what the buyer asks', async () => {
    await opened(joseph, 'Quote', { id: quotes[0].id });
    await until(() => one('#prices'));
    for (const said of ['40 to 49.5', 'K52.00', 'in all from K2,080.00', '19 times in 20', 'at most 5% has gone soft', 'then the carton is closed', '25% on top of the cost', 'Are they gutted?']) expect(words()).toContain(said);
  });

  it('that was accepted says by whom and leads to its lot, and cannot be taken back', async () => {
    await opened(joseph, 'Quote', { id: quotes[1].id });
    await until(() => one('.mine-box'));
    expect(words()).toContain('Accepted: 50 kg for K2,450.00');
    expect(words()).toContain('Mrs Phiri');
    expect(all('a').map((found) => found.getAttribute('href'))).toContain(`/lots/${quotes[1].lot}`);
    expect(button('Take the quote back')).toBe(undefined);
  });

  it('shows a new link once, to be copied', async () => {
    const copied = vi.fn(async () => {});
    vi.stubGlobal('navigator', { ...navigator, onLine: true, clipboard: { writeText: copied } });
    await opened(joseph, 'Quote', { id: quotes[0].id });
    await until(() => button('Make a new link'));
    says(200, issued);
    button('Make a new link').click();
    await until(() => one('.link-text'));
    expect(sends()).toEqual([`POST /api/v1/quotes/${quotes[0].id}/renew-link/`]);
    button('Copy').click();
    await until(() => words().includes('Copied'));
    expect(copied).toHaveBeenCalledWith(issued.text);
    (await import('preact')).render(null, document.body.lastChild);
    (await import('../src/people.js')).lock();
    expect((await import('../src/parts/quote_link.jsx')).justSent.value).toBe(null);
    vi.unstubAllGlobals();
  });
});

describe('making a quote', () => {
  const filled = async () => {
    await opened(joseph, 'QuoteNew', { query: { departure: '1-20261126-common', mass_kg: '60', buyer: 'city-market' } });
    await until(() => one('form'));
    await type('frozen_since', '2026-11-24');
    await type('profit_share', '25');
    says(200, quotes[0]);
    one('form').requestSubmit();
    await until(() => one('#prices'));
  };

  it('can be written in any of the four languages', async () => {
    await opened(joseph, 'QuoteNew', { query: { departure: '1-20261126-common', mass_kg: '60', buyer: 'city-market' } });
    await until(() => one('form'));
    expect(all('[name=language] option').map(({ value }) => value)).toEqual(['en', 'fr', 'mg', 'sw']);
  });

  it('is looked at first, and issued with the same words after', async () => {
    await filled();
    says(201, issued);
    button('Make this quote').click();
    await until(() => location.pathname === `/quotes/${quotes[0].id}`);
    const [[, looked, first], [, made, second]] = sent;
    expect([looked, made]).toEqual(['/api/v1/quotes/preview/', '/api/v1/quotes/']);
    expect(second).toEqual(first);
    expect(first).toMatchObject({
      departure: '1-20261126-common', buyer: 'city-market', becomes: 'lot', profit_kind: 'mark_up', profit_share: 0.25, supply: null, valid_until: null,
      fish: { member: joseph.id, species: 'IRQ', mass_kg: 60, start_temperature_c: -18, frozen_since: '2026-11-23T22:00:00.000Z' },
    });
  });

  it('goes back to what was typed', async () => {
    await filled();
    button('Change').click();
    await until(() => one('form [name=profit_share]'));
    expect(one('[name=profit_share]').value).toBe('25');
    expect(one('[name=frozen_since]').value).toBe('2026-11-24');
  });

  it('that is not safe says so in the words of the server', async () => {
    await opened(agness, 'QuoteNew', { query: { departure: '1-20261126-common' } });
    await until(() => one('form'));
    await type('frozen_since', '2026-11-24');
    await type('profit_share', '25');
    says(409, { error: { code: 'not_safe', message: 'Nothing can be quoted.', fields: [{ field: 'departure', value: null, problem: 'the carton may not hold', right: 'colder fish' }] } });
    one('form').requestSubmit();
    await until(() => one('[role=alert]'));
    expect(words()).toContain('Nothing can be quoted.');
    expect(words()).toContain('the carton may not hold: colder fish');
    expect(one('[name=becomes]')).toBe(null);
  });
});

describe('fares', () => {
  const listed = async () => {
    await opened(mary, 'Fares', { query: { subject: 'tariffs' } });
    await until(() => one('.old'));
  };

  it('say what counts, since when, what comes, and what is old, in words', async () => {
    await listed();
    expect(all('.fare').length).toBe(2);
    for (const said of ['K300.00 a carton', '10% on top, only in Dec, Jan', 'since 1 Jan 2026', 'From 1 Jan 2099', 'K400.00 a carton', 'OLD: confirmed', 'by weight: from 0 kg: K90.00; from 50 kg: K150.00']) expect(words()).toContain(said);
    expect(words()).not.toContain('K260.00');
  });

  it('are confirmed, ended and taken back at their own addresses', async () => {
    await listed();
    says(200, tariffs[1]);
    one('.fare .button').click();
    await until(() => sent.length === 1);
    button('Take this change back').click();
    // It can still be undone; whoever leaves the page has it sent.
    await until(() => !button('Take this change back'));
    await (await import('../src/outbox.js')).settle();
    expect(sent.length).toBe(2);
    one('.fare details form').requestSubmit();
    await until(() => sent.length === 3);
    expect(sends()).toEqual(['POST /api/v1/tariffs/2/confirm/', 'POST /api/v1/tariffs/3/withdraw/', 'POST /api/v1/tariffs/2/end/']);
  });

  it('are tried before they are saved, with the quotes that would lose money', async () => {
    await opened(mary, 'FareChange', { query: { subject: 'tariffs', id: '2' } });
    await until(() => one('form'));
    await type('valid_from', '2026-12-01');
    await type('rules.0.amount_minor', '400');
    says(200, tried);
    one('form').requestSubmit();
    await until(() => one('#tried'));
    expect(words()).toContain('1 quote would lose money');
    expect(all('tbody tr').map((found) => found.textContent.replace(/[\u00a0\u202f]/g, ' '))).toEqual([expect.stringMatching(/K38\.40 → K39\.65$/), expect.stringMatching(/K44\.10, the same$/)]);
    expect(sends()).toEqual(['POST /api/v1/what-if/']);
    expect(sent[0][2]).toMatchObject({ valid_from: '2026-12-01', route: 'mpulungu-lusaka', buyer: 'city-market', last_day: '2026-12-07' });
    says(201, tariffs[2]);
    button('Save from Tue, 1 Dec').click();
    await until(() => location.pathname === '/fares');
    const [, path, body] = sent[1];
    expect(path).toBe('/api/v1/tariffs/');
    expect(body).toMatchObject({ carrier: 1, route: 'mpulungu-lusaka', valid_from: '2026-12-01', valid_until: null });
    expect(body.rules).toEqual([{ kind: 'per_carton', months: [], amount_minor: 40_000, steps: [] }, { kind: 'surcharge', months: [12, 1], surcharge_share: 0.1, steps: [] }]);
  });

  it('with a part that means nothing ask no server', async () => {
    await opened(mary, 'FareChange', { query: { subject: 'tariffs', id: '2' } });
    await until(() => one('form'));
    await type('rules.0.amount_minor', 'much');
    one('form').requestSubmit();
    await until(() => all('[aria-invalid]').length);
    expect(one('[aria-invalid]').name).toBe('rules.0.amount_minor');
    expect(sent).toEqual([]);
  });

  it('have a history with who, when, and what was before', async () => {
    await opened(mary, 'FareHistory');
    await until(() => one('.entry-line'));
    for (const said of ['Joseph Simfukwe', 'counts from 1 Jan 2099', 'K300.00 a carton', 'K400.00 a carton', 'heard at the rank']) expect(words()).toContain(said);
  });
});

describe('a file that comes in', () => {
  const chosen = async () => {
    await opened(mary, 'Imports');
    await until(() => one('#file'));
    await type('subject', 'fish_prices');
    await until(() => one('#file'));
    const file = new File(['species\n'], 'fish.csv');
    Object.defineProperty(one('#file'), 'files', { value: [file] });
    one('#file').dispatchEvent(new Event('change', { bubbles: true }));
    await until(() => !button('Look at the differences').disabled);
    return file;
  };

  it('is looked at, and taken over only then', async () => {
    await chosen();
    says(200, differences);
    button('Look at the differences').click();
    await until(() => one('#differences'));
    expect(words()).toContain('New: 0 · changed: 1 · the same: 2');
    expect(words()).toContain('bought_zmw_per_kg: 30.00 → 32.50');
    says(200, { ...differences, dry_run: false });
    button('Take it over').click();
    await until(() => words().includes('Done.'));
    expect(sends()).toEqual(['POST /api/v1/imports/fish_prices/?dry_run=yes', 'POST /api/v1/imports/fish_prices/?dry_run=no']);
    expect(sent[0][2].type).toBe('text/csv');
    expect(button('Take it over')).toBe(undefined);
  });

  it('with faults says where they are and what would be right', async () => {
    await chosen();
    says(400, { error: { code: 'invalid', message: '', fields: [{ field: 'line 3, valid_from', value: '2026-13-45', problem: 'is no day', right: 'a date such as 2026-03-02' }] } });
    button('Look at the differences').click();
    await until(() => one('[role=alert]'));
    expect(words()).toContain('line 3, valid_from: 2026-13-45');
    expect(words()).toContain('is no day: a date such as 2026-03-02');
    expect(button('Take it over')).toBe(undefined);
  });
});

it('losing quotes of which no cost is known say so', async () => {
  losing[0].loses_minor = null;
  losing[0].missing = 'no tariff';
  await opened(joseph, 'Quotes');
  await until(() => one('.losing'));
  expect(words()).toContain('Its cost is not known any more');
  expect(words()).toContain('no tariff');
  losing[0].loses_minor = 1200;
  losing[0].missing = '';
});
