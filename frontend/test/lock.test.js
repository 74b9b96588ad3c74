import { webcrypto } from 'node:crypto';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { WrongCode, canLock, lockKey, newKey, openKey, seal, unseal } from '../src/lock.js';

afterEach(() => vi.unstubAllGlobals());

describe('a lock', () => {
  it('gives back what was locked, to the right code only', async () => {
    const key = await newKey();
    const locked = await lockKey(key, '2580');
    const sealed = await seal(key, { lots: ['perch'] });
    expect(await unseal(await openKey(locked, '2580'), sealed)).toEqual({ lots: ['perch'] });
    await expect(openKey(locked, '2581')).rejects.toBeInstanceOf(WrongCode);
  });

  it('is opened by no key of another person', async () => {
    const sealed = await seal(await newKey(), 1);
    await expect(unseal(await newKey(), sealed)).rejects.toMatchObject({ name: 'OperationError' });
  });

  it('never looks the same twice, so that equal codes do not show', async () => {
    const key = await newKey();
    const [one, other] = [await lockKey(key, '2580'), await lockKey(key, '2580')];
    expect(one.salt).not.toEqual(other.salt);
    expect(one.iv).not.toEqual(other.iv);
    expect(new Uint8Array(one.bytes)).not.toEqual(new Uint8Array(other.bytes));
  });

  it('is what PBKDF2 with SHA-256 and AES-GCM make of the code: another program opens it', async () => {
    const { createDecipheriv, pbkdf2Sync } = await import('node:crypto');
    const key = await newKey();
    const { salt, rounds, iv, bytes } = await lockKey(key, '73910');
    expect(rounds).toBeGreaterThanOrEqual(310_000);
    const wrapped = Buffer.from(bytes);
    const decipher = createDecipheriv('aes-256-gcm', pbkdf2Sync('73910', salt, rounds, 32, 'sha256'), iv);
    decipher.setAuthTag(wrapped.subarray(-16));
    const raw = Buffer.concat([decipher.update(wrapped.subarray(0, -16)), decipher.final()]);
    expect(raw).toEqual(Buffer.from(await webcrypto.subtle.exportKey('raw', key)));
  });
});

describe('a page that came over an open line', () => {
  it('can lock nothing', () => {
    vi.stubGlobal('isSecureContext', false);
    expect(canLock()).toBe(false);
    vi.stubGlobal('isSecureContext', true);
    expect(canLock()).toBe(true);
    vi.stubGlobal('crypto', { getRandomValues() {} });
    expect(canLock()).toBe(false);
  });
});
