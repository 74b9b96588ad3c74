/** Days of the week, or months, each a touch. */
import { monthName } from '../format.js';
import { weekdayName } from '../fares.js';
import { t } from '../words.js';
import { FaultWords } from './field.jsx';

const toggled = (list, one) => (list.includes(one) ? list.filter((other) => other !== one) : [...list, one].sort((a, b) => a - b));

const Toggles = ({ words, all, chosen, nameOf, choose }) => (
  <div class="filters" role="group" aria-label={words}>
    {all.map((one) => (
      <button key={one} type="button" class="choice" aria-pressed={chosen.includes(one)} onClick={() => choose(toggled(chosen, one))}>{nameOf(one)}</button>
    ))}
  </div>
);

const upTo = (count, first) => Array.from({ length: count }, (_, place) => place + first);

/** @param {{field: {name: string, called: string}, form: any}} props */
export function DayPicks({ field: { name, called }, form }) {
  const fault = form.faults[name];
  const chosen = form.draft[name] ? form.draft[name].split(',').map(Number) : [];
  return (
    <div class="field whole">
      <strong>{t(`field.${called}`)}</strong>
      <Toggles words={t(`field.${called}`)} all={upTo(7, 0)} nameOf={weekdayName} chosen={chosen} choose={(list) => form.type(name, list.join())} />
      {fault && <div class="fault"><FaultWords fault={fault} /></div>}
    </div>
  );
}

/** @param {{chosen: number[], choose: (months: number[]) => void}} props none means every month */
export const MonthPicks = ({ chosen, choose }) => (
  <details open={chosen.length > 0}>
    <summary>{t('rule.months.some')}</summary>
    <Toggles words={t('rule.months.some')} all={upTo(12, 1)} nameOf={monthName} chosen={chosen} choose={choose} />
  </details>
);
