/** The worker: keeps every page on the phone, and serves them from there. A new version waits until the person agrees. */

/**
 * What a build made; `revision` is null where the name itself says what is in it. A file that is late waits until it is
 * needed by those whom `late` names, and `words` until somebody speaks their language.
 *
 * @type {{url: string, revision: string | null, late?: 'members' | 'office', words?: boolean}[]}
 */
const FILES = self.__WB_MANIFEST.map(({ url, ...more }) => ({ url: `/${url.replace(/^\//, '')}`, ...more }));
const EARLY = FILES.filter(({ late, words }) => !late && !words);
const WORDS = FILES.filter(({ words }) => words);

const KNOWN = new Set(FILES.map(({ url }) => url));
const WORDS_NAMES = new Set(WORDS.map(({ url }) => url));
const SHELL = '/index.html';

/** Only the server can answer these; our own words say so when there is no signal. */
const SERVERS_OWN = /^\/(api|static|q|calendar)\/|^\/admin(\/|$)/;

/** A name for these files and no others. */
const VERSION = FILES.map(({ url, revision }) => `${url} ${revision}`).join().split('').reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 2 ** 32, 7);
const PLACE = `pages ${FILES.length} ${VERSION}`;
/** Once such a place is there, this phone has a use for its late files, and those of a new version come with it. */
const LATE = Object.entries({ members: 'late pages', office: 'office pages' }).map(([whose, place]) => ({ whose, place, files: FILES.filter(({ late }) => late === whose) }));
const lateFor = (wanted) => LATE.find(({ whose }) => whose === wanted);
/** Words of the languages that were used here; at the first visit the page itself lays them here (network.js). */
const WORDS_PLACE = 'words';
const LASTING = [...LATE.map(({ place }) => place), WORDS_PLACE];

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

const keeping = {};

/** Once, however many of them are asked for at the same time. */
function keepLate({ place, files }) {
  keeping[place] ??= caches.open(place).then((pages) => Promise.all(files.map((file) => missing(pages, file)))).finally(() => (keeping[place] = null));
  return keeping[place];
}

/** Those that a phone has a use for already. */
async function lateHere() {
  const there = await Promise.all(LATE.map(({ place }) => caches.has(place)));
  return LATE.filter((_, at) => there[at]);
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
  const hasLate = (await lateHere()).length > 0;
  const wanted = WORDS.filter(({ url }) => spoken.has(language(url)) && (hasLate || bare(url) === language(url)));
  await Promise.all(wanted.map((file) => missing(pages, file)));
}

/** All of them, or the version before goes on. */
async function keepAll() {
  const pages = await caches.open(PLACE);
  await Promise.all(EARLY.map((file) => bring(pages, file)));
  await Promise.all((await lateHere()).map(keepLate));
  await keepWords();
}

/** Those of an older version go; words only once the same of this version are there, since old ones say more than none. */
async function dropOld(place, names) {
  const pages = await caches.open(place);
  const kept = await namesIn(pages);
  const here = new Set(kept.filter((url) => names.has(url)).map(bare));
  const old = kept.filter((url) => !names.has(url) && (place !== WORDS_PLACE || here.has(bare(url))));
  await Promise.all(old.map((url) => pages.delete(url)));
}

async function dropOlder() {
  const places = await caches.keys();
  await Promise.all(places.filter((place) => place !== PLACE && !LASTING.includes(place)).map((place) => caches.delete(place)));
  for (const { place, files } of await lateHere()) await dropOld(place, new Set(files.map(({ url }) => url)));
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
  const late = LATE.find(({ files }) => files.some((file) => file.url === url));
  if (late) await keepLate(late);
  const kept = await (await caches.open(late?.place ?? PLACE)).match(url);
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
  if (event.data?.type === 'KEEP_LATE') event.waitUntil(Promise.all(event.data.whose.map(lateFor).map(keepLate)).then(keepWords).catch((failure) => console.warn('not yet kept:', failure.message)));
});
self.addEventListener('fetch', (event) => {
  const file = fileFor(event.request);
  if (file) event.respondWith(fromHere(file, event.request));
});
