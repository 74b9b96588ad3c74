/** Which words tell what a write does. */

const OWN = ['lots', 'parcels', 'claims', 'payments', 'entries', 'members', 'phones', 'quotes', 'calendar-links'];

/** The word of the catalogue for what it does: its subject, and the step with it. */
export function kindOf({ method, path }) {
  const [subject, ...rest] = path.slice(8).split('?')[0].split('/').filter(Boolean);
  const step = method === 'PATCH' ? 'change' : rest.slice(1).filter((word) => /^\D+$/.test(word)).at(-1);
  return `write.${OWN.includes(subject) ? subject : 'fares'}${step ? `.${step}` : ''}`;
}
