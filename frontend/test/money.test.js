import { afterEach, describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import { money } from '../src/format.js';
import { LANGUAGES, useCatalogue } from '../src/words.js';
import said from './money_said.json';

/** What the server writes on a quote: `python -m tests.api.money_said` made it, by CLDR as Babel has it. */
const AMOUNTS = {};
for (const line of said) (AMOUNTS[line.language] ??= []).push(line);

afterEach(() => useCatalogue(en));

describe('money on the screens', () => {
  it('is tried in every language', () => {
    expect(Object.keys(AMOUNTS).sort()).toEqual(Object.keys(LANGUAGES).sort());
    for (const lines of Object.values(AMOUNTS)) expect(lines.length).toBeGreaterThan(100);
  });

  it.each(Object.keys(LANGUAGES))('is written as the server writes it, in %s', async (tag) => {
    useCatalogue(await import(`../src/catalogues/${tag}.json`).then((file) => file.default));
    for (const { minor, currency, decimals, text } of AMOUNTS[tag]) {
      expect([currency, minor, money(minor, currency, decimals)]).toEqual([currency, minor, text]);
    }
  });
});
