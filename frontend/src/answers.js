/** Answers of the server, kept on the phone: what is kept comes first, then what the server says now. */
import { effect, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { seal, unseal } from './lock.js';
import { getWhole } from './network.js';
import { asPerson, noticeOut, who } from './people.js';
import { keepAnswer, keepOwnAnswer, listAnswers, listOwnAnswers, readAnswer, readOwnAnswer } from './store.js';
import { language } from './words.js';

/** How many questions are on their way. */
export const asking = signal(0);

const FRESH_MS = 10 * 60_000;

/** @typedef {{value: any, kept_at: number | null, waiting: boolean, problem: Error | null}} Answer */

const NOTHING_YET = { value: null, kept_at: null, waiting: true, problem: null };

/** Answers to whoever is unlocked; another person begins with none. @type {Map<string, import('@preact/signals').Signal<Answer>>} */
let answers = new Map();
let answersOf = '';
let written_at = 0;

/** Reads who is unlocked, so that a screen draws itself anew when the phone changes hands. */
function ownAnswers() {
  if (answersOf !== who.value) answers = new Map();
  answersOf = who.value;
  return answers;
}

effect(() => void ownAnswers());

/** @param {string} path @returns {import('@preact/signals').Signal<Answer>} */
export function answerTo(path) {
  const own = ownAnswers();
  if (!own.has(path)) own.set(path, signal(NOTHING_YET));
  return own.get(path);
}

/** After something was written no answer from before it counts as fresh. */
export const outdate = () => (written_at = Date.now());

/** @param {Answer} answer */
export const isFresh = ({ kept_at }) => kept_at !== null && kept_at > written_at && Date.now() - kept_at < FRESH_MS;

/** What is asked with a token is kept for its owner alone, the rest for whoever holds the phone. */
async function keptFor(person, path) {
  if (!person) return readAnswer(path);
  const own = await readOwnAnswer(person.holder, path);
  return own && { path, value: await unseal(person.key, own.sealed), kept_at: own.kept_at };
}

async function keepFor(person, path, value) {
  return person ? keepOwnAnswer(person.holder, path, await seal(person.key, value)) : keepAnswer(path, value);
}

/** All that is kept for whoever is unlocked, newest first. @returns {Promise<import('./store.js').Kept[]>} */
export async function listKept() {
  const person = asPerson();
  if (!person) return listAnswers();
  const own = await listOwnAnswers(person.holder);
  return Promise.all(own.map(async ({ path, sealed, kept_at }) => ({ path, value: await unseal(person.key, sealed), kept_at })));
}

/** Brings what the phone kept. @param {string} path */
export async function recall(path) {
  const answer = answerTo(path);
  if (answer.value.value) return answer.value;
  const kept = await keptFor(asPerson(), path);
  if (kept) answer.value = { ...answer.value, value: kept.value, kept_at: kept.kept_at };
  return answer.value;
}

/** Asks the server and keeps what it says; a failure leaves the old answer standing. @param {string} path */
export async function refresh(path) {
  // Whoever holds the phone when the answer comes may be another person: it belongs to the one who asked.
  const [person, answer] = [asPerson(), answerTo(path)];
  answer.value = { ...answer.value, waiting: true, problem: null };
  asking.value += 1;
  try {
    const value = await getWhole(path, { language: language.value, token: person?.token });
    const { kept_at } = await keepFor(person, path, value);
    answer.value = { value, kept_at, waiting: false, problem: null };
  } catch (problem) {
    await noticeOut(problem, person);
    answer.value = { ...answer.value, waiting: false, problem };
  } finally {
    asking.value -= 1;
  }
  return answer.value;
}

/** Draws anew what came for several paths at once. @param {import('./people.js').Person} person whose it is */
export async function redraw(person) {
  for (const [path, answer] of ownAnswers()) {
    const kept = await keptFor(person, path);
    if (asPerson() !== person) return;
    if (kept?.kept_at > answer.value.kept_at) answer.value = { ...answer.value, value: kept.value, kept_at: kept.kept_at, problem: null };
  }
}

const QUIET_MS = 700;

/** Acts once no answer has been on its way for a moment. @returns {() => void} call it to stop */
export function whenQuiet(act) {
  let timer;
  const stop = effect(() => {
    clearTimeout(timer);
    if (asking.value === 0) timer = setTimeout(() => (stop(), act()), QUIET_MS);
  });
  return () => (clearTimeout(timer), stop());
}

async function bringTo(answer, path) {
  const kept = await recall(path);
  if (answerTo(path) !== answer) return kept;
  if (!isFresh(kept)) return refresh(path);
  answer.value = { ...kept, waiting: false, problem: null };
  return answer.value;
}

/** Answers that are being brought: whoever wants one meanwhile waits for the same. */
const underway = new Map();

/** @param {string} path */
export function bring(path) {
  const answer = answerTo(path);
  if (!underway.has(answer)) underway.set(answer, bringTo(answer, path).finally(() => underway.delete(answer)));
  return underway.get(answer);
}

/** @param {string | null} path */
export function useAnswer(path) {
  useEffect(() => {
    if (path) bring(path);
  }, [path, who.value]);
  return path ? answerTo(path).value : NOTHING_YET;
}
