/** What is on this phone, how old it is, and what works without a signal. */
import { useEffect, useState } from 'preact/hooks';
import { listKept, refresh } from '../answers.js';
import { age } from '../format.js';
import { bringKept, full } from '../kept.js';
import { NoSignal, online } from '../network.js';
import { who } from '../people.js';
import { lasting } from '../store.js';
import { readyOffline } from '../version.js';
import { catalogue, hasWords, t } from '../words.js';
import { Heading } from '../parts/heading.jsx';
import { Care, Mast } from '../parts/pictures.jsx';
import { Problem } from '../parts/states.jsx';

/** The newest are asked again; older ones were for days that have passed. */
const MOST_AGAIN = 20;

/** @param {string} path @returns {string} the kind of answer, as catalogues name it */
export const kindOf = (path) => {
  const [, , , kind, id, part] = path.split('?')[0].split('/');
  return kind === 'departures' && id ? part || 'departure' : kind;
};

/** Answers by kind: how many, and how old the oldest is. What has no name of its own stands together. */
export function byKind(kept) {
  const kinds = new Map();
  for (const one of kept) {
    const kind = hasWords(`kept.kind.${kindOf(one.path)}`) ? kindOf(one.path) : 'other';
    const { count = 0, oldest = Infinity } = kinds.get(kind) ?? {};
    kinds.set(kind, { count: count + 1, oldest: Math.min(oldest, one.kept_at) });
  }
  return [...kinds];
}

const Kinds = ({ kept }) => (
  <table>
    <thead>
      <tr><th scope="col">{t('kept.what')}</th><th scope="col" class="figure">{t('kept.count')}</th><th scope="col">{t('kept.age')}</th></tr>
    </thead>
    <tbody>
      {byKind(kept).map(([kind, { count, oldest }]) => (
        <tr key={kind}>
          <th scope="row">{t(`kept.kind.${kind}`)}</th>
          <td class="figure">{count}</td>
          <td>{age(oldest)}</td>
        </tr>
      ))}
    </tbody>
  </table>
);

async function askEach(kept) {
  for (const one of kept.slice(0, MOST_AGAIN)) {
    const { problem } = await refresh(one.path);
    if (problem instanceof NoSignal) break;
  }
}

const Readiness = () => (
  <ul class="cautions">
    <li>{t(readyOffline.value ? 'kept.shell.yes' : 'kept.shell.no')}</li>
    <li>{t(lasting.value ? 'kept.lasting' : 'kept.fleeting')}</li>
    <li>{t(catalogue.value.read_by_native ? 'kept.words.read' : 'kept.words.unread')}</li>
  </ul>
);

export function Kept() {
  const [kept, setKept] = useState(null);
  const [asking, setAsking] = useState(false);
  const [problem, setProblem] = useState(null);
  const look = () => listKept().then(setKept);
  useEffect(() => {
    look();
  }, []);
  const again = async () => {
    setAsking(true);
    setProblem(null);
    await (who.value ? bringKept(true).catch(setProblem) : askEach(kept));
    await look();
    setAsking(false);
  };
  return (
    <>
      <a class="back" href="/">{t('departures.back')}</a>
      <Heading words={t('kept.title')} />
      <p class="offline-line" role="status"><Mast silent={!online.value} /> {t(online.value ? 'frame.signal' : 'frame.silent')}</p>
      <p>{t('kept.explain')}</p>
      {kept && (kept.length ? <Kinds kept={kept} /> : <p class="notice">{t('kept.empty')}</p>)}
      {full.value ? <p class="notice" role="alert"><Care /> <span>{t('kept.full')}</span></p> : problem && <Problem problem={problem} />}
      {(who.value || kept?.length > 0) && (
        <button type="button" class="button first" disabled={asking} onClick={again}>{t(asking ? 'age.asking' : who.value ? 'kept.everything' : 'kept.again')}</button>
      )}
      <Readiness />
    </>
  );
}
