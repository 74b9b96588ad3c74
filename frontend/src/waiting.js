/** What waits in the outbox: of whoever is unlocked all of it, of the others only how many. */
import { signal } from '@preact/signals';
import { countWrites } from './store.js';

/**
 * @typedef {Object} Write
 * @property {number} n its place
 * @property {string} key the same for every copy that is sent
 * @property {'POST' | 'PATCH'} method
 * @property {string} path
 * @property {any} body
 * @property {string} [seen] the edition of the row that she saw
 * @property {number} made_at ms
 * @property {number} [undo_until] ms, until which it is not sent, so that it can be undone
 * @property {string} [forgets] a setting of this phone that is over once it is answered
 * @property {'waits' | 'refused' | 'conflict' | 'locked'} state locked: with a key that nobody has any more
 * @property {{status: number, code: string, message: string, fields: any[], current?: any}} [problem] of one that was refused
 * @property {{whose: string, id: string, draft: Record<string, string>, at: string}} form that it was written on
 * @property {[string, string, string][]} typed name, word and text of each field
 * @property {string} place what it is about: the heading that it was written under, unless the form says it
 */

/** Of whoever is unlocked, in order, but for what a form waits for just now. @type {import('@preact/signals').Signal<Write[]>} */
export const outbox = signal([]);
/** By holder. @type {import('@preact/signals').Signal<Record<string, number>>} */
export const counts = signal({});
/** Grows when something was answered that no form waited for: lists look again. */
export const delivered = signal(0);

/** What tells on every screen that something can be undone; it comes with the first forms. @type {import('@preact/signals').Signal<import('preact').ComponentType | null>} */
export const undoLine = signal(null);

/** How long something that takes back can be undone. */
export const UNDO_MS = 8000;

/** Whether it can still be undone. A clock that was set back keeps nothing longer. @param {Write} write */
export const isUndoable = ({ undo_until: until }, now = Date.now()) => until > now && until <= now + UNDO_MS;

export async function readCounts() {
  counts.value = await countWrites();
}

const SUBJECTS = /^\/api\/v1\/(lots|parcels|claims|payments|entries|tariffs|timetables|charges|terms|fish-prices|material-prices|buyer-limits|carton-designs)\//;

/** Whether it may go later; what enrols, plans, quotes or takes files in needs its answer at once. @param {string} path */
export const mayWait = (path) => SUBJECTS.test(path);
