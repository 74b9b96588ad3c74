import { afterEach, describe, expect, it, vi } from 'vitest';
import { NoAnswer, NoSignal, Refused, get, getWhole, online } from '../src/network.js';
import { tooMuch } from './invented.js';

const answers = (...all) => {
  const fetch = vi.fn();
  for (const [status, body] of all) fetch.mockResolvedValueOnce(new Response(typeof body === 'string' ? body : JSON.stringify(body), { status }));
  vi.stubGlobal('fetch', fetch);
  return fetch;
};

afterEach(() => vi.unstubAllGlobals());

describe('an answer', () => {
  it('comes back as it is, asked for in the language of the screen', async () => {
    const fetch = answers([200, { a: 1 }]);
    expect(await get('/api/v1/x/', 'fr')).toEqual({ a: 1 });
    expect(fetch.mock.calls[0][1].headers['Accept-Language']).toBe('fr');
  });

  it('of several pages comes back whole, whatever host the next page names', async () => {
    const next = 'http://elsewhere.invalid/api/v1/x/?page=2';
    const fetch = answers([200, { count: 3, next, results: [1, 2] }], [200, { count: 3, next: null, results: [3] }]);
    expect((await getWhole('/api/v1/x/', 'en')).results).toEqual([1, 2, 3]);
    expect(fetch.mock.calls[1][0]).toBe('/api/v1/x/?page=2');
  });
});

describe('a refusal', () => {
  it('names the field, its value and what would be right', async () => {
    answers([400, tooMuch('500')]);
    const refused = await get('/api/v1/departures/', 'en').catch((failure) => failure);
    expect(refused).toBeInstanceOf(Refused);
    expect(refused.fields).toEqual([{ field: 'mass_kg', value: '500', problem: 'more than fits', right: 'at most 108 kg' }]);
  });
});

describe('silence', () => {
  it('is told from a broken server and from a sign-in page of a hotspot', async () => {
    vi.stubGlobal('fetch', vi.fn().mockRejectedValue(new TypeError('failed')));
    expect(await get('/x', 'en').catch((failure) => failure)).toBeInstanceOf(NoSignal);
    expect(online.value).toBe(false);
    answers([500, { error: { code: 'failed', message: 'ours' } }]);
    expect(await get('/x', 'en').catch((failure) => failure)).toBeInstanceOf(NoAnswer);
    answers([200, '<html>sign in</html>']);
    expect(await get('/x', 'en').catch((failure) => failure)).toBeInstanceOf(NoAnswer);
  });

  it('ends with the next answer of the server', async () => {
    online.value = false;
    answers([200, {}]);
    await get('/x', 'en');
    expect(online.value).toBe(true);
  });
});
