import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');
const files = readdirSync(join(ROOT, 'src'), { recursive: true })
  .filter((name) => /\.(jsx?|css)$/.test(name))
  .map((name) => ({ name, text: readFileSync(join(ROOT, 'src', name), 'utf8') }));
const withText = (pattern) => files.filter(({ name, text }) => /\.jsx?$/.test(name) && pattern.test(text)).map(({ name }) => name);

describe('the house', () => {
  it('has one file that talks to the network, and the worker that brings the pages', () => {
    expect(withText(/\bfetch\(|XMLHttpRequest|sendBeacon/).sort()).toEqual(['network.js', 'sw.js']);
  });

  it('has one file that talks to IndexedDB, and none that uses another store', () => {
    expect(withText(/indexedDB\./)).toEqual(['database.js']);
    expect(withText(/from '.*\/database\.js'/)).toEqual(['store.js']);
    expect(withText(/localStorage|sessionStorage|document\.cookie/)).toEqual([]);
  });

  it('has one file that locks', () => {
    expect(withText(/crypto\.(subtle\.|getRandomValues)/)).toEqual(['lock.js']);
  });

  it('has one file that shapes figures for people; plurals belong to the words', () => {
    expect(withText(/\bIntl\./)).toEqual(['format.js']);
    expect(withText(/make-plural|PluralRules/)).toEqual(['words.js']);
    // Rounds as Python does, for sums that must agree; nobody reads it.
    expect(withText(/toLocale|toFixed/)).toEqual(['reckon/exact.js']);
  });

  it('loads the curve with the journey only', () => {
    expect(withText(/from '.*\/curve\.jsx'/)).toEqual([]);
  });

  it('keeps a screen within 150 lines and any file under 300', () => {
    for (const { name, text } of files) {
      const lines = text.split('\n').length - 1;
      expect([name, lines]).toEqual([name, Math.min(lines, name.startsWith('screens/') ? 150 : 299)]);
    }
  });

  it('names no packages by address and no versions by range', () => {
    const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8'));
    const addresses = Object.values(lock.packages).filter((one) => one.resolved);
    expect(addresses).toEqual([]);
    const { dependencies, devDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
    for (const version of Object.values({ ...dependencies, ...devDependencies })) expect(version).toMatch(/^\d+\.\d+\.\d+$/);
  });
});

/** Relative luminance and contrast: WCAG 2.2, definitions of the same names. */
function luminance(hex) {
  const channels = [1, 3, 5].map((start) => parseInt(hex.slice(start, start + 2), 16) / 255);
  const [red, green, blue] = channels.map((one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one, other) {
  const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

const palette = files.find(({ name }) => name.endsWith('palette.css')).text;
const coloursOf = (text) => Object.fromEntries([...text.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map(([, name, hex]) => [name, hex]));
const [light, dark] = palette.split('@media').map(coloursOf);

describe.each([['light', light], ['dark', dark]])('the %s colours', (_, colours) => {
  it.each([
    ['ink', 'paper'], ['quiet', 'paper'], ['board-ink', 'board'], ['frost-ink', 'frost'], ['thaw-ink', 'thaw'],
    ['on-act', 'act'], ['on-band', 'band'], ['act', 'paper'],
  ])('let %s be read on %s in the sun: at least 7 to 1', (front, back) => {
    expect(contrast(colours[front], colours[back])).toBeGreaterThanOrEqual(7);
  });

  it.each([['frost-line', 'paper'], ['thaw-line', 'paper'], ['thaw-line', 'thaw'], ['frost-line', 'frost']])('let the line %s be seen on %s: at least 3 to 1', (front, back) => {
    expect(contrast(colours[front], colours[back])).toBeGreaterThanOrEqual(3);
  });
});

describe('contrast', () => {
  it('of black on white is 21, of a colour on itself 1', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#123456', '#123456')).toBe(1);
  });
});
