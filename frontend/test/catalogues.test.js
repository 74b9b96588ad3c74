import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import * as COUNTS from 'make-plural/pluralCategories';
import { parseSync } from 'vite';
import { describe, expect, it } from 'vitest';
import { LANGUAGES, pickLanguage, pieces, t, useCatalogue } from '../src/words.js';

const FOLDER = join(import.meta.dirname, '../src/catalogues');
const readCatalogue = (file) => JSON.parse(readFileSync(join(FOLDER, file), 'utf8'));
const all = Object.fromEntries(readdirSync(FOLDER).map((file) => [file.replace('.json', ''), readCatalogue(file)]));
const { en, fr, mg, sw, office_en: officeEn } = all;

/** Each by its file, with the English one whose words it has to have. */
const CATALOGUES = Object.fromEntries(Object.entries(all).map(([file, words]) => [file, [words, file.startsWith('office_') ? officeEn : en]]));
const WORDS = { ...en.messages, ...officeEn.messages };
const SOURCE = join(import.meta.dirname, '../src');
const sources = readdirSync(SOURCE, { recursive: true })
  .filter((name) => /\.jsx?$/.test(name))
  .map((name) => ({ name, text: readFileSync(join(SOURCE, name), 'utf8') }));

const variants = (message) => (typeof message === 'string' ? [message] : Object.values(message));
const holes = (sentence) => [...new Set(sentence.match(/\{\w+\}/g) ?? [])].sort();

/** Everything in a syntax tree that a test picks. */
function gather(node, pick, found = []) {
  if (!node || typeof node !== 'object') return found;
  if (Array.isArray(node)) node.forEach((one) => gather(one, pick, found));
  else {
    if (typeof node.type === 'string') found.push(...pick(node));
    Object.values(node).forEach((one) => gather(one, pick, found));
  }
  return found;
}

const tree = ({ name, text }) => parseSync(name, text, { lang: 'jsx', sourceType: 'module' }).program;

const SPOKEN = new Set(['aria-label', 'title', 'alt', 'placeholder', 'label', 'words']);
const isWords = (text) => typeof text === 'string' && /\p{L}{2,}/u.test(text);

/** Texts that an expression may come to, as far as they are written in it. */
function textsIn(node) {
  if (!node) return [];
  if (node.type === 'JSXText' || node.type === 'Literal') return [node.value];
  if (node.type === 'TemplateLiteral') return node.quasis.map(({ value }) => value.cooked);
  if (node.type === 'JSXExpressionContainer') return textsIn(node.expression);
  if (node.type === 'ConditionalExpression') return [...textsIn(node.consequent), ...textsIn(node.alternate)];
  return node.type === 'LogicalExpression' ? [...textsIn(node.left), ...textsIn(node.right)] : [];
}

/** Words that a person would read or hear, written into the source. */
function hardCoded(node) {
  const isSpoken = node.type === 'JSXAttribute' && SPOKEN.has(node.name.name);
  const found = isSpoken ? textsIn(node.value) : (node.type === 'JSXElement' || node.type === 'JSXFragment') ? node.children.flatMap(textsIn) : [];
  return found.filter(isWords).map((text) => text.trim());
}

/** A catalogue with one thing wrong in it, and what is found. */
const faultsOf = ({ messages }, { messages: english }, tag) => [
  ...Object.keys(english).filter((key) => !(key in messages)).map((key) => `${key}: missing`),
  ...Object.keys(messages).filter((key) => !(key in english)).map((key) => `${key}: too much`),
  ...Object.entries(messages).filter(([key]) => key in english).flatMap(([key, message]) => messageFaults(key, message, english[key], tag)),
];

