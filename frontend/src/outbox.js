/** The outbox: what its holder wrote stays on the phone, locked with her key, until the server has answered it. */
import { effect } from '@preact/signals';
import { outdate } from './answers.js';
import { seal, unseal } from './lock.js';
import { Refused, online, write } from './network.js';
import { asPerson, noticeOut } from './people.js';
import { dropWrite, keepWrite, lasting, listWrites, settleWrite, undoWrite, writeSetting } from './store.js';
import { UNDO_MS, delivered, isUndoable, outbox, readCounts } from './waiting.js';
import { language } from './words.js';

/** It waits on this phone: no answer came. */
export class Kept extends Error {}

const FIRST_WAIT_MS = 5000;
const LONGEST_WAIT_MS = 900_000;
/** Not known, too old, too many: nothing is said of the write itself. */
const UNDECIDED = [401, 426, 429];

/** Forms that wait for their answer, by place. @type {Map<number, {resolve: (answer: any) => void, reject: (problem: Error) => void}>} */
const forms = new Map();
let running = null;
let failures = 0;
let timer;
let waker;

/** Longer each time, and drawn, so that all phones of a landing do not come at one moment. @param {number} failed times @param {number} drawn 0–1 */
export const pauseAfter = (failed, drawn = Math.random()) => FIRST_WAIT_MS + drawn * (Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** failed) - FIRST_WAIT_MS);

const UUID = /[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g;

/** What a write is about: whatever names it later has to wait for it. Of one that can be undone that is all it touches, or everything of its kind where rows have numbers. */
function subjectsOf(write) {
  const { path, body } = write;
  const [first] = path.match(UUID) ?? [path];
  if (!isUndoable(write)) return [body?.id ?? body?.lot ?? first];
  return (path + JSON.stringify(body)).match(UUID) ?? [path.split('/', 4).join('/')];
}

/** Whether a write names what one before it is about. */
const isBehind = ({ path, body }, before) => subjectsOf(before).some((subject) => (path + JSON.stringify(body)).includes(subject));

/** The first that can be sent, and stands behind nothing undecided. @param {import('./waiting.js').Write[]} list */
export function nextOf(list) {
  const open = list.filter(({ state }) => state !== 'locked');
  return open.find((one, place) => one.state === 'waits' && !isUndoable(one) && !open.slice(0, place).some((before) => isBehind(one, before))) ?? null;
}

async function keep(person, { n, undo_until, ...write }) {
  return keepWrite({ ...(n && { n }), ...(undo_until && { undo_until }), holder: person.holder, sealed: await seal(person.key, write) });
}

const opened = (key) => async ({ n, sealed, undo_until }) => {
  try {
    return { n, undo_until, ...(await unseal(key, sealed)) };
  } catch {
    return { n, state: 'locked', typed: [] };
  }
};

/** What can be undone goes when its time is over, after all that is on its way. */
function wakeFor(list) {
  clearTimeout(waker);
  const soonest = Math.min(...list.filter((one) => isUndoable(one)).map(({ undo_until: until }) => until));
  if (soonest < Infinity) waker = setTimeout(deliverAfter, soonest - Date.now() + 1);
}

async function read(person) {
  const list = await Promise.all((await listWrites(person.holder)).map(opened(person.key)));
  if (asPerson()?.holder === person.holder) {
    wakeFor(list);
    outbox.value = list.filter(({ n }) => !forms.has(n));
  }
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

async function answered(person, { n, seen, forgets }, answer) {
  if (forgets) await writeSetting(forgets, null);
  // Her next writes rest on the edition that this one made.
  // One that may be undone at this moment is left alone: where both changed one row a person decides.
  for (const one of outbox.value) if (seen && one.seen === seen && one.n !== n && !isUndoable(one)) await keep(person, { ...one, seen: answer?.edition });
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

/**
 * In order, one at a time, under her own token for as long as she is unlocked, or until the last of `these` went; the
 * first without an answer ends it.
 */
async function pass(person, these = []) {
  const goesOn = (list) => asPerson()?.token === person.token || list.some(({ n }) => these.includes(n));
  for (let list, one; (one = nextOf((list = await read(person)))) && goesOn(list);) {
    // Undone at this very moment it is not sent.
    if (one.undo_until && !(await settleWrite(one.n))) continue;
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

/** Once more after what is on its way: that may have looked before there was something to send. */
const deliverAfter = () => Promise.resolve(running).then(deliver);

const settleAll = (list) => Promise.all(list.map(({ n }) => settleWrite(n)));

/** What can still be undone goes now: all of it, or what another write rests on. @param {{path: string, body?: any}} [other] */
export async function settle(other) {
  const list = outbox.value.filter((one) => isUndoable(one) && (!other || isBehind(other, one)));
  await settleAll(list);
  if (list.length) await deliverAfter();
}

/** Whoever locks the phone does not take with her what she took back: that goes still, in her name. */
async function settleFor(person, list) {
  await settleAll(list);
  await alone(`outbox ${person.holder}`, () => pass(person, list.map(({ n }) => n)));
}

/**
 * Keeps a write, and sends it with all that waits before it; one that is `undoable` goes when its time is over.
 *
 * @param {Omit<import('./waiting.js').Write, 'n' | 'key' | 'made_at' | 'state'> & {n?: number}} what with the place of one that it mends
 * @throws {Kept} it goes later @throws {Refused} @throws {import('./network.js').NoSignal} and the phone is full
 */
export async function post(what) {
  const [person, now] = [asPerson(), Date.now()];
  const one = { ...what, mended: Boolean(what.n), key: crypto.randomUUID(), made_at: now, state: 'waits', undo_until: what.undoable && now + UNDO_MS };
  const n = await keep(person, one).catch((failure) => console.warn('it could not be kept:', failure.message));
  if (!n) {
    lasting.value = false;
    return sendAs(person, one);
  }
  if (what.undoable) {
    await read(person);
    throw new Kept();
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

/** @param {import('./waiting.js').Write} one @returns {Promise<boolean>} false where its time to be undone was over: it is on its way */
export async function discard({ n, undo_until: until }) {
  const gone = await (until ? undoWrite(n) : dropWrite(n).then(() => true));
  await read(asPerson());
  return gone;
}

/** What was discarded, in its place. @param {import('./waiting.js').Write} one */
export async function undo(one) {
  await change(asPerson(), one);
  return deliver();
}

let shownTo;
effect(() => {
  // Whoever unlocks, a new token, and a signal that comes back.
  const person = asPerson();
  const before = shownTo;
  shownTo = person;
  if (before?.holder !== person?.holder) {
    const list = outbox.peek().filter((one) => isUndoable(one));
    if (list.length) settleFor(before, list).catch((failure) => console.warn('it goes later:', failure.message));
    outbox.value = [];
  }
  if (!person) return;
  if (online.value) setTimeout(deliver);
  else setTimeout(() => read(person));
});
addEventListener('online', deliver);
// Nobody who looks elsewhere undoes anything, and the page may never come back.
document.addEventListener('visibilitychange', () => document.hidden && settle());
