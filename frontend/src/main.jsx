import { effect } from '@preact/signals';
import { render } from 'preact';
import { asking } from './answers.js';
import { App } from './app.jsx';
import { readHolders, watchTouch } from './people.js';
import { watchAddress } from './router.jsx';
import { watchVersion } from './version.js';
import { startLanguage } from './words.js';
import './style/palette.css';
import './style/base.css';
import './style/pieces.css';

function draw() {
  const root = document.getElementById('app');
  root.textContent = '';
  watchAddress();
  watchTouch();
  render(<App />, root);
  whenQuiet(watchVersion);
}

const QUIET_MS = 700;

/** Keeping the pages would slow the first answers, so it waits until none is on its way. */
function whenQuiet(act) {
  let timer;
  const stop = effect(() => {
    clearTimeout(timer);
    if (asking.value === 0) timer = setTimeout(() => (stop(), act()), QUIET_MS);
  });
}

/** Without any words the page itself says, in every language, what to do. */
function sayNothingCame(failure) {
  console.warn('no catalogue:', failure.message);
  document.getElementById('nothing-came').hidden = false;
}

Promise.all([startLanguage(), readHolders()]).then(draw, sayNothingCame);