function messageFaults(key, message, english, tag) {
  const faults = [];
  if (typeof message !== typeof english) faults.push(`${key}: a plural in one language only`);
  const wanted = [...COUNTS[tag].cardinal].sort().join();
  if (typeof message === 'object' && Object.keys(message).sort().join() !== wanted) faults.push(`${key}: not the plurals ${wanted}`);
  const gaps = holes(variants(english)[0]).join();
  for (const sentence of variants(message)) {
    if (holes(sentence).join() !== gaps) faults.push(`${key}: not the placeholders ${gaps}`);
    if (/\{(?!\w+\})|(?<!\{\w+)\}/.test(sentence)) faults.push(`${key}: a broken placeholder`);
    if (!sentence.trim()) faults.push(`${key}: empty`);
  }
  return faults;
}

/** Sentences of several words that are word for word those of English. */
const leftInEnglish = ({ messages }, { messages: english }) => Object.entries(messages)
  .filter(([key, message]) => {
    const words = variants(english[key])[0].replace(/\{\w+\}/g, '').match(/\p{L}{2,}/gu) ?? [];
    return words.length >= 3 && variants(message).some((sentence) => variants(english[key]).includes(sentence));
  })
  .map(([key]) => key);

describe.each(Object.entries(CATALOGUES))('the catalogue %s', (file, [catalogue, english]) => {
  const tag = file.replace('office_', '');

  it('says its language, its name, and whether a native reader has checked it', () => {
    expect(catalogue.language).toBe(tag);
    expect(catalogue.name).toBe(LANGUAGES[tag].name);
    expect(catalogue.read_by_native).toBeTypeOf('boolean');
  });

  it('has the keys, the placeholders and the plurals that it needs, and no others', () => {
    expect(faultsOf(catalogue, english, tag)).toEqual([]);
  });

  it.skipIf(tag === 'en')('is translated: hardly a sentence is left in English', () => {
    // One in a hundred: a name, or a word that both languages have.
    expect(leftInEnglish(catalogue, english).length).toBeLessThanOrEqual(Object.keys(english.messages).length / 100);
  });
});

describe('what would be found', () => {
  const english = { messages: { a: 'About {mass} of fish here', b: { one: '{count} box', other: '{count} boxes' } } };
  const found = (messages) => faultsOf({ messages }, english, 'fr');
  const good = { a: 'Environ {mass} de poisson', b: { one: '{count} caisse', many: '{count} caisses', other: '{count} caisses' } };

  it.each([
    ['nothing', {}, []],
    ['a key that is missing', { a: undefined }, ['a: missing']],
    ['a key too much', { c: 'x' }, ['c: too much']],
    ['a placeholder of another name', { a: 'Environ {masse} de poisson' }, ['a: not the placeholders {mass}']],
    ['a placeholder that one plural lost', { b: { ...good.b, one: 'une caisse' } }, ['b: not the placeholders {count}']],
    ['a placeholder that is not closed', { a: '{mass} de {poisson' }, ['a: a broken placeholder']],
    ['a plural that the language has and the message not', { b: { one: '{count}', other: '{count}' } }, ['b: not the plurals many,one,other']],
    ['a plural that is none', { b: '{count} caisse' }, ['b: a plural in one language only']],
    ['an empty sentence', { b: { ...good.b, many: ' ' } }, ['b: not the placeholders {count}', 'b: empty']],
  ])('is %s', (_, change, faults) => {
    const messages = JSON.parse(JSON.stringify({ ...good, ...change }));
    expect(found(messages)).toEqual(faults);
  });

  it('is a sentence left in English, not a word that both have', () => {
    expect(leftInEnglish({ messages: { a: english.messages.a, b: good.b } }, english)).toEqual(['a']);
    expect(leftInEnglish({ messages: { a: 'Kiwango' } }, { messages: { a: 'Kiwango' } })).toEqual([]);
  });
});

describe('languages', () => {
  it('each have their two catalogues', () => {
    expect(Object.keys(all).sort()).toEqual(Object.keys(LANGUAGES).flatMap((tag) => [tag, `office_${tag}`]).sort());
  });

  it.each(Object.keys(LANGUAGES))('count as CLDR says: %s', (tag) => {
    const rules = new Intl.PluralRules(tag);
    expect([...COUNTS[tag].cardinal].sort()).toEqual([...rules.resolvedOptions().pluralCategories].sort());
    for (const count of [...Array(1100).keys(), 1.5, 0.5, 2.1, 1_000_000, 2_000_000]) {
      expect([count, LANGUAGES[tag].plural(count)]).toEqual([count, rules.select(count)]);
    }
  });
});

