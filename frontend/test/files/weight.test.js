import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';

const KB = 1000;
const ALL_SCRIPTS = 60 * KB;
const START_SCRIPTS = 30 * KB;
/** Of the 150 kB of a first visit, 60 are left to the answers of the server. */
const WHOLE_SHELL = 90 * KB;
/** What only those need who hold a phone, and those who pack or manage besides; no first visit brings it. */
const LATE_SCRIPTS = { later_members: 14 * KB, later_office: 15 * KB };
const LANGUAGES = ['en', 'fr', 'mg', 'sw'];
const isLate = (name) => /^assets\/(later_members|later_office|office_)/.test(name);
const isWords = (name) => /^assets\/(office_)?[a-z]{2}-.*\.json$/.test(name);

const ROOT = join(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'carton-hour-'));
let names;

const packed = (name) => gzipSync(readFileSync(join(folder, name)), { level: 9 }).length;
const weight = (wanted) => wanted.reduce((sum, name) => sum + packed(name), 0);
const scripts = () => names.filter((name) => name.endsWith('.js') && !isLate(name));

/** Scripts that the page asks for itself, and all that those import without waiting. */
function startPath() {
  const found = new Set([...readFileSync(join(folder, 'index.html'), 'utf8').matchAll(/"\/(assets\/[^"]+\.js)"/g)].map(([, name]) => name));
  for (const name of found) {
    const text = readFileSync(join(folder, name), 'utf8');
    for (const [, other] of text.matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g)) found.add(`assets/${other}`);
  }
  return [...found];
}

beforeAll(async () => {
  // The tests' own setting would build the worker with all that helps while developing.
  vi.stubEnv('NODE_ENV', 'production');
  await build({ root: ROOT, logLevel: 'silent', build: { outDir: folder, emptyOutDir: true } });
  names = readdirSync(folder, { recursive: true }).filter((name) => statSync(join(folder, name)).isFile());
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true }));

describe('a build', () => {
  it('carries at most 60 kB of scripts, the worker among them', () => {
    expect(scripts()).toContain('sw.js');
    expect(weight(scripts())).toBeLessThanOrEqual(ALL_SCRIPTS);
  });

  it('starts with at most 30 kB of scripts, without the curve', () => {
    const start = startPath();
    expect(start.length).toBeGreaterThan(0);
    expect(start.some((name) => name.includes('curve'))).toBe(false);
    expect(weight(start)).toBeLessThanOrEqual(START_SCRIPTS);
  });

  it('leaves 60 kB of the first visit to the answers', () => {
    const icons = names.filter((name) => /icon-.*\.png$/.test(name));
    const shell = names.filter((name) => !name.endsWith('.gz') && !icons.includes(name) && !isLate(name) && !isWords(name));
    // A phone brings the words of one language; the heaviest of the four counts.
    const words = LANGUAGES.map((tag) => weight(names.filter((name) => name.startsWith(`assets/${tag}-`) && name.endsWith('.json'))));
    expect(Math.min(...words)).toBeGreaterThan(5 * KB);
    expect(weight(shell) + Math.max(...words)).toBeLessThanOrEqual(WHOLE_SHELL);
  });

  it('puts every screen and every catalogue into the worker, so that all open without a signal', () => {
    const worker = readFileSync(join(folder, 'sw.js'), 'utf8');
    const wanted = names.filter((name) => /^assets\/.*\.(js|css|json)$/.test(name));
    for (const part of ['start', 'later', 'later_lots', 'later_members', 'later_office', 'curve', 'style', ...LANGUAGES, ...LANGUAGES.map((tag) => `office_${tag}`)]) expect(wanted.some((name) => name.startsWith(`assets/${part}-`))).toBe(true);
    expect(wanted.filter((name) => !worker.includes(name))).toEqual([]);
    expect(worker).toContain('index.html');
  });

  it('keeps the screens of members and those of the office for those who need them', () => {
    const worker = readFileSync(join(folder, 'sw.js'), 'utf8');
    const marked = [...worker.matchAll(/\{[^{}]*"late":"[^{}]*\}/g)].map(([text]) => JSON.parse(text));
    const nameOf = (path) => path.replace(/^assets\/|-.*/g, '');
    expect(marked.map(({ url, late }) => [nameOf(url), late]).sort()).toEqual([['later_members', 'members'], ['later_office', 'office']]);
    for (const { url } of marked) expect([url, Math.min(packed(url), LATE_SCRIPTS[nameOf(url)])]).toEqual([url, packed(url)]);
  });

  it('has no script of a first visit that needs a late one before it can start', () => {
    const needed = (name) => [...readFileSync(join(folder, name), 'utf8').matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g)].map(([, other]) => `assets/${other}`);
    expect(scripts().flatMap(needed).filter(isLate)).toEqual([]);
  });

  it('leaves the words of each language to the phones that it is spoken on', () => {
    const worker = readFileSync(join(folder, 'sw.js'), 'utf8');
    const marked = [...worker.matchAll(/\{[^{}]*"words":true[^{}]*\}/g)].map(([text]) => JSON.parse(text).url);
    expect(marked.sort()).toEqual(names.filter((name) => isWords(name)).sort());
    expect(marked).toHaveLength(2 * LANGUAGES.length);
  });

  it('lets a new version wait until the person agrees', () => {
    const worker = readFileSync(join(folder, 'sw.js'), 'utf8');
    expect(worker).toMatch(/SKIP_WAITING/);
    expect(worker.match(/skipWaiting\(\)/g)).toHaveLength(1);
  });

  it('asks no other host for anything', () => {
    // The worker's library names a page of its own in an error message.
    const ours = names.filter((one) => /^(assets\/|index\.html$|manifest)/.test(one) && !one.endsWith('.gz'));
    for (const name of ours) {
      const hosts = (readFileSync(join(folder, name), 'utf8').match(/https?:\/\/[\w.-]+/g) ?? []).filter((host) => !host.includes('www.w3.org'));
      expect([name, hosts]).toEqual([name, []]);
    }
  });

  it('lays a packed file beside each that is text', () => {
    const texts = names.filter((name) => /\.(js|css|html|json|svg|webmanifest)$/.test(name));
    expect(texts.filter((name) => !names.includes(`${name}.gz`))).toEqual([]);
  });
});
