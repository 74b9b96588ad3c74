/** The rules of a fare as they are typed: each adds to the others; steps of weight for those that have them. */
import { NEW_RULE, NEW_STEP, RULES, STEP } from '../fares.js';
import { t } from '../words.js';
import { MonthPicks } from './day_picks.jsx';
import { ChoiceField, FaultWords } from './field.jsx';
import { TypedField } from './form.jsx';

/** A part of the whole that the form holds as one text: its fields are named by their place in it. */
function partForm(form, place, part, change) {
  const named = Object.fromEntries(Object.entries(part).map(([name, text]) => [`${place}.${name}`, text]));
  const server = form.faults[''] ?? [];
  const faults = { ...form.faults };
  for (const fault of server) faults[fault.field] = [fault];
  return { draft: named, faults, type: (name, text) => change({ [name.slice(place.length + 1)]: text }) };
}

const Figures = ({ figures, place, part, change, form }) => {
  const own = partForm(form, place, part, change);
  return figures.map((figure) => <TypedField key={figure.name} field={{ ...figure, name: `${place}.${figure.name}` }} form={own} />);
};

const replaced = (list, at, one) => list.map((other, place) => (place === at ? one : other));
const without = (list, at) => list.filter((_, place) => place !== at);

const Steps = ({ rule, place, change, form }) => (
  <>
    {rule.steps.map((step, at) => (
      <div class="fields" key={at}>
        <Figures figures={STEP} place={`${place}.steps.${at}`} part={step} form={form} change={(more) => change({ steps: replaced(rule.steps, at, { ...step, ...more }) })} />
        {rule.steps.length > 1 && <button type="button" class="button" onClick={() => change({ steps: without(rule.steps, at) })}>{t('rule.step.drop')}</button>}
      </div>
    ))}
    <button type="button" class="button" onClick={() => change({ steps: [...rule.steps, NEW_STEP] })}>{t('rule.step.add')}</button>
  </>
);

const Rule = ({ rule, number, change, drop, form }) => {
  const place = `rules.${number}`;
  const kinds = Object.keys(RULES).map((kind) => [kind, t(`rule.kind.${kind}`)]);
  return (
    <fieldset class="rule">
      <legend class="unseen">{t('rule.number', { number: number + 1 })}</legend>
      <ChoiceField name={`${place}.kind`} called="rule.kind" draft={{ [`${place}.kind`]: rule.kind }} options={kinds} onType={(_, kind) => change({ kind })} />
      <div class="fields"><Figures figures={RULES[rule.kind]} place={place} part={rule} change={change} form={form} /></div>
      {rule.kind === 'by_step' && <Steps {...{ rule, place, change, form }} />}
      <MonthPicks chosen={rule.months} choose={(months) => change({ months })} />
      <button type="button" class="button" onClick={drop}>{t('rule.drop')}</button>
    </fieldset>
  );
};

/** @param {{field: {name: string}, form: any}} props */
export function RuleFields({ field: { name }, form }) {
  const rules = JSON.parse(form.draft[name]);
  const write = (list) => form.type(name, JSON.stringify(list));
  const fault = form.faults[name];
  return (
    <div class="whole rules">
      {rules.map((rule, number) => (
        <Rule key={number} {...{ rule, number, form }} drop={() => write(without(rules, number))} change={(more) => write(replaced(rules, number, { ...rule, ...more }))} />
      ))}
      {fault && <div class="fault"><FaultWords fault={fault} /></div>}
      <button type="button" class="button" onClick={() => write([...rules, NEW_RULE])}>{t('rule.add')}</button>
    </div>
  );
}
