/** One touch that asks the server for one thing, with what went wrong beside it. */
import { useForm } from '../form.js';
import { Form } from './form.jsx';

/** @param {{path: string, method?: 'POST' | 'PATCH', body?: any, words: string, second?: boolean, seen?: string, undoable?: boolean, place?: string, forgets?: string, done?: (answer: any) => any}} props as a form has them */
export function Act({ path, body = {}, words, second, done = () => {}, ...about }) {
  const form = useForm({ key: `${path} ${JSON.stringify(body)}`, path, shape: () => body, done, ...about });
  return <Form form={form} words={words} second={second} />;
}
