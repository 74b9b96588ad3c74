/** Putting an entry right: it stays, and a new one takes it back. */
import { useForm } from '../form.js';
import { t } from '../words.js';
import { Form } from './form.jsx';

const NOTE = [{ name: 'note', kind: 'text' }];

export function EntryCorrection({ entry, again }) {
  const path = `/api/v1/entries/${entry.id}/correct/`;
  const form = useForm({ key: path, fields: NOTE, path, shape: (body, id) => ({ id, ...body }), done: again });
  return (
    <details class="on-screen">
      <summary>{t('entry.correct')}</summary>
      <p>{t('entry.correct.note')}</p>
      <Form form={form} words={t('entry.correct.do')} />
    </details>
  );
}
