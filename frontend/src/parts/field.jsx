/** One labelled field, with what is wrong with it beside it. */
import { t } from '../words.js';
import { ServerFault } from './states.jsx';

/** @typedef {string | import('../network.js').FieldFault[]} Fault a key of ours, or all that the server says of it */

export const FaultWords = ({ fault }) => (typeof fault === 'string' ? t(fault) : fault.map((one) => <div><ServerFault fault={one} /></div>));

/** @param {{name: string, called?: string, fault?: Fault, whole?: boolean, children: (wiring: object) => any}} props called: where its name alone does not say what it is */
export function Field({ name, called = name, fault, whole, children }) {
  const wiring = {
    id: `field-${name}`,
    name,
    'aria-invalid': fault ? 'true' : undefined,
    'aria-describedby': fault ? `fault-${name}` : undefined,
  };
  return (
    <div class={`field${fault ? ' faulty' : ''}${whole || fault ? ' whole' : ''}`}>
      <label for={wiring.id}>{t(`field.${called}`)}</label>
      {children(wiring)}
      {fault && <div class="fault" id={`fault-${name}`}><FaultWords fault={fault} /></div>}
    </div>
  );
}

export const TextField = ({ name, called, draft, fault, onType, ...more }) => (
  <Field name={name} called={called} fault={fault}>
    {(wiring) => (
      <input {...wiring} {...more} value={draft[name]} onInput={(event) => onType(name, event.currentTarget.value)} />
    )}
  </Field>
);

/** @param {{options: [string, string][]}} props pairs of value and words */
export const ChoiceField = ({ name, called, draft, fault, onType, options }) => (
  <Field name={name} called={called} fault={fault} whole>
    {(wiring) => (
      <select {...wiring} value={draft[name]} onChange={(event) => onType(name, event.currentTarget.value)}>
        {options.map(([value, words]) => <option value={value} selected={value === draft[name]}>{words}</option>)}
      </select>
    )}
  </Field>
);