describe('the source', () => {
  const code = sources.map(({ text }) => text).join('\n');
  const written = [...code.matchAll(/['"]([a-z_]+(?:\.[\w-]+)*)['"]/g)].map(([, key]) => key);
  const begun = [...code.matchAll(/`([a-z_]+(?:\.[a-z_]+)*\.)\$\{/g)].map(([, start]) => start);
  const composed = [...code.matchAll(/named\('(\w+(?:\.\w+)*)'/g)].map(([, start]) => `${start}.`);

  it('asks only for words that the catalogues have', () => {
    const asked = gather(sources.map(tree), (node) => {
      const call = node.type === 'CallExpression' && ['t', 'pieces'].includes(node.callee?.name);
      return call && typeof node.arguments[0]?.value === 'string' ? [node.arguments[0].value] : [];
    });
    expect(asked.length).toBeGreaterThan(50);
    expect(asked.filter((key) => !(key in WORDS))).toEqual([]);
  });

  it('uses every word that the catalogues have', () => {
    const starts = [...begun, ...composed, 'step.'];
    // What went wrong is followed by what to do about it (parts/states.jsx).
    const named = (key) => written.includes(key) || written.includes(key.replace(/\.do$/, ''));
    const used = (key) => named(key) || starts.some((start) => key.startsWith(start));
    expect(Object.keys(WORDS).filter((key) => !used(key))).toEqual([]);
  });

  it('says nothing twice: no word of the office is one of all', () => {
    expect(Object.keys(officeEn.messages).filter((key) => key in en.messages)).toEqual([]);
  });

  it('writes no words for people outside the catalogues', () => {
    const found = sources.flatMap((source) => gather(tree(source), hardCoded).map((words) => `${source.name}: ${words}`));
    expect(found).toEqual([]);
  });

  it('would be caught writing them', () => {
    const text = 'export const A = ({ x }) => <p class="no words" title="Fish here" aria-label={`Cold ${x}`}>Hard <b>{x ? "words" : x && "or"}</b></p>;';
    expect(gather(tree({ name: 'a.jsx', text }), hardCoded).sort()).toEqual(['Cold', 'Fish here', 'Hard', 'or', 'words']);
  });
});

describe('words', () => {
  it('follow the plurals of their language', () => {
    expect(t('list.gone', { count: 1 })).toContain('1 departure that has');
    expect(t('list.gone', { count: 0 })).toContain('0 departures that have');
    useCatalogue(fr);
    expect(t('list.gone', { count: 0 })).toContain('0 départ déjà parti n');
    useCatalogue(sw);
    expect(t('unit.box', { count: 1 })).toBe('boksi');
    expect(t('unit.box', { count: 0 })).toBe('maboksi');
    useCatalogue({ ...mg, messages: { a: { one: 'iray', other: 'maro' } } });
    expect([0, 1, 2].map((count) => t('a', { count }))).toEqual(['iray', 'iray', 'maro']);
    useCatalogue(en);
  });

  it('take an element into a sentence, in whatever order the language has', () => {
    const element = { type: 'b' };
    useCatalogue({ ...sw, messages: { a: 'Kilo {kg} ni {money} tu' } });
    expect(pieces('a', { kg: 5, money: element })).toEqual(['Kilo ', 5, ' ni ', element, ' tu']);
    useCatalogue(en);
  });

  it('come in the first language of the browser that there is', () => {
    expect(pickLanguage(['mg-MG', 'fr-CD', 'en'])).toBe('mg');
    expect(pickLanguage(['bem', 'SW-tz', 'en'])).toBe('sw');
    expect(pickLanguage(['bem', 'fr', 'sw'])).toBe('fr');
    expect(pickLanguage(['bem'])).toBe('en');
    expect(pickLanguage([])).toBe('en');
  });
});
