import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it, vi } from 'vitest';

let answers;
let network;

/** What the server says next; an error is silence. */
const says = (body) =>
  vi.stubGlobal('fetch', vi.fn(() => (body instanceof Error ? Promise.reject(body) : Promise.resolve(new Response(JSON.stringify(body))))));

/** The page opened anew over the same phone. */
async function reopened() {
  vi.resetModules();
  answers = await import('../src/answers.js');
  network = await import('../src/network.js');
}

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  await reopened();
});

describe('an answer', () => {
  it('that was seen once is there after a reload without a signal', async () => {
    says({ hours: 1 });
    await answers.bring('/a');
    says(new TypeError('no signal'));
    await reopened();
    vi.spyOn(Date, 'now').mockReturnValue(Date.now() + 3_600_000);
    const kept = await answers.bring('/a');
    expect(kept.value).toEqual({ hours: 1 });
    expect(kept.problem).toBeInstanceOf(network.NoSignal);
    expect(kept.waiting).toBe(false);
    vi.restoreAllMocks();
  });

  it('that is fresh is not asked for again', async () => {
    says({ hours: 1 });
    await answers.bring('/a');
    await answers.bring('/a');
    expect(fetch).toHaveBeenCalledTimes(1);
  });

  it('that two want at once is asked for once', async () => {
    says({ hours: 1 });
    const both = await Promise.all([answers.bring('/a'), answers.bring('/a')]);
    expect(both.map((one) => one.value)).toEqual([{ hours: 1 }, { hours: 1 }]);
    expect(fetch).toHaveBeenCalledTimes(1);
  });

  it('that failed for two at once is asked for again by the next', async () => {
    says(new TypeError('no signal'));
    await Promise.all([answers.bring('/a'), answers.bring('/a')]);
    says({ hours: 1 });
    expect((await answers.bring('/a')).value).toEqual({ hours: 1 });
  });

  it('that is ten minutes old is asked for again', async () => {
    says({ hours: 1 });
    await answers.bring('/a');
    says({ hours: 2 });
    vi.spyOn(Date, 'now').mockReturnValue(Date.now() + 600_001);
    expect((await answers.bring('/a')).value).toEqual({ hours: 2 });
    vi.restoreAllMocks();
  });

  it('that was never seen says why it is not there', async () => {
    says(new TypeError('no signal'));
    const nothing = await answers.bring('/a');
    expect(nothing.value).toBe(null);
    expect(nothing.problem).toBeInstanceOf(network.NoSignal);
  });

  it('stands while the server is broken', async () => {
    says({ hours: 1 });
    await answers.bring('/a');
    vi.stubGlobal('fetch', vi.fn(() => Promise.resolve(new Response('{}', { status: 500 }))));
    const kept = await answers.refresh('/a');
    expect(kept.value).toEqual({ hours: 1 });
    expect(kept.problem).toBeInstanceOf(network.NoAnswer);
  });
});
