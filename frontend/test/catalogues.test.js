import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from 'vite';
import { describe, expect, it } from 'vitest';
import en from '../src/catalogues/en.json';
import fr from '../src/catalogues/fr.json';
import officeEn from '../src/catalogues/office_en.json';
import officeFr from '../src/catalogues/office_fr.json';
import { LANGUAGES, pickLanguage, t, useCatalogue } from '../src/words.js';

/** Each by its file, with the English one whose words it has to have. */
const CATALOGUES = { en: [en, en], fr: [fr, en], office_en: [officeEn, officeEn], office_fr: [officeFr, officeEn] };
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

/** Words that a person would read or hear, written into the source. */
function hardCoded(node) {
  if (node.type === 'JSXText' && isWords(node.value)) return [node.value.trim()];
  if (node.type === 'JSXExpressionContainer' && isWords(node.expression?.value)) return [node.expression.value];
  const spoken = node.type === 'JSXAttribute' && SPOKEN.has(node.name.name);
  return spoken && isWords(node.value?.value) ? [node.value.value] : [];
}

describe.each(Object.entries(CATALOGUES))('the catalogue %s', (file, [catalogue, english]) => {
  const tag = file.replace('office_', '');

  it('says its language, its name, and whether a native reader has checked it', () => {
    expect(catalogue.language).toBe(tag);
    expect(catalogue.name).toBe(LANGUAGES[tag].name);
    expect(catalogue.read_by_native).toBeTypeOf('boolean');
  });

  it('has the keys of the English one and no others', () => {
    expect(Object.keys(catalogue.messages).sort()).toEqual(Object.keys(english.messages).sort());
  });

  it('has the placeholders of the English one in every sentence', () => {
    for (const [key, message] of Object.entries(catalogue.messages)) {
      const wanted = holes(variants(english.messages[key])[0]);
      for (const sentence of variants(message)) expect([key, holes(sentence)]).toEqual([key, wanted]);
    }
  });

  it('has a sentence for every plural of its language', () => {
    const wanted = [...new Intl.PluralRules(tag).resolvedOptions().pluralCategories].sort();
    for (const [key, message] of Object.entries(catalogue.messages)) {
      if (typeof message === 'object') expect([key, Object.keys(message).sort()]).toEqual([key, wanted]);
    }
  });

  it('leaves no sentence empty', () => {
    for (const message of Object.values(catalogue.messages)) {
      for (const sentence of variants(message)) expect(sentence.trim()).not.toBe('');
    }
  });
});

describe('the source', () => {
  const all = sources.map(({ text }) => text).join('\n');
  const written = [...all.matchAll(/['"]([a-z_]+(?:\.[\w-]+)*)['"]/g)].map(([, key]) => key);
  const begun = [...all.matchAll(/`([a-z_]+(?:\.[a-z_]+)*\.)\$\{/g)].map(([, start]) => start);
  const composed = [...all.matchAll(/named\('(\w+(?:\.\w+)*)'/g)].map(([, start]) => `${start}.`);

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
    const text = 'export const A = () => <p title="Fish here">Hard <b>{"words"}</b></p>;';
    expect(gather(tree({ name: 'a.jsx', text }), hardCoded)).toEqual(['Fish here', 'Hard', 'words']);
  });
});

describe('words', () => {
  it('follow the plurals of their language', () => {
    expect(t('list.gone', { count: 1 })).toContain('1 departure that has');
    expect(t('list.gone', { count: 0 })).toContain('0 departures that have');
    useCatalogue(fr);
    expect(t('list.gone', { count: 0 })).toContain('0 départ déjà parti n');
    useCatalogue(en);
  });

  it('come in the first language of the browser that there is', () => {
    expect(pickLanguage(['mg-MG', 'fr-CD', 'en'])).toBe('fr');
    expect(pickLanguage(['bem'])).toBe('en');
  });
});
