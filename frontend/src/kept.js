/** Everything that this phone keeps for its holder: in one download, and after that only what changed since. */
import { effect, signal } from '@preact/signals';
import { redraw, whenQuiet } from './answers.js';
import { choices, recallChoices } from './choices.js';
import { seal, unseal } from './lock.js';
import { get, online, sparing } from './network.js';
import { asPerson, noticeOut, who } from './people.js';
import { departuresPath, isDepartures, question, startQuestion } from './question.js';
import { KEPT, keepGiven, readGiven, readState } from './store.js';
import { language } from './words.js';

const EVERY_MS = 15 * 60_000;

/** When all that is kept for whoever is unlocked was asked for, ms; null as long as it never was. */
export const keptAt = signal(null);

/** Whether the last download found no room on this phone. What was kept before still stands. */
export const full = signal(false);

const noRoom = (failure) => failure.name === 'QuotaExceededError';

/** Long lists of numbers travel as their steps, and long tables by their columns (api/kept_shortened.py). */
export function lengthened(value) {
  if (value === null || typeof value !== 'object') return value;
  if (Array.isArray(value)) return value.map(lengthened);
  let sum = 0;
  if (value._steps) return value._steps.map((step) => (sum += step) / value._by);
  const parts = Object.entries(value._columns ?? value).map(([name, one]) => [name, lengthened(one)]);
  if (!value._columns) return Object.fromEntries(parts);
  return parts[0][1].map((_, place) => Object.fromEntries(parts.map(([name, column]) => [name, column[place]])));
}

const nameOf = (row) => String(row.id ?? row.slug ?? row.code);

/** An answer of what came of it and what was there. @throws {Error} where something is missing that it builds on */
export function composed({ value, head, rows, order }, base) {
  if (value) return value;
  const answer = { ...base, ...head };
  if (rows) {
    const place = base.results ? 'results' : 'entries';
    const named = new Map([...base[place], ...rows].map((row) => [nameOf(row), row]));
    answer[place] = (order ?? base[place].map(nameOf)).map((name) => named.get(name));
    if (answer[place].includes(undefined)) throw new Error('missing');
  }
  return answer;
}

/** @typedef {import('./people.js').Person} Person */

/** What is asked about: her own last question; before the phone knows of any, the server asks the usual one. */
async function ownQuestion() {
  await recallChoices();
  if (choices.value && !question.value) await startQuestion(choices.value);
  return question.value ? departuresPath(question.value) : '';
}

/** @param {Person} person @param {string | undefined} since */
function ask(person, since, about) {
  const asked = new URLSearchParams({ ...(since && { since }), ...(about && { about }), ...(sparing() && { sparing: true }) });
  return get(`${KEPT}?${asked}`, { language: language.value, token: person.token, known: since });
}

/** What to keep of an answer. @param {Person} person */
async function read({ since, documents, gone }, person) {
  const before = await readGiven(person.holder);
  const given = [];
  for (const { path, like = path, ...change } of lengthened(documents)) {
    const base = change.value ? null : await unseal(person.key, before.get(like));
    given.push([path, await seal(person.key, composed(change, base))]);
  }
  // Where everything came, whatever was there before and came not is gone.
  const came = new Set(given.map(([path]) => path));
  return { given, gone: since ? gone : [...before.keys()].filter((path) => !came.has(path)) };
}

/** @param {Person} person @param {any} answer null where nothing changed @param {import('./store.js').State} before */
async function keep(person, answer, { cursor, about }, at) {
  const { given, gone } = answer ? await read(answer, person) : { given: [], gone: [] };
  const usual = given.find(([path]) => isDepartures(path))?.[0] ?? '';
  const state = { cursor: answer ? answer.cursor : cursor, at, about: about || usual };
  // Whoever signed out meanwhile leaves nothing here.
  if (asPerson() === person) await keepGiven(person.holder, cursor, { given, gone, state });
}

async function download(person, before, at) {
  const answer = await ask(person, before.cursor, before.about);
  try {
    await keep(person, answer, before, at);
  } catch (failure) {
    // Asking again for more makes no room.
    if (!answer?.since || noRoom(failure)) throw failure;
    // The phone lost something that this builds on.
    console.warn('asked for again:', failure.message);
    await keep(person, await ask(person, undefined, before.about), before, at);
  }
}

const due = ({ at, about }, wanted) => about !== wanted || Date.now() - at >= EVERY_MS || Date.now() < at;

async function run(wished) {
  const person = asPerson();
  if (!person || (!wished && (!online.value || sparing()))) return;
  const about = await ownQuestion();
  const before = (await readState(person.holder)) ?? {};
  if (asPerson() !== person || (!wished && !due(before, about))) return;
  const at = Date.now();
  try {
    await download(person, { ...before, about }, at);
    full.value = false;
    if (asPerson() === person) keptAt.value = at;
    await redraw(person);
  } catch (problem) {
    full.value ||= noRoom(problem);
    await noticeOut(problem, person);
    throw problem;
  }
}

let running = null;

/** @param {boolean} [wished] whether the person asked for it @throws {import('./network.js').NoSignal} and the like */
export function bringKept(wished) {
  running ??= run(wished).finally(() => (running = null));
  return running;
}

/** By itself it tries, and is silent about what hinders it: the next time will do. */
export const keepUp = () => bringKept().catch((problem) => console.warn('not everything is kept:', problem.message));

export function watchKept() {
  let stop = () => {};
  effect(() => {
    const holder = who.value;
    stop();
    keptAt.value = null;
    if (!holder) return;
    readState(holder).then((state) => who.value === holder && state && (keptAt.value ??= state.at));
    if (online.value) stop = whenQuiet(keepUp);
  });
}
