/** Tables that go out as files and come in again: the differences first, then all of it or nothing. */
import { useState } from 'preact/hooks';
import { bringFile, send } from '../actions.js';
import { saveFile } from '../files.js';
import { useNow } from '../now.js';
import { useChoices } from '../use_choices.js';
import { t } from '../words.js';
import { ChoiceField, TextField } from '../parts/field.jsx';
import { Heading } from '../parts/heading.jsx';
import { Differences, FileFaults } from '../parts/import_differences.jsx';
import { Problem, Waiting } from '../parts/states.jsx';
import '../style/quotes.css';

const SUBJECTS = ['fares', 'fish_prices', 'material_prices', 'charges', 'members', 'timetables', 'gtfs'];
const FEED = 'gtfs';
const TABLE = 'text/csv';
const ZIP = 'application/zip';

/** Whatever went wrong with a file stands here; nothing that was chosen is lost. */
function useWork() {
  const [state, setState] = useState({ busy: false, problem: null });
  const work = async (act) => {
    setState({ busy: true, problem: null });
    try {
      await act();
      setState({ busy: false, problem: null });
    } catch (problem) {
      setState({ busy: false, problem });
    }
  };
  return { ...state, work };
}

function Out({ path, name, words }) {
  const { busy, problem, work } = useWork();
  const take = () => work(async () => saveFile(await bringFile(path), name));
  return (
    <>
      <button type="button" class="button" disabled={busy} onClick={take}>{busy ? t('age.asking') : words}</button>
      {problem && <Problem problem={problem} />}
    </>
  );
}

const TakeOut = ({ subject }) => (
  <section class="sewn" aria-labelledby="out">
    <h2 id="out">{t('imports.out')}</h2>
    {subject === FEED ? (
      <Out path="/api/v1/exports/gtfs/" name="timetables-gtfs.zip" words={t('imports.zip')} />
    ) : (
      <div class="row">
        <Out path={`/api/v1/exports/${subject}/`} name={`${subject}.csv`} words={t('imports.comma')} />
        <Out path={`/api/v1/exports/${subject}/?separator=semicolon`} name={`${subject}.csv`} words={t('imports.semicolon')} />
      </div>
    )}
  </section>
);

const FIRST = { from_stop: '', trips: '' };

/** What a feed does not say: which carrier on which of our ways, from which of its stops. */
function FeedFields({ about, type }) {
  const known = useChoices();
  const { value: carriers } = useNow('/api/v1/carriers/?page_size=100');
  if (!known || !carriers) return <Waiting rows={1} />;
  const draft = { route: known.routes[0].slug, carrier: String(carriers.results[0].id), ...FIRST, ...about };
  const common = { draft, onType: (name, text) => type({ ...draft, [name]: text }) };
  return (
    <div class="fields">
      <ChoiceField {...common} name="carrier" called="fares.carrier" options={carriers.results.map((one) => [String(one.id), one.name])} />
      <ChoiceField {...common} name="route" options={known.routes.map((one) => [one.slug, one.name])} />
      <TextField {...common} name="trips" called="imports.trips" autocomplete="off" />
      <TextField {...common} name="from_stop" called="imports.stop" autocomplete="off" />
    </div>
  );
}

function TakeIn({ subject }) {
  const [file, setFile] = useState(null);
  const [about, setAbout] = useState({});
  const [told, setTold] = useState(null);
  const { busy, problem, work } = useWork();
  const anew = (change) => (value) => {
    setTold(null);
    change(value);
  };
  const ask = (dry_run) => work(async () => {
    setTold(null);
    const which = new URLSearchParams({ ...(subject === FEED && about), dry_run });
    setTold(await send('POST', `/api/v1/imports/${subject}/?${which}`, new Blob([file], { type: subject === FEED ? ZIP : TABLE })));
  });
  return (
    <section class="sewn" aria-labelledby="in">
      <h2 id="in">{t('imports.in')}</h2>
      <p>{t(subject === FEED ? 'imports.in.feed' : 'imports.in.note')}</p>
      {subject === FEED && <FeedFields about={about} type={anew(setAbout)} />}
      <div class="field whole">
        <label for="file">{t('imports.file')}</label>
        <input id="file" type="file" accept={subject === FEED ? '.zip' : '.csv,.txt,text/csv'} onChange={(event) => anew(setFile)(event.currentTarget.files[0] ?? null)} />
      </div>
      <button type="button" class="button first wide-button" disabled={busy || !file} onClick={() => ask('yes')}>{t(busy ? 'send.sending' : 'imports.look')}</button>
      {problem && <FileFaults problem={problem} />}
      {told && <Differences told={told} />}
      {told?.dry_run && told.counts.new + told.counts.changed > 0 && (
        <button type="button" class="button first wide-button" disabled={busy} onClick={() => ask('no')}>{t('imports.do')}</button>
      )}
    </section>
  );
}

export function Imports() {
  const [subject, setSubject] = useState(SUBJECTS[0]);
  const options = SUBJECTS.map((one) => [one, t(`imports.of.${one}`)]);
  return (
    <>
      <a class="back" href="/fares">{t('fares.back')}</a>
      <Heading words={t('imports.title')} />
      <ChoiceField name="subject" called="imports.what" draft={{ subject }} options={options} onType={(_, one) => setSubject(one)} />
      <TakeOut key={`out ${subject}`} subject={subject} />
      <TakeIn key={`in ${subject}`} subject={subject} />
      <section class="sewn" aria-labelledby="archive">
        <h2 id="archive">{t('archive.title')}</h2>
        <p>{t('archive.note')}</p>
        <Out path="/api/v1/exports/archive/" name="archive.zip" words={t('archive.do')} />
      </section>
    </>
  );
}
