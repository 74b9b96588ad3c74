import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

let version;
let service;

/** A worker of the browser, as far as a page sees it. */
const worker = (state) => Object.assign(new EventTarget(), { state, postMessage: vi.fn() });

function browserWith({ controller = worker('activated'), waiting = null } = {}) {
  const registration = Object.assign(new EventTarget(), { waiting, installing: null });
  service = Object.assign(new EventTarget(), { controller, ready: Promise.resolve(registration), register: vi.fn(async () => registration) });
  vi.stubGlobal('navigator', { serviceWorker: service, onLine: true, languages: ['en'] });
  return registration;
}

/** What the browser does when it finds another build at the server. */
function newBuild(registration) {
  const installing = worker('installing');
  registration.installing = installing;
  registration.dispatchEvent(new Event('updatefound'));
  installing.state = 'installed';
  installing.dispatchEvent(new Event('statechange'));
  return installing;
}

beforeEach(async () => {
  vi.resetModules();
  version = await import('../src/version.js');
});

describe('a new version', () => {
  it('waits for the person, and takes over only when told', async () => {
    const registration = browserWith();
    await version.watchVersion();
    const installed = newBuild(registration);
    expect(version.newVersion.value).toBe(true);
    expect(installed.postMessage).not.toHaveBeenCalled();
    version.acceptVersion();
    expect(installed.postMessage).toHaveBeenCalledWith({ type: 'SKIP_WAITING' });
  });

  it('that was waiting already is offered at the next visit', async () => {
    browserWith({ waiting: worker('installed') });
    await version.watchVersion();
    expect(version.newVersion.value).toBe(true);
  });

  it('can be put off', async () => {
    const registration = browserWith();
    await version.watchVersion();
    newBuild(registration);
    version.putOff();
    expect(version.newVersion.value).toBe(false);
  });
});

describe('a line that breaks while the pages come', () => {
  const AGAIN_MS = 30_000;

  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());

  it('leaves no worker, so that they are asked for again', async () => {
    const registration = browserWith({ controller: null });
    const installing = (registration.installing = worker('installing'));
    version.watchVersion();
    await vi.advanceTimersByTimeAsync(AGAIN_MS);
    expect(service.register).toHaveBeenCalledTimes(1);
    installing.state = 'redundant';
    installing.dispatchEvent(new Event('statechange'));
    await vi.advanceTimersByTimeAsync(AGAIN_MS);
    expect(service.register).toHaveBeenCalledTimes(2);
  });

  it('is no end of it when the worker itself did not come', async () => {
    browserWith({ controller: null });
    service.register.mockRejectedValueOnce(new TypeError('no signal'));
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    version.watchVersion();
    await vi.advanceTimersByTimeAsync(AGAIN_MS);
    expect(service.register).toHaveBeenCalledTimes(2);
    expect(version.readyOffline.value).toBe(true);
  });

  it('asks for nothing again where an older worker goes on', async () => {
    const registration = browserWith();
    registration.active = worker('activated');
    const installing = (registration.installing = worker('installing'));
    version.watchVersion();
    await vi.advanceTimersByTimeAsync(0);
    installing.state = 'redundant';
    installing.dispatchEvent(new Event('statechange'));
    await vi.advanceTimersByTimeAsync(2 * AGAIN_MS);
    expect(service.register).toHaveBeenCalledTimes(1);
  });
});

describe('pages that are too old to write', () => {
  async function refused() {
    (await import('../src/network.js')).tooOld.value = true;
    await new Promise((go) => setTimeout(go));
  }

  it('take the new version that waits without asking', async () => {
    const registration = browserWith();
    await version.watchVersion();
    const installed = newBuild(registration);
    expect(installed.postMessage).not.toHaveBeenCalled();
    await refused();
    expect(installed.postMessage).toHaveBeenCalledWith({ type: 'SKIP_WAITING' });
  });

  it('look for one, and take it once it is here', async () => {
    const registration = browserWith();
    registration.update = vi.fn(async () => {});
    await version.watchVersion();
    await refused();
    expect(registration.update).toHaveBeenCalled();
    expect(newBuild(registration).postMessage).toHaveBeenCalledWith({ type: 'SKIP_WAITING' });
  });
});

describe('the first version', () => {
  it('is no new version: nothing served the page before it', async () => {
    const registration = browserWith({ controller: null });
    await version.watchVersion();
    newBuild(registration);
    expect(version.newVersion.value).toBe(false);
    expect(version.readyOffline.value).toBe(true);
  });
});

describe('a phone that refuses workers', () => {
  it('goes on without', async () => {
    vi.spyOn(console, 'warn').mockImplementation(() => {});
    browserWith();
    service.register.mockRejectedValue(new DOMException('refused', 'SecurityError'));
    await version.watchVersion();
    expect(version.readyOffline.value).toBe(false);
    vi.restoreAllMocks();
  });
});

describe('the late files', () => {
  let active;

  async function unlocked(role, { saving = false } = {}) {
    const registration = browserWith();
    Object.assign(navigator, { connection: { saveData: saving } });
    active = registration.active = worker('activated');
    const { me } = await import('../src/people.js');
    me.value = { member: { id: 1, name: 'Agness', role } };
    await version.watchVersion();
    await new Promise((go) => setTimeout(go, 600));
  }

  it.each([['member', ['members']], ['packer', ['members', 'office']], ['manager', ['members', 'office']]])('come ahead once a %s is unlocked: those of %s', async (role, whose) => {
    await unlocked(role);
    expect(active.postMessage).toHaveBeenCalledWith({ type: 'KEEP_LATE', whose });
  });

  it.each([['packer', { saving: true }]])('do not for a %s with %o', async (role, how) => {
    await unlocked(role, how);
    expect(active.postMessage).not.toHaveBeenCalled();
  });
});
