/** A manager signs in with a name and a password. */
import { useState } from 'preact/hooks';
import { t } from '../words.js';
import { TextField } from './field.jsx';

/** @param {{start: string, onGiven: (name: string, password: string) => void}} props */
export function PasswordForm({ start, onGiven }) {
  const [draft, setDraft] = useState({ sign_in_name: start, password: '' });
  const [faults, setFaults] = useState({});
  const type = (name, text) => {
    setDraft({ ...draft, [name]: text });
    setFaults({ ...faults, [name]: undefined });
  };
  const submit = (event) => {
    event.preventDefault();
    const empty = Object.keys(draft).filter((name) => !draft[name]);
    if (empty.length) setFaults(Object.fromEntries(empty.map((name) => [name, 'fault.empty'])));
    else onGiven(draft.sign_in_name.trim(), draft.password);
  };
  const field = (name) => ({ name, draft, fault: faults[name], onType: type });
  return (
    <details class="sewn" open={Boolean(start)}>
      <summary>{t('password.title')}</summary>
      <form class="form" onSubmit={submit} noValidate>
        <TextField {...field('sign_in_name')} autocomplete="username" autocapitalize="none" spellcheck={false} />
        <TextField {...field('password')} type="password" autocomplete="current-password" />
        <button class="button first">{t('password.do')}</button>
      </form>
    </details>
  );
}
