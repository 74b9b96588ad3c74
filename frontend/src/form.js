/** A form: what was typed stays until the server has taken it, and one form is one thing however often it is sent. */
import { signal } from '@preact/signals';
import { send } from './actions.js';
import { NoAnswer, NoSignal, Refused } from './network.js';
import { Kept } from './outbox.js';
import { me } from './people.js';
import { address, go } from './router.jsx';
import { readTyped, startOf } from './typed.js';
import { outbox } from './waiting.js';
import { placeOf } from './who.js';
import { t } from './words.js';

/** @typedef {{id: string, draft: Record<string, string>, faults: Record<string, any>, sending: boolean, problem: Error | null, n?: number}} Filled n: the place in the outbox of a write that is mended */

/** Forms that were begun, each under its person: nobody else on the phone finds them. */
const begun = new Map();

/** @param {string} whose @param {import('./typed.js').FieldSpec[]} fields @returns {import('@preact/signals').Signal<Filled>} */
function filled(whose, fields) {
  if (!begun.has(whose)) {
    const start = { id: crypto.randomUUID(), draft: startOf(fields), faults: {}, sending: false, problem: null };
    begun.set(whose, signal(start));
  }
  return begun.get(whose);
}

/** Opens the form of a refused write again, with what was typed. @param {import('./waiting.js').Write} write */
export function mend({ n, problem, form: { whose, id, draft, at } }) {
  const refusal = new Refused(problem.status, problem);
  begun.set(whose, signal({ id, draft, faults: faultsFrom(refusal, draft), sending: false, problem: refusal, n }));
  go(at);
}

/** What was typed in words, field by field: name, word, text. */
const typedWords = (fields, draft) =>
  fields.map(({ name, called = name, kind, options = [] }) => {
    const text = draft[name] ?? '';
    return [name, called, options.find(([value]) => value === text)?.[1] ?? (kind === 'yes' ? t(text) : text)];
  });

/** What stands above the form: what it is about. */
const heading = () => document.querySelector('h1')?.textContent ?? '';

/** What a form may call the field of a fault: of a thing within a thing the last word names it. @param {{field: string}} fault */
export const namedBy = ({ field }) => [field, field.split('.').pop()];

/** The server's faults by field; those of no field on the form come under ''. */
export function faultsFrom(problem, draft) {
  if (!(problem instanceof Refused)) return {};
  const faults = {};
  for (const one of problem.fields) {
    const place = namedBy(one).find((name) => name in draft) ?? '';
    faults[place] = [...(faults[place] ?? []), one];
  }
  if (!problem.fields.length) faults[''] = [{ problem: problem.message, right: '', language: problem.language }];
  return faults;
}

const expected = (problem) => [Refused, NoSignal, NoAnswer].some((kind) => problem instanceof kind);

/**
 * @param {Object} about
 * @param {string} about.key what this form is about; the same key finds what was typed before
 * @param {import('./typed.js').FieldSpec[]} [about.fields]
 * @param {'POST' | 'PATCH'} [about.method]
 * @param {string} about.path
 * @param {(body: any, id: string, draft: Record<string, string>) => any} [about.shape] the body from what was read
 * @param {(draft: Record<string, string>) => Record<string, any>} [about.check] faults that only this form knows
 * @param {string} [about.seen] the edition of the row that it changes
 * @param {boolean} [about.undoable] whether it takes something back, so that it goes a little later and can be undone until then
 * @param {string} [about.place] what it is about, where the heading does not say so
 * @param {string} [about.forgets] a setting of this phone that is over once it is done
 * @param {(answer: any, draft: Record<string, string>) => any} about.done
 */
export function useForm({ key, fields = [], method = 'POST', path, shape = (body) => body, check = () => ({}), seen, undoable, place, forgets, done }) {
  const whose = `${me.value.member.id} ${key}`;
  const state = filled(whose, fields);
  // A step with one row is taken once: while it waits nobody is asked for it again.
  const isStep = key.startsWith(path);
  const waits = isStep && outbox.value.find((one) => one.form?.whose === whose && one.state === 'waits');
  const change = (more) => (state.value = { ...state.value, ...more });
  const type = (name, text) => {
    const { draft, faults } = state.value;
    change({ draft: { ...draft, [name]: text }, faults: { ...faults, [name]: undefined } });
  };
  const submit = async (event) => {
    event?.preventDefault();
    const { id, draft, sending, n } = state.value;
    if (sending) return;
    const { body, faults } = readTyped(fields, draft, placeOf());
    Object.assign(faults, check(draft));
    if (Object.keys(faults).length) return change({ faults, problem: null });
    change({ sending: true, problem: null, faults: {} });
    try {
      const about = { form: { whose, id, draft, at: address.value }, typed: typedWords(fields, draft), place: place ?? heading(), seen, n, undoable, forgets };
      const answer = await send(method, path, shape(body, id, draft), about);
      begun.delete(whose);
      await done(answer, draft);
    } catch (problem) {
      if (problem instanceof Kept || problem.current) {
        begun.delete(whose);
        return isStep && !problem.current ? undefined : go('/outbox');
      }
      if (!expected(problem)) throw problem;
      change({ problem, faults: faultsFrom(problem, draft) });
    } finally {
      change({ sending: false });
    }
  };
  return { ...state.value, type, submit, fields, waits };
}
