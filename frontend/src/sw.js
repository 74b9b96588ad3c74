/** The worker: keeps every page on the phone, and serves them from there. A new version waits until the person agrees. */

/** What a build made; `revision` is null where the name itself says what is in it. @type {{url: string, revision: string | null}[]} */
const FILES = self.__WB_MANIFEST.map(({ url, revision }) => ({ url: `/${url.replace(/^\//, '')}`, revision }));

const KNOWN = new Set(FILES.map(({ url }) => url));
const SHELL = '/index.html';

/** Only the server can answer these; our own words say so when there is no signal. */
const SERVERS_OWN = /^\/(api|static)\/|^\/admin(\/|$)/;

/** A name for these files and no others. */
const VERSION = FILES.map(({ url, revision }) => `${url} ${revision}`).join().split('').reduce((sum, letter) => (sum * 31 + letter.charCodeAt(0)) % 2 ** 32, 7);
const PLACE = `pages ${FILES.length} ${VERSION}`;

async function bring(pages, { url, revision }) {
  // A file named by its content is the same in an older version: it is not fetched twice.
  const old = revision === null && (await caches.match(url));
  const answer = old || (await fetch(url, { cache: revision === null ? 'default' : 'no-cache' }));
  if (!answer.ok) throw new Error(`${url}: ${answer.status}`);
  await pages.put(url, answer);
}

/** All of them, or the version before goes on. */
async function keepAll() {
  const pages = await caches.open(PLACE);
  await Promise.all(FILES.map((file) => bring(pages, file)));
}

async function dropOlder() {
  const places = await caches.keys();
  await Promise.all(places.filter((place) => place !== PLACE).map((place) => caches.delete(place)));
  // Without it the first visit is not under the worker and could not be reloaded without a signal.
  await self.clients.claim();
}

async function fromHere(url, request) {
  const kept = await (await caches.open(PLACE)).match(url);
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
});
self.addEventListener('fetch', (event) => {
  const file = fileFor(event.request);
  if (file) event.respondWith(fromHere(file, event.request));
});
