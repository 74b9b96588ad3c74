/** What stands round every screen: the band with the name, the signal, and a new version that waits. */
import { online, tooOld } from '../network.js';
import { acceptVersion, newVersion, putOff } from '../version.js';
import { isUndoable, outbox, undoLine } from '../waiting.js';
import { LANGUAGES, catalogue, language, switchLanguage, t, unreached } from '../words.js';
import { FirstRunLink } from './first_run.jsx';
import { Nav } from './nav.jsx';
import { Care, Carton, Mast } from './pictures.jsx';

async function choose({ currentTarget }) {
  await switchLanguage(currentTarget.value);
  // Where its words could not come, the one before goes on.
  currentTarget.value = language.value;
}

export const Languages = () => (
  <select class="languages" aria-label={t('language.choose')} value={language.value} onChange={choose}>
    {Object.entries(LANGUAGES).map(([tag, { name }]) => (
      <option value={tag} lang={tag} selected={tag === language.value}>{name}</option>
    ))}
  </select>
);

const LanguageNote = () => (
  <>
    {unreached.value && <p class="band-note" role="alert">{t('language.silent', { name: unreached.value })}</p>}
    {!catalogue.value.read_by_native && <p class="band-note">{t('language.unread')}</p>}
  </>
);

export const Band = ({ first }) => (
  <header class="band">
    <a class="unseen skip" href="#screen">{t('frame.skip')}</a>
    <a class="mark" href="/" aria-current={first ? 'page' : undefined}>
      <Carton />
      {t('app.name')}
    </a>
    {first && <Languages />}
    <a class="band-link" href="/kept">
      <Mast silent={!online.value} />
      <span class="unseen">{t(online.value ? 'frame.signal' : 'frame.silent')}. {t('kept.title')}</span>
    </a>
    {first && <LanguageNote />}
  </header>
);

export const Foot = () => (
  <footer class="sewn">
    <p class="quiet">{t('app.tagline')}</p>
    <p><a class="back" href="/kept">{t('kept.title')}</a></p>
    <p><FirstRunLink /></p>
  </footer>
);

/** How many writes wait, on every screen; those that a person has to decide stand out by their picture. */
export const Waits = () => {
  const list = outbox.value.filter((one) => !isUndoable(one));
  const stuck = list.filter(({ state }) => state !== 'waits').length;
  return list.length > 0 && (
    <a class="outbox-line" href="/outbox">
      {stuck ? <Care /> : <Mast silent />}
      <span>{t('outbox.wait', { count: list.length })}{stuck > 0 && `. ${t('outbox.stuck', { count: stuck })}`}</span>
    </a>
  );
};

export const NewVersion = () =>
  (newVersion.value || tooOld.value) && (
    <aside class="notice new-version" aria-label={t('version.title')}>
      <div>
        <p>{t(tooOld.value ? 'version.must' : 'version.ready')}</p>
        <div class="row" hidden={tooOld.value}>
          <button type="button" class="button first" onClick={acceptVersion}>{t('version.take')}</button>
          <button type="button" class="button" onClick={putOff}>{t('version.later')}</button>
        </div>
      </div>
    </aside>
  );

/** What stays at the lower edge: what can be undone, above the ways. */
export function Lower() {
  const Line = undoLine.value;
  return (
    <div class="lower">
      <div role="status">{Line && <Line />}</div>
      <Nav />
    </div>
  );
}
