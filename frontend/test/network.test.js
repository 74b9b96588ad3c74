import { afterEach, describe, expect, it, vi } from 'vitest';
import { NoAnswer, NoSignal, Refused, get, getFile, getWhole, online, write } from '../src/network.js';
import { tooMuch } from './invented.js';

const answers = (...all) => {
  const fetch = vi.fn();
  for (const [status, body] of all) fetch.mockResolvedValueOnce(new Response(typeof body === 'string' ? body : JSON.stringify(body), { status }));
  vi.stubGlobal('fetch', fetch);
  return fetch;
};

const EN = { language: 'en' };

afterEach(() => vi.unstubAllGlobals());

describe('an answer', () => {
  it('comes back as it is, asked for in the language of the screen', async () => {
    const fetch = answers([200, { a: 1 }]);
    expect(await get('/api/v1/x/', { language: 'fr' })).toEqual({ a: 1 });
    expect(fetch.mock.calls[0][1].headers['Accept-Language']).toBe('fr');
  });

  it('of several pages comes back whole, whatever host the next page names', async () => {
    const next = 'http://elsewhere.invalid/api/v1/x/?page=2';
    const fetch = answers([200, { count: 3, next, results: [1, 2] }], [200, { count: 3, next: null, results: [3] }]);
    expect((await getWhole('/api/v1/x/', EN)).results).toEqual([1, 2, 3]);
    expect(fetch.mock.calls[1][0]).toBe('/api/v1/x/?page=2');
  });

  it('of one page that was named comes back alone', async () => {
    answers([200, { count: 3, next: 'http://elsewhere.invalid/api/v1/x/?page=2', results: [1, 2] }]);
    expect((await getWhole('/api/v1/x/?page=1&page_size=2', EN)).results).toEqual([1, 2]);
  });
});

describe('whoever asks', () => {
  it('says so with her token on every page, and a visitor with none', async () => {
    const next = 'http://elsewhere.invalid/api/v1/x/?page=2';
    const fetch = answers([200, { next, results: [1] }], [200, { next: null, results: [2] }], [200, {}]);
    await getWhole('/api/v1/x/', { language: 'en', token: 'abc' });
    await get('/api/v1/x/', EN);
    expect(fetch.mock.calls.map(([, { headers }]) => headers.Authorization)).toEqual(['Token abc', 'Token abc', undefined]);
  });
});

describe('what is written', () => {
  it('goes as JSON with its method, and an empty answer is one', async () => {
    const fetch = answers([201, { id: 7 }]);
    expect(await write('POST', '/api/v1/lots/', { mass_kg: 20 }, EN)).toEqual({ id: 7 });
    const [, sent] = fetch.mock.calls[0];
    expect([sent.method, sent.headers['Content-Type'], sent.body]).toEqual(['POST', 'application/json', '{"mass_kg":20}']);
    fetch.mockResolvedValueOnce(new Response(null, { status: 204 }));
    expect(await write('POST', '/api/v1/sign-out/', undefined, EN)).toBe(null);
  });

  it('goes as it is where it is a file', async () => {
    const fetch = answers([200, {}]);
    const file = new Blob(['species\n'], { type: 'text/csv' });
    await write('POST', '/api/v1/imports/fish_prices/', file, EN);
    const [, sent] = fetch.mock.calls[0];
    expect([sent.headers['Content-Type'], sent.body]).toEqual(['text/csv', file]);
  });

  it('and refused says with what, and when it may be tried again', async () => {
    const refusal = { error: { code: 'too_often', message: 'too often', fields: [] } };
    vi.stubGlobal('fetch', vi.fn(async () => new Response(JSON.stringify(refusal), { status: 429, headers: { 'Retry-After': '90' } })));
    const refused = await write('POST', '/api/v1/sign-in/', {}, EN).catch((failure) => failure);
    expect([refused.status, refused.code, refused.wait_s]).toEqual([429, 'too_often', 90]);
  });
});

describe('a refusal', () => {
  it('names the field, its value and what would be right', async () => {
    answers([400, tooMuch('500')]);
    const refused = await get('/api/v1/departures/', EN).catch((failure) => failure);
    expect(refused).toBeInstanceOf(Refused);
    expect(refused.fields).toEqual([{ field: 'mass_kg', value: '500', problem: 'more than fits', right: 'at most 108 kg', language: 'en' }]);
  });

  it('says of each of its words in which language they are', async () => {
    const fields = [{ field: 'kg', value: '5', problem: 'n’est pas proposé', right: '3 kg au plus' }, { field: 'kg', value: '5', problem: 'is odd', right: 'even', language: 'en' }];
    const refusal = { error: { code: 'invalid', message: 'kg : n’est pas proposé', fields } };
    vi.stubGlobal('fetch', vi.fn(async () => new Response(JSON.stringify(refusal), { status: 400, headers: { 'Content-Language': 'fr, en' } })));
    const refused = await get('/api/v1/quotes/', { language: 'fr' }).catch((failure) => failure);
    expect([refused.language, ...refused.fields.map(({ language }) => language)]).toEqual(['fr', 'fr', 'en']);
  });
});

describe('silence', () => {
  it('is told from a broken server and from a sign-in page of a hotspot', async () => {
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('failed')));
    expect(await get('/x', EN).catch((failure) => failure)).toBeInstanceOf(NoSignal);
    expect(online.value).toBe(false);
    answers([500, { error: { code: 'failed', message: 'ours' } }]);
    expect(await get('/x', EN).catch((failure) => failure)).toBeInstanceOf(NoAnswer);
    answers([200, '<html>sign in</html>']);
    expect(await get('/x', EN).catch((failure) => failure)).toBeInstanceOf(NoAnswer);
  });

  it('ends with the next answer of the server', async () => {
    online.value = false;
    answers([200, {}]);
    await get('/x', EN);
    expect(online.value).toBe(true);
  });
});

describe('a file of the server', () => {
  it('comes as its bytes, and a refusal as one', async () => {
    answers([200, 'species,valid_from'], [403, { error: { code: 'not_allowed', message: 'no', fields: [] } }]);
    expect(await (await getFile('/api/v1/exports/fish_prices/', EN)).text()).toBe('species,valid_from');
    await expect(getFile('/api/v1/exports/fish_prices/', EN)).rejects.toBeInstanceOf(Refused);
  });
});
