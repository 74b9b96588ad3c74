/** Which screen an address names; screens that are loaded late say so when they cannot come. */
import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { NoSignal } from './network.js';
import { t } from './words.js';
import { Problem, Waiting } from './parts/states.jsx';

const here = () => location.pathname + location.search;

export const address = signal(here());

/** Whether the person came here by a link: then readers aloud start at the heading. */
export let moved = false;

/** What moves under the thumb, while the ways below it stay: the page, or in letters of twice the size the whole. */
const moving = () => {
  const page = document.querySelector('.page');
  return page && getComputedStyle(page).overflowY === 'auto' ? page : document.documentElement;
};

export const toTop = () => (moving().scrollTop = 0);

/** @param {string} url */
export function go(url) {
  // The browser restores this on the way back, once the list stands again.
  history.replaceState({ scroll: moving().scrollTop }, '');
  history.pushState(null, '', url);
  moved = true;
  address.value = url;
  toTop();
}

function followLink(event) {
  const link = event.target.closest?.('a[href]');
  const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
  if (!link || !plain || event.defaultPrevented || link.origin !== location.origin || link.target) return;
  if (link.getAttribute('href').startsWith('#')) return;
  event.preventDefault();
  // The ways at the foot outlive the screen: the focus goes on to its heading all the same.
  link.blur();
  go(link.pathname + link.search);
}

function comeBack(event) {
  moved = true;
  address.value = here();
  restore(event.state?.scroll ?? 0);
}

const RESTORING_MS = 1500;
const TOUCHES = ['pointerdown', 'wheel', 'keydown'];

/** Back to where it was, while the screen is drawn again part by part; a touch is stronger. */
function restore(scroll) {
  const [page, until] = [moving(), performance.now() + RESTORING_MS];
  const touched = new AbortController();
  for (const touch of TOUCHES) addEventListener(touch, () => touched.abort(), { signal: touched.signal });
  const step = () => {
    if (touched.signal.aborted) return;
    page.scrollTop = scroll;
    if (performance.now() < until) requestAnimationFrame(step);
    else touched.abort();
  };
  step();
}

export function watchAddress() {
  history.scrollRestoration = 'manual';
  addEventListener('click', followLink);
  addEventListener('popstate', comeBack);
}

/**
 * A screen whose code comes when it is opened.
 *
 * @param {() => Promise<import('preact').ComponentType<any>>} load
 */
export function late(load) {
  let screen;
  return function Late(props) {
    const [problem, setProblem] = useState(null);
    const [, draw] = useState(0);
    const bring = () => {
      setProblem(null);
      load().then((loaded) => draw(Boolean((screen = loaded))), (failure) => setProblem(new NoSignal(failure.message)));
    };
    useEffect(() => {
      if (!screen) bring();
    }, []);
    if (screen) return <Drawn screen={screen} props={props} />;
    if (!problem) return <Waiting rows={3} />;
    return <Problem problem={problem}><button type="button" class="button first" onClick={bring}>{t('again')}</button></Problem>;
  };
}

const Drawn = ({ screen: Screen, props }) => <Screen {...props} />;

/**
 * The screen of an address with what the address says.
 *
 * @param {[RegExp, import('preact').ComponentType<any>, string][]} table patterns, screens, and who may open them; a group `id` becomes a property
 * @param {string} url
 */
export function screenFor(table, url) {
  const { pathname, searchParams } = new URL(url, location.origin);
  for (const [pattern, Screen, may] of table) {
    const found = pathname.match(pattern);
    if (found) return { Screen, may, id: found.groups?.id && decodeURIComponent(found.groups.id), query: Object.fromEntries(searchParams) };
  }
  return null;
}
