/** The question, to be changed. What was typed stays until it is right. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { recall, refresh } from '../answers.js';
import { speciesName } from '../choices.js';
import { Refused } from '../network.js';
import { departuresPath, faultsOf, remember } from '../question.js';
import { t } from '../words.js';
import { ChoiceField, FaultWords, TextField } from './field.jsx';

/** The server's faults by field; those of a field that is not on the sheet come under ''. */
function faultsFrom(problem, draft) {
  if (!(problem instanceof Refused)) return {};
  if (!problem.fields.length) return { '': [{ problem: problem.message, right: '' }] };
  const faults = {};
  for (const one of problem.fields) {
    const place = one.field in draft ? one.field : '';
    faults[place] = [...(faults[place] ?? []), one];
  }
  return faults;
}

function useDraft(asked, problem) {
  const [draft, setDraft] = useState(asked);
  const [faults, setFaults] = useState(() => faultsFrom(problem, asked));
  const type = (name, text) => {
    setDraft({ ...draft, [name]: text });
    setFaults({ ...faults, [name]: undefined });
  };
  return { draft, setDraft, faults, setFaults, type };
}

/** Asks with the draft; answers with faults, none when it became the question. */
async function ask(draft) {
  const typed = faultsOf(draft);
  if (Object.keys(typed).length) return typed;
  const path = departuresPath(draft);
  await recall(path);
  const { problem } = await refresh(path);
  const faults = faultsFrom(problem, draft);
  // Without a signal it is the question all the same; the screen says what is kept of it.
  if (!Object.keys(faults).length) await remember(draft);
  return faults;
}

const named = (list) => list.map((one) => [one.slug, one.name]);

function Fields({ draft, faults, choices, type, setDraft }) {
  const common = (name) => ({ name, draft, fault: faults[name], onType: type });
  const takeRoute = (_, route) => setDraft({ ...draft, route, buyer: choices.buyersOn(route)[0]?.slug ?? '' });
  return (
    <>
      <TextField {...common('mass_kg')} inputmode="decimal" autocomplete="off" enterkeyhint="done" />
      <TextField {...common('start_temperature_c')} inputmode="text" autocomplete="off" enterkeyhint="done" />
      <ChoiceField {...common('species')} options={choices.species.map((one) => [one.code, speciesName(one)])} />
      <ChoiceField {...common('route')} onType={takeRoute} options={named(choices.routes)} />
      <ChoiceField {...common('buyer')} options={named(choices.buyersOn(draft.route))} />
      <TextField {...common('from')} type="date" required />
      <TextField {...common('to')} type="date" required />
      <ChoiceField {...common('carton_design')} options={[['', t('carton.any')], ...named(choices.designs)]} />
    </>
  );
}

/** @param {{asked: import('../question.js').Question, choices: any, problem?: Error | null, onClose: () => void}} props */
export function QuestionSheet({ asked, choices, problem, onClose }) {
  const sheet = useRef(null);
  const { draft, setDraft, faults, setFaults, type } = useDraft(asked, problem);
  const [waiting, setWaiting] = useState(false);

  useEffect(() => sheet.current.showModal(), []);
  useEffect(() => sheet.current.querySelector('[aria-invalid]')?.focus(), [waiting]);

  const submit = async (event) => {
    event.preventDefault();
    setWaiting(true);
    const found = await ask(draft);
    setFaults(found);
    setWaiting(false);
    if (!Object.keys(found).length) sheet.current?.close();
  };

  return (
    <dialog class="sheet" ref={sheet} onClose={onClose} aria-labelledby="sheet-title">
      <form onSubmit={submit} noValidate>
        <h2 id="sheet-title">{t('question.title')}</h2>
        {faults[''] && <div class="fault" role="alert"><FaultWords fault={faults['']} /></div>}
        <div class="fields"><Fields {...{ draft, faults, choices, type, setDraft }} /></div>
        <p role="status" class="quiet">{waiting ? t('waiting') : ''}</p>
        <div class="row">
          <button class="button first" disabled={waiting}>{t('question.ask')}</button>
          <button type="button" class="button" onClick={() => sheet.current.close()}>{t('question.leave')}</button>
        </div>
      </form>
    </dialog>
  );
}
