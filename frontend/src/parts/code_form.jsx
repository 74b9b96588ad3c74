/** The code of the manager, as it was said or written: any case, with or without its dash. */
import { useState } from 'preact/hooks';
import { readCode } from '../enrolment.js';
import { holders } from '../people.js';
import { t } from '../words.js';
import { TextField } from './field.jsx';

/** @param {{start: string, onCode: (code: string, phone_name: string) => void}} props */
export function CodeForm({ start, onCode }) {
  const [draft, setDraft] = useState({ enrol_code: start, phone_name: '' });
  const [fault, setFault] = useState(undefined);
  const type = (name, text) => {
    setDraft({ ...draft, [name]: text });
    setFault(undefined);
  };
  const submit = (event) => {
    event.preventDefault();
    const code = readCode(draft.enrol_code);
    if (code) onCode(code, draft.phone_name.trim());
    else setFault('fault.enrol_code');
  };
  const common = { draft, onType: type, autocomplete: 'off', enterkeyhint: 'done' };
  return (
    <form class="form code-form" onSubmit={submit} noValidate>
      <p>{t('enrol.explain')}</p>
      <TextField name="enrol_code" fault={fault} maxLength={24} autocapitalize="characters" spellcheck={false} {...common} />
      {!holders.value.length && <TextField name="phone_name" maxLength={60} {...common} />}
      <button class="button first">{t('enrol.next')}</button>
    </form>
  );
}
