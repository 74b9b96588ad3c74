/** A field of money whose label names a person. */
import { FaultWords } from './field.jsx';

/** @param {{name: string, words: string, form: any}} props */
export const MoneyOf = ({ name, words, form }) => {
  const fault = form.faults[name];
  return (
    <div class={`field${fault ? ' faulty' : ''}`}>
      <label for={`field-${name}`}>{words}</label>
      <input
        id={`field-${name}`} name={name} inputmode="decimal" autocomplete="off" value={form.draft[name]}
        aria-invalid={fault ? 'true' : undefined} aria-describedby={fault ? `fault-${name}` : undefined}
        onInput={(event) => form.type(name, event.currentTarget.value)}
      />
      {fault && <div class="fault" id={`fault-${name}`}><FaultWords fault={fault} /></div>}
    </div>
  );
};
