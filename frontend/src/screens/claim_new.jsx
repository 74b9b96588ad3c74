/** Raising a claim: what was lost on a parcel, and what each claims for it. */
import { useForm } from '../form.js';
import { kilograms } from '../format.js';
import { me } from '../people.js';
import { go } from '../router.jsx';
import { t } from '../words.js';
import { isMe, packs } from '../who.js';
import { Asked } from '../parts/asked.jsx';
import { byMember } from '../parts/carton_fill.jsx';
import { ALWAYS, Cautions } from '../parts/cautions.jsx';
import { MoneyOf } from '../parts/money_of.jsx';
import { Form, TypedField } from '../parts/form.jsx';
import { Heading } from '../parts/heading.jsx';

const KINDS = ['softened', 'lost', 'short_payment', 'other'];
const nameFor = (member) => `claims_${member.id}`;

/** Whose claims may be raised here: her own, or everybody's for whoever packs. */
function claimants(parcel) {
  const all = byMember(parcel.cartons.flatMap((carton) => carton.parts));
  return all.filter((part) => packs() || isMe(part.member));
}

function Filled({ parcel }) {
  const those = claimants(parcel);
  const kind = { name: 'kind', kind: 'choice', options: KINDS.map((one) => [one, t(`claim.kind.${one}`)]), start: 'softened' };
  const note = { name: 'note', kind: 'text', optional: true };
  const amounts = those.map(({ member }) => ({ name: nameFor(member), kind: 'money', optional: true }));
  const form = useForm({
    key: `claim ${parcel.id}`,
    fields: [kind, ...amounts, note],
    path: '/api/v1/claims/',
    shape: (body, id) => {
      const parts = those.map(({ member }) => ({ member: member.id, claimed_minor: body[nameFor(member)] }));
      return { id, parcel: parcel.id, kind: body.kind, note: body.note, parts: parts.filter((part) => part.claimed_minor) };
    },
    check: (draft) => (those.some(({ member }) => draft[nameFor(member)]?.trim()) ? {} : { [nameFor(those[0].member)]: 'fault.blank' }),
    done: (claim) => go(`/claims/${claim.id}`),
  });
  return (
    <Form form={form} fields={[kind]} words={t('claim.raise')}>
      {those.map((part) => (
        <MoneyOf key={part.member.id} name={nameFor(part.member)} form={form}
          words={t('claim.for', { name: isMe(part.member) ? t('fill.mine') : part.member.name, mass: kilograms(part.mass_kg), coin: me.value.cooperative.currency })} />
      ))}
      <TypedField field={note} form={form} />
    </Form>
  );
}

/** @param {{query: {parcel: string}}} props */
export const ClaimNew = ({ query: { parcel: id } }) => (
  <>
    <a class="back" href={`/parcels/${id}`}>{t('parcel.back')}</a>
    <Heading words={t('claim.raise')} />
    <p>{t('claim.raise.note')}</p>
    <Asked quiet path={`/api/v1/parcels/${id}/`}>{(parcel) => <Filled parcel={parcel} />}</Asked>
    <Cautions codes={ALWAYS} />
  </>
);
