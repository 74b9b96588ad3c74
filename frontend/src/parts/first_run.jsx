/** The first time: what this is for, in four steps; it stands above the departures until it was seen or left. */
import { signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { toTop } from '../router.jsx';
import { readSetting, writeSetting } from '../store.js';
import { t } from '../words.js';
import { Carton, Freezer, Mast, Roof } from './pictures.jsx';

const STEPS = [Roof, Freezer, Carton, () => <Mast silent />];
const SEEN = 'first_run_seen';

const shows = signal(false);

/** Before anything is drawn, so that nothing moves when it comes. */
export async function readFirstRun() {
  shows.value = !(await readSetting(SEEN));
}

export const openFirstRun = () => {
  shows.value = true;
  toTop();
};

function leave() {
  shows.value = false;
  return writeSetting(SEEN, true);
}

function Steps() {
  const [place, move] = useState(0);
  const Picture = STEPS[place];
  const last = place === STEPS.length - 1;
  return (
    <section class="first-run" aria-labelledby="first-run">
      <p class="quiet">{t('first.step', { step: place + 1, all: STEPS.length })}</p>
      <h2 id="first-run"><Picture /> {t(`first.${place + 1}.title`)}</h2>
      <p aria-live="polite">{t(`first.${place + 1}`)}</p>
      <div class="row">
        <button type="button" class="button first" onClick={last ? leave : () => move(place + 1)}>{t(last ? 'first.done' : 'first.next')}</button>
        {place > 0 && <button type="button" class="button" onClick={() => move(place - 1)}>{t('first.before')}</button>}
        {!last && <button type="button" class="button" onClick={leave}>{t('first.leave')}</button>}
      </div>
    </section>
  );
}

export const FirstRun = () => shows.value && <Steps />;

export const FirstRunLink = () => (
  <button type="button" class="plain-button" onClick={openFirstRun}>{t('first.open', { count: STEPS.length })}</button>
);
