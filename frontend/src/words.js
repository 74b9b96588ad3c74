/** Words for people: one catalogue a language, with its plurals. */
import { signal } from '@preact/signals';
import { en, fr, mg, sw } from 'make-plural/cardinals';
import all_en from './catalogues/en.json?url';
import all_fr from './catalogues/fr.json?url';
import all_mg from './catalogues/mg.json?url';
import office_en from './catalogues/office_en.json?url';
import office_fr from './catalogues/office_fr.json?url';
import office_mg from './catalogues/office_mg.json?url';
import office_sw from './catalogues/office_sw.json?url';
import all_sw from './catalogues/sw.json?url';
import { NoSignal, fetchFile } from './network.js';
import { readSetting, writeSetting } from './store.js';

/** @typedef {string | Record<string, string>} Message one sentence, or one for each plural category */
/** @typedef {{weekday: Record<string, string[]>, month: Record<string, string[]>, hours: string, yesterday: string, ago: Record<string, string>}} Names what no browser's Intl knows of a language */
/** @typedef {{language: string, name: string, read_by_native: boolean, intl?: Names, messages: Record<string, Message>}} Catalogue */

/** Where the words of a language lie: those of all, and those of the office screens. */
const FILES = { all_en, all_fr, all_mg, all_sw, office_en, office_fr, office_mg, office_sw };

/** Each language under its own name, and how it counts. */
export const LANGUAGES = {
  en: { name: 'English', plural: en },
  fr: { name: 'Français', plural: fr },
  mg: { name: 'Malagasy', plural: mg },
  sw: { name: 'Kiswahili', plural: sw },
};

export const language = signal('en');
/** @type {import('@preact/signals').Signal<Catalogue | null>} */
export const catalogue = signal(null);
/** The name of a language that was chosen, whose words are not on this phone and could not be fetched. */
export const unreached = signal('');

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
  const [words, others] = await Promise.all([fetchFile(FILES[`all_${chosen}`]), office && fetchFile(FILES[`office_${chosen}`])]);
  hasOffice = office;
  useCatalogue({ ...words, messages: { ...words.messages, ...others.messages } });
}

/** The words of the office screens come with these. */
export const speakOffice = () => hasOffice || speak(language.value, true);

/** The language that was chosen on this phone, else what its browser asks for; its words are still to come. */
export async function chooseLanguage() {
  const chosen = await readSetting('language');
  language.value = chosen in LANGUAGES ? chosen : pickLanguage(navigator.languages ?? [navigator.language]);
}

/** A language that was never used here needs a signal, once. @param {string} chosen */
export async function switchLanguage(chosen) {
  unreached.value = '';
  try {
    await speak(chosen);
    await writeSetting('language', chosen);
  } catch (failure) {
    if (!(failure instanceof NoSignal)) throw failure;
    unreached.value = LANGUAGES[chosen].name;
  }
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
const plural = (count) => LANGUAGES[language.value].plural(count);

/** @param {string} key @param {Record<string, string | number>} [values] */
export const t = (key, values) => pieces(key, values).join('');
