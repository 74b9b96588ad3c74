/** One touch that asks the server for one thing, with what went wrong beside it. */
import { useForm } from '../form.js';
import { Form } from './form.jsx';

/** @param {{path: string, method?: 'POST' | 'PATCH', body?: any, words: string, seen?: string, second?: boolean, done: (answer: any) => any}} props */
export function Act({ path, method, body = {}, words, seen, second, done }) {
  const form = useForm({ key: `${path} ${JSON.stringify(body)}`, path, method, shape: () => body, seen, done });
  return <Form form={form} words={words} second={second} />;
}
