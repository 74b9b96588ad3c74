/** The outbox: what its holder wrote stays on the phone, locked with her key, until the server has answered it. */
import { effect } from '@preact/signals';
import { outdate } from './answers.js';
import { seal, unseal } from './lock.js';
import { Refused, online, write } from './network.js';
import { asPerson, noticeOut } from './people.js';
import { dropWrite, keepWrite, lasting, listWrites } from './store.js';
import { delivered, outbox, readCounts } from './waiting.js';
import { language } from './words.js';

/** It waits on this phone: no answer came. */
export class Kept extends Error {}

const FIRST_WAIT_MS = 5000;
const LONGEST_WAIT_MS = 900_000;
/** Not known, too old, too many: nothing is said of the write itself. */
const UNDECIDED = [401, 426, 429];
const UUID = /[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/;

/** Forms that wait for their answer, by place. @type {Map<number, {resolve: (answer: any) => void, reject: (problem: Error) => void}>} */
const forms = new Map();
let running = null;
let failures = 0;
let timer;

/** Longer each time, and drawn, so that all phones of a landing do not come at one moment. @param {number} failed times @param {number} drawn 0–1 */
export const pauseAfter = (failed, drawn = Math.random()) => FIRST_WAIT_MS + drawn * (Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** failed) - FIRST_WAIT_MS);

/** What a write is about: whatever names it later has to wait for it. */
const subjectOf = ({ path, body }) => body?.id ?? body?.lot ?? path.match(UUID)?.[0] ?? path;

/** The first that stands behind nothing undecided. @param {import('./waiting.js').Write[]} list */
export function nextOf(list) {
  const open = [];
  for (const one of list.filter(({ state }) => state !== 'locked')) {
    const text = one.path + JSON.stringify(one.body);
    if (one.state === 'waits' && !open.some((subject) => text.includes(subject))) return one;
    open.push(subjectOf(one));
  }
  return null;
}

async function keep(person, { n, ...write }) {
  return keepWrite({ ...(n && { n }), holder: person.holder, sealed: await seal(person.key, write) });
}

const opened = (key) => async ({ n, sealed }) => {
  try {
    return { n, ...(await unseal(key, sealed)) };
  } catch {
    return { n, state: 'locked', typed: [] };
  }
};

async function read(person) {
  const list = await Promise.all((await listWrites(person.holder)).map(opened(person.key)));
  if (asPerson()?.holder === person.holder) outbox.value = list.filter(({ n }) => !forms.has(n));
  await readCounts();
  return list;
}

const change = async (person, one) => {
  await keep(person, one);
  await read(person);
};

/** The form that waits for it, if any, hears of it. @param {'resolve' | 'reject'} how */
function tell(n, how, what) {
  forms.get(n)?.[how](what);
  return forms.delete(n);
}

async function answered(person, { n, seen }, answer) {
  // Her next writes rest on the edition that this one made.
  for (const one of outbox.value) if (seen && one.seen === seen && one.n !== n) await keep(person, { ...one, seen: answer?.edition });
  await dropWrite(n);
  if (!tell(n, 'resolve', answer)) delivered.value += 1;
}

const decidable = (one, { current, told }) => ({ ...one, state: current ? 'conflict' : 'refused', problem: told });

/** A form that waits shows the refusal itself; one that nobody looks at, or that two changed, stays here to be decided. */
async function refused(person, one, problem) {
  if (forms.has(one.n) && !problem.current && !one.mended) await dropWrite(one.n);
  else await keep(person, decidable(one, problem));
  tell(one.n, 'reject', problem);
}

/** Under her token, in the language of the screen. */
export const sendAs = (person, { method, path, body, key, seen }) => write(method, path, body, { language: language.value, token: person?.token, key, seen });

/** @returns {Promise<Error | null>} why it got no answer */
async function sendOne(person, one) {
  try {
    await answered(person, one, await sendAs(person, one));
  } catch (problem) {
    await noticeOut(problem, person);
    if (!(problem instanceof Refused) || UNDECIDED.includes(problem.status)) return problem;
    await refused(person, one, problem);
  } finally {
    outdate();
  }
  return null;
}

/** In order, one at a time, under her own token for as long as she is unlocked; the first without an answer ends it. */
async function pass(person) {
  for (let one; (one = nextOf(await read(person))) && asPerson()?.token === person.token;) {
    const problem = await sendOne(person, one);
    if (problem) return problem;
  }
  return null;
}

/** Of several open pages one sends. */
const alone = (name, act) => navigator.locks?.request(name, act) ?? act();

async function deliverAll(person) {
  clearTimeout(timer);
  const problem = await alone(`outbox ${person.holder}`, () => pass(person)).catch((failure) => failure);
  failures = problem ? failures + 1 : 0;
  if (problem) {
    timer = setTimeout(deliver, Math.max(pauseAfter(failures), 1000 * (problem.wait_s ?? 0)));
    for (const n of forms.keys()) tell(n, 'reject', new Kept());
  }
  await read(person);
}

/** Sends what waits, now. */
export function deliver() {
  const person = asPerson();
  const over = () => {
    running = null;
    // The phone changed hands meanwhile: what waits of hers comes next.
    if (asPerson() !== person) deliver();
  };
  if (person) running ??= deliverAll(person).finally(over);
  return running;
}

/**
 * Keeps a write, and sends it with all that waits before it.
 *
 * @param {Omit<import('./waiting.js').Write, 'n' | 'key' | 'made_at' | 'state'> & {n?: number}} what with the place of one that it mends
 * @throws {Kept} it goes later @throws {Refused} @throws {import('./network.js').NoSignal} and the phone is full
 */
export async function post(what) {
  const person = asPerson();
  const one = { ...what, mended: Boolean(what.n), key: crypto.randomUUID(), made_at: Date.now(), state: 'waits' };
  const n = await keep(person, one).catch((failure) => console.warn('it could not be kept:', failure.message));
  if (!n) {
    lasting.value = false;
    return sendAs(person, one);
  }
  const answer = new Promise((resolve, reject) => forms.set(n, { resolve, reject }));
  answer.catch(() => {});
  const before = running;
  await deliver();
  if (before && forms.has(n)) await deliver();
  if (tell(n, 'reject', new Kept())) await read(person);
  return answer;
}

/** A conflict of a write that was sent by itself is decided here, too. */
export const hold = (what, problem) => change(asPerson(), { ...decidable(what, problem), made_at: Date.now() });

/** Once more, as a new write: as it was, or over what others did. @param {import('./waiting.js').Write} one */
export async function again({ problem, ...one }) {
  const seen = problem?.current ? problem.current.edition : one.seen;
  await change(asPerson(), { ...one, seen, key: crypto.randomUUID(), state: 'waits' });
  return deliver();
}

/** @param {import('./waiting.js').Write} one */
export const discard = ({ n }) => dropWrite(n).then(() => read(asPerson()));

/** What was discarded, in its place. @param {import('./waiting.js').Write} one */
export async function undo(one) {
  await change(asPerson(), one);
  return deliver();
}

let shownTo;
effect(() => {
  // Whoever unlocks, a new token, and a signal that comes back.
  const person = asPerson();
  if (shownTo !== person?.holder) outbox.value = [];
  shownTo = person?.holder;
  if (!person) return;
  if (online.value) setTimeout(deliver);
  else setTimeout(() => read(person));
});
addEventListener('online', deliver);
