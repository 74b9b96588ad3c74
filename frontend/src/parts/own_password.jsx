/** The name and password by which a manager signs in on any phone, also without a code. */
import { useState } from 'preact/hooks';
import { useForm } from '../form.js';
import { t } from '../words.js';
import { Form } from './form.jsx';

const FIELDS = [{ name: 'name', kind: 'text' }, { name: 'password', kind: 'password' }];

export function OwnPassword() {
  const [kept, setKept] = useState(false);
  const form = useForm({ key: 'password', fields: FIELDS, path: '/api/v1/me/password/', done: () => setKept(true) });
  return (
    <details class="sewn">
      <summary>{t('password.own')}</summary>
      <p>{t('password.own.explain')}</p>
      <Form form={form} words={t('password.own.do')} second />
      <p role="status">{kept && <strong>{t('password.own.done')}</strong>}</p>
    </details>
  );
}
