/** Fares, prices and terms in words: each figure with its name, each rule of a fare as a sentence. */
import { dayWithYear, degrees, kilograms, monthName, percent, plain } from '../format.js';
import { SUBJECTS, typedFigure, weekdayName } from '../fares.js';
import { t } from '../words.js';
import { coin } from '../who.js';

const WEEK = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'];

const stepWords = (step, each) => t(each ? 'rule.step.each' : 'rule.step', { mass: kilograms(step.from_kg), money: coin(step.amount_minor) });

/** What stands in the sentence of a rule. */
function ruleFigures(rule) {
  return {
    money: coin(rule.amount_minor),
    seats: rule.seats_per_carton,
    divisor: rule.volumetric_divisor_cm3_per_kg && plain(rule.volumetric_divisor_cm3_per_kg),
    share: rule.surcharge_share !== null && percent(rule.surcharge_share),
    steps: rule.steps.map((step) => stepWords(step, rule.steps_per_kilogram)).join('; '),
  };
}

/** A rule in one sentence, with the least that it takes and the months in which it counts. */
export function ruleWords(rule) {
  const more = [
    rule.minimum_kg > 0 && t('rule.at_least', { least: kilograms(rule.minimum_kg) }),
    rule.minimum_minor > 0 && t('rule.at_least', { least: coin(rule.minimum_minor) }),
    rule.months.length > 0 && t('rule.months', { months: rule.months.map(monthName).join(', ') }),
  ];
  return [t(`rule.${rule.kind}`, ruleFigures(rule)), ...more].filter(Boolean).join(', ');
}

/** @param {import('../fares.js').Figure} figure @param {any} row */
export function figureWords(figure, row) {
  const value = row[figure.name];
  if (value === null || value === undefined || value === '') return t('figure.none');
  if (figure.kind === 'money') return coin(value);
  if (figure.kind === 'yes') return t(value ? 'yes' : 'no');
  if (figure.kind === 'days') return value.length === WEEK.length ? t('fares.every_day') : value.map(weekdayName).join(', ');
  if (figure.kind === 'choice') return figure.options.find(([one]) => one === value)?.[1] ?? value;
  if (figure.kind === 'degrees') return row.limit_kind === 'softened_share' ? percent(value) : degrees(value);
  return figure.kind === 'number' ? plain(Number(typedFigure(figure, row).replace('−', '-'))) : String(value);
}

const Rules = ({ rules }) => <ul class="cautions">{rules.map((rule, place) => <li key={place}>{ruleWords(rule)}</li>)}</ul>;

const Figure = ({ figure, row }) => (
  <div class="fact">
    <dt>{t(`field.${figure.called}`)}</dt>
    <dd>{figureWords(figure, row)}</dd>
  </div>
);

/** @param {{subject: string, row: any}} props */
export const Figures = ({ subject, row }) => {
  if (row.rules) return <Rules rules={row.rules} />;
  const known = SUBJECTS[subject].figures().filter((figure) => row[figure.name] !== null && !figure.more && figure.name !== 'name');
  return <dl>{known.map((figure) => <Figure key={figure.name} figure={figure} row={row} />)}</dl>;
};

/** A figure of the history, by the name that the interface has for it. */
function historyValue(subject, field, value) {
  if (value === null || value === undefined || value.length === 0) return t('losing.nothing');
  if (field === 'materials') return value.map(({ quantity, name }) => `${name}: ${plain(quantity)}`).join(', ');
  if (field === 'rules') return value.map(ruleWords).join('. ');
  const figure = SUBJECTS[subject].figures().find(({ name }) => name === field);
  if (figure) return figureWords(figure, { [field]: value });
  if (typeof value === 'boolean') return t(value ? 'yes' : 'no');
  if (/^\d{4}-\d\d-\d\d$/.test(value)) return dayWithYear(value);
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

function historyName(subject, field) {
  if (WEEK.includes(field)) return weekdayName(WEEK.indexOf(field));
  const called = SUBJECTS[subject].figures().find(({ name }) => name === field)?.called;
  return called ? t(`field.${called}`) : t('history.other', { field: field.replaceAll('_', ' ') });
}

const OWN = { rules: 'history.rules', valid_until: 'history.valid_until', confirmed_on: 'history.confirmed_on', materials: 'history.materials' };

/** @param {{subject: string, change: {field: string, before: any, after: any}}} props */
export const Changed = ({ subject, change: { field, before, after } }) => (
  <p>
    {OWN[field] ? t(OWN[field]) : historyName(subject, field)}:{' '}
    <span class="before">{historyValue(subject, field, before)}</span> → <strong>{historyValue(subject, field, after)}</strong>
  </p>
);
