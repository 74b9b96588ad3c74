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
 * @property {'waits' | 'refused' | 'conflict' | 'locked'} state locked: with a key that nobody has any more
 * @property {{status: number, code: string, message: string, fields: any[], current?: any}} [problem] of one that was refused
 * @property {{whose: string, id: string, draft: Record<string, string>, at: string}} form that it was written on
 * @property {[string, string, string][]} typed name, word and text of each field
 * @property {string} place the heading that it was written under
 */

/** Of whoever is unlocked, in order, but for what a form waits for just now. @type {import('@preact/signals').Signal<Write[]>} */
export const outbox = signal([]);
/** By holder. @type {import('@preact/signals').Signal<Record<string, number>>} */
export const counts = signal({});
/** Grows when something was answered that no form waited for: lists look again. */
export const delivered = signal(0);

export async function readCounts() {
  counts.value = await countWrites();
}

const SUBJECTS = /^\/api\/v1\/(lots|parcels|claims|payments|entries|tariffs|timetables|charges|terms|fish-prices|material-prices|buyer-limits|carton-designs)\//;

/** Whether it may go later; what enrols, plans, quotes or takes files in needs its answer at once. @param {string} path */
export const mayWait = (path) => SUBJECTS.test(path);
