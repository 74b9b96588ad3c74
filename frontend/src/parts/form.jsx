/** The pieces of a form: its fields by kind, what went wrong, and the one button that sends it. */
import { useEffect, useRef } from 'preact/hooks';
import { NoSignal, Refused } from '../network.js';
import { lasting } from '../store.js';
import { isUndoable } from '../waiting.js';
import { t } from '../words.js';
import { ChoiceField, FaultWords, TextField } from './field.jsx';
import { Care, Mast } from './pictures.jsx';
import { ServerWords } from './states.jsx';

const UNREADABLE = 400;

const INPUTS = {
  text: { autocomplete: 'off' },
  number: { inputmode: 'decimal', autocomplete: 'off' },
  money: { inputmode: 'decimal', autocomplete: 'off' },
  degrees: { inputmode: 'text', autocomplete: 'off' },
  hour: { type: 'datetime-local' },
  day: { type: 'date' },
  password: { type: 'password', autocomplete: 'new-password' },
  since: { type: 'date' },
  time: { type: 'time' },
};

const yesOrNo = () => [['no', t('no')], ['yes', t('yes')]];

/** @param {{field: import('../typed.js').FieldSpec, form: any}} props */
export function TypedField({ field, form }) {
  const common = { name: field.name, called: field.called, draft: form.draft, fault: form.faults[field.name], onType: form.type };
  if (field.kind === 'choice') return <ChoiceField {...common} options={field.options} />;
  if (field.kind === 'yes') return <ChoiceField {...common} options={yesOrNo()} />;
  return <TextField {...common} {...INPUTS[field.kind]} enterkeyhint="done" />;
}

/** A wrong field tells all beside it; what others did since is told here as well. */
const isAtFields = ({ problem, faults }) => problem.status === UNREADABLE && !faults[''];

const Refusal = ({ form: { problem, faults } }) => (
  <>
    <p><ServerWords said={problem.language}>{problem.message}</ServerWords></p>
    {problem.fields.length > 0 && faults[''] && <FaultWords fault={faults['']} />}
  </>
);

/** Why it was not sent. What was typed still stands above. */
function NotSent({ form, help }) {
  const { problem } = form;
  const refused = problem instanceof Refused;
  if (!problem || (refused && isAtFields(form))) return null;
  const silent = problem instanceof NoSignal;
  return (
    <div class="notice" role="alert">
      {silent ? <Mast silent /> : <Care />}
      <div>
        <p><strong>{t(silent ? 'send.silent' : refused ? 'send.refused' : 'send.broken')}</strong></p>
        {refused ? help?.(problem) || <Refusal form={form} /> : <p>{t(lasting.value ? 'send.kept' : 'send.full')}</p>}
      </div>
    </div>
  );
}

/** Done, as far as she can: it goes by itself. */
const Waits = () => <p class="notice" role="status"><Mast silent /> <a href="/outbox">{t('outbox.kept')}</a></p>;

/**
 * @param {{form: any, words: string, children?: any, second?: boolean, fields?: import('../typed.js').FieldSpec[],
 *   help?: (problem: Refused) => any}} props help: what a refusal leads to, or null where it only has to be told
 */
export function Form({ form, words, children, second, help, fields = form.fields }) {
  const place = useRef(null);
  const faulty = Object.values(form.faults).some(Boolean);
  useEffect(() => {
    if (faulty && !form.sending) place.current.querySelector('[aria-invalid]')?.focus();
  }, [faulty, form.sending]);
  // Where it can be undone is told on every screen (undo_line.jsx).
  if (form.waits) return isUndoable(form.waits) ? null : <Waits />;
  return (
    <form class="form" ref={place} onSubmit={form.submit} noValidate>
      {fields.length > 0 && <div class="fields">{fields.map((field) => <TypedField key={field.name} field={field} form={form} />)}</div>}
      {children}
      <NotSent form={form} help={help} />
      <button class={`button ${second ? '' : 'first'}`} disabled={form.sending}>{form.sending ? t('send.sending') : words}</button>
    </form>
  );
}
