/** The worker: keeps every page on the phone, and serves them from there. A new version waits until the person agrees. */

/**
 * What a build made; `revision` is null where the name itself says what is in it. A `late` file waits until it is
 * needed, and `words` until somebody speaks their language.
 *
 * @type {{url: string, revision: string | null, late?: boolean, words?: boolean}[]}
 */
const FILES = self.__WB_MANIFEST.map(({ url, ...more }) => ({ url: `/${url.replace(/^\//, '')}`, ...more }));
const EARLY = FILES.filter(({ late, words }) => !late && !words);
const LATE = FILES.filter(({ late }) => late);
const WORDS = FILES.filter(({ words }) => words);

const KNOWN = new Set(FILES.map(({ url }) => url));
const LATE_NAMES = new Set(LATE.map(({ url }) => url));
const WORDS_NAMES = new Set(WORDS.map(({ url }) => url));
const SHELL = '/index.html';

/** Only the server can answer these; our own words say so when there is no signal. */
const SERVERS_OWN = /^\/(api|static|q|calendar)\/|^\/admin(\/|$)/;

/** A name for these files and no others. */
const VERSION = FILES.map(({ url, revision }) => `${url} ${revision}`).join().split('').reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 2 ** 32, 7);
const PLACE = `pages ${FILES.length} ${VERSION}`;
/** Once it is there, this phone has a use for the late files, and those of a new version come with it. */
const LATE_PLACE = 'late pages';
/** Words of the languages that were used here; at the first visit the page itself lays them here (network.js). */
const WORDS_PLACE = 'words';
const LASTING = [LATE_PLACE, WORDS_PLACE];

/** A file's name without what changes from build to build: "en", "office_en". */
const bare = (url) => url.replace(/^.*\/(\w+?)-.*$/, '$1');
const language = (url) => bare(url).replace('office_', '');
const namesIn = async (pages) => (await pages.keys()).map(({ url }) => new URL(url).pathname);

async function bring(pages, { url, revision }) {
  // A file named by its content is the same in an older version: it is not fetched twice.
  const old = revision === null && (await caches.match(url));
  const answer = old || (await fetch(url, { cache: revision === null ? 'default' : 'no-cache' }));
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  await pages.put(url, answer);
}

const missing = async (pages, file) => (await pages.match(file.url)) ?? bring(pages, file);

let keeping = null;

/** Once, however many of them are asked for at the same time. */
function keepLate() {
  keeping ??= caches.open(LATE_PLACE).then((pages) => Promise.all(LATE.map((file) => missing(pages, file)))).finally(() => (keeping = null));
  return keeping;
}

/** Languages that were used here; versions before there were four kept theirs among their pages. */
async function spokenHere() {
  const kept = await namesIn(await caches.open(WORDS_PLACE));
  const every = async () => Promise.all((await caches.keys()).map(async (place) => namesIn(await caches.open(place))));
  return new Set((kept.length ? kept : (await every()).flat()).map(language));
}

/** The words of this version in every language that the phone has; those of the office where it has its screens. */
async function keepWords() {
  const pages = await caches.open(WORDS_PLACE);
  const spoken = await spokenHere();
  const hasOffice = await caches.has(LATE_PLACE);
  const wanted = WORDS.filter(({ url }) => spoken.has(language(url)) && (hasOffice || bare(url) === language(url)));
  await Promise.all(wanted.map((file) => missing(pages, file)));
}

/** All of them, or the version before goes on. */
async function keepAll() {
  const pages = await caches.open(PLACE);
  await Promise.all(EARLY.map((file) => bring(pages, file)));
  if (await caches.has(LATE_PLACE)) await keepLate();
  await keepWords();
}

/** Those of an older version go; words only once the same of this version are there, since old ones say more than none. */
async function dropOld(place, names) {
  const pages = await caches.open(place);
  const kept = await namesIn(pages);
  const here = new Set(kept.filter((url) => names.has(url)).map(bare));
  const old = kept.filter((url) => !names.has(url) && (place === LATE_PLACE || here.has(bare(url))));
  await Promise.all(old.map((url) => pages.delete(url)));
}

async function dropOlder() {
  const places = await caches.keys();
  await Promise.all(places.filter((place) => place !== PLACE && !LASTING.includes(place)).map((place) => caches.delete(place)));
  if (places.includes(LATE_PLACE)) await dropOld(LATE_PLACE, LATE_NAMES);
  await dropOld(WORDS_PLACE, WORDS_NAMES);
  // Without it the first visit is not under the worker and could not be reloaded without a signal.
  await self.clients.claim();
}

/** Kept once fetched; without a signal those of an older version do. */
async function wordsFrom(url) {
  const pages = await caches.open(WORDS_PLACE);
  try {
    await missing(pages, { url, revision: null });
  } catch (failure) {
    const older = (await namesIn(pages)).find((one) => bare(one) === bare(url));
    if (!older) throw failure;
    return pages.match(older);
  }
  return pages.match(url);
}

async function fromHere(url, request) {
  if (WORDS_NAMES.has(url)) return wordsFrom(url);
  const late = LATE_NAMES.has(url);
  if (late) await keepLate();
  const kept = await (await caches.open(late ? LATE_PLACE : PLACE)).match(url);
  return kept ?? fetch(request);
}

/** Which kept file answers a request; null where the network does. @param {Request} request */
function fileFor({ method, mode, url }) {
  const { origin, pathname } = new URL(url);
  if (method !== 'GET' || origin !== self.location.origin) return null;
  if (KNOWN.has(pathname)) return pathname;
  return mode === 'navigate' && !SERVERS_OWN.test(pathname) ? SHELL : null;
}

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(dropOlder()));
self.addEventListener('message', (event) => {
  if (event.data?.type === 'SKIP_WAITING') self.skipWaiting();
  // A line that breaks loses nothing: they come when one of them is opened.
  if (event.data?.type === 'KEEP_LATE') event.waitUntil(keepLate().then(keepWords).catch((failure) => console.warn('not yet kept:', failure.message)));
});
self.addEventListener('fetch', (event) => {
  const file = fileFor(event.request);
  if (file) event.respondWith(fromHere(file, event.request));
});
