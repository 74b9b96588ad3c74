/** A new version is taken when the person agrees. */
import { effect, signal } from '@preact/signals';
import { online, sparing, tooOld } from './network.js';
import { isAtLeast } from './people.js';
import { idle } from './prefetch.js';
import { language } from './words.js';

export const newVersion = signal(false);
/** Whether everything that the screens need is on the phone. */
export const readyOffline = signal(false);

const AGAIN_MS = 30_000;

/** @type {ServiceWorker | null} */
let waiting = null;

/** A worker that is installed while another one serves waits for its turn. */
function notice(worker) {
  if (!worker || worker.state !== 'installed' || !navigator.serviceWorker.controller) return;
  waiting = worker;
  newVersion.value = true;
}

function follow(registration) {
  notice(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const { installing } = registration;
    installing.addEventListener('statechange', () => notice(installing));
  });
}

/** A line that breaks while the pages come leaves no worker: what arrived stays, and the rest is asked for a little later. */
async function register() {
  try {
    const registration = await navigator.serviceWorker.register('/sw.js', { scope: '/' });
    follow(registration);
    const { installing, active } = registration;
    if (!active) installing?.addEventListener('statechange', () => installing.state === 'redundant' && setTimeout(register, AGAIN_MS));
    await navigator.serviceWorker.ready;
    readyOffline.value = true;
  } catch (failure) {
    console.warn('the pages are not kept on this phone:', failure.message);
    // No line; a phone that refuses workers says something else.
    if (failure instanceof TypeError) setTimeout(register, AGAIN_MS);
  }
}

export const watchVersion = () => ('serviceWorker' in navigator ? register() : undefined);

/** The waiting worker takes over, and the page is opened anew under it. */
export function acceptVersion() {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waiting.postMessage({ type: 'SKIP_WAITING' });
}

/** Whoever holds the phone finds her quotes and her account without a signal, and the office finds its own: the worker brings their screens once, ahead, and their words in each language. */
effect(() => {
  if (language.value && readyOffline.value && online.value && isAtLeast('member') && !sparing()) {
    const whose = isAtLeast('packer') ? ['members', 'office'] : ['members'];
    idle().then(() => navigator.serviceWorker.ready).then(({ active }) => active.postMessage({ type: 'KEEP_LATE', whose }));
  }
});

/** Pages that may write no more bring the new ones without asking; what waits in the outbox stays where it is. */
effect(() => {
  if (tooOld.value && newVersion.value) acceptVersion();
  else if (tooOld.value) navigator.serviceWorker?.ready.then((one) => one.update()).catch((failure) => console.warn('no new version yet:', failure.message));
});

export const putOff = () => (newVersion.value = false);
