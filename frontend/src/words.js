/** Words for people: one catalogue a language, with its plurals. */
import { signal } from '@preact/signals';
import en from './catalogues/en.json?url';
import fr from './catalogues/fr.json?url';
import officeEn from './catalogues/office_en.json?url';
import officeFr from './catalogues/office_fr.json?url';
import { fetchFile } from './network.js';
import { readSetting, writeSetting } from './store.js';

/** @typedef {string | Record<string, string>} Message one sentence, or one for each plural category */
/** @typedef {{language: string, name: string, read_by_native: boolean, messages: Record<string, Message>}} Catalogue */

/** Each language under its own name, and where its words lie: those of all, and those of the office screens. */
export const LANGUAGES = { en: { name: 'English', all: en, office: officeEn }, fr: { name: 'Français', all: fr, office: officeFr } };

export const language = signal('en');
/** @type {import('@preact/signals').Signal<Catalogue | null>} */
export const catalogue = signal(null);

/** @param {readonly string[]} wanted languages that the browser asks for, best first */
export function pickLanguage(wanted) {
  const known = wanted.map((tag) => tag.toLowerCase().split('-')[0]).find((tag) => tag in LANGUAGES);
  return known ?? 'en';
}

/** @param {Catalogue} words */
export function useCatalogue(words) {
  catalogue.value = words;
  language.value = words.language;
  document.documentElement.lang = words.language;
}

let hasOffice = false;

/** @param {string} chosen @param {boolean} [office] whether the words of the office screens are wanted, too */
export async function speak(chosen, office = hasOffice) {
  const { all, office: more } = LANGUAGES[chosen];
  const [words, others] = await Promise.all([fetchFile(all), office && fetchFile(more)]);
  hasOffice = office;
  useCatalogue({ ...words, messages: { ...words.messages, ...others.messages } });
}

/** The words of the office screens come with these. */
export const speakOffice = () => hasOffice || speak(language.value, true);

export async function startLanguage() {
  const chosen = await readSetting('language');
  await speak(chosen in LANGUAGES ? chosen : pickLanguage(navigator.languages ?? [navigator.language]));
}

/** @param {string} chosen */
export async function switchLanguage(chosen) {
  await speak(chosen);
  await writeSetting('language', chosen);
}

/** @param {string} key */
export const hasWords = (key) => key in (catalogue.value?.messages ?? {});

/**
 * The sentence of `key` cut at its placeholders, each replaced by its value: a text or an element.
 *
 * @param {string} key
 * @param {Record<string, any>} [values] `count` chooses the plural
 * @returns {any[]}
 */
export function pieces(key, values = {}) {
  const message = catalogue.value?.messages[key] ?? key;
  const sentence = typeof message === 'string' ? message : message[plural(values.count)] ?? message.other;
  return sentence.split(/\{(\w+)\}/).map((piece, index) => (index % 2 ? values[piece] : piece));
}

/** @param {number} count */
const plural = (count) => new Intl.PluralRules(language.value).select(count);

/** @param {string} key @param {Record<string, string | number>} [values] */
export const t = (key, values) => pieces(key, values).join('');
