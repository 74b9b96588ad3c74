import { effect } from '@preact/signals';
import { render } from 'preact';
import { whenQuiet } from './answers.js';
import { App } from './app.jsx';
import { watchKept } from './kept.js';
import { readHolders, watchTouch, who } from './people.js';
import { watchAddress } from './router.jsx';
import { watchVersion } from './version.js';
import { readCounts, undoLine } from './waiting.js';
import { startLanguage } from './words.js';
import './style/palette.css';
import './style/base.css';
import './style/pieces.css';

function draw() {
  const root = document.getElementById('app');
  root.textContent = '';
  watchAddress();
  watchTouch();
  watchKept();
  render(<App />, root);
  // Keeping the pages would slow the first answers.
  whenQuiet(watchVersion);
  effect(() => {
    // With the first forms comes what sends her outbox. Where they cannot come yet nothing is lost.
    if (who.value) import('./screens/later_lots.js').then(({ UndoLine }) => (undoLine.value = UndoLine)).catch((failure) => console.warn('nothing is sent yet:', failure.message));
  });
}

/** Without any words the page itself says, in every language, what to do. */
function sayNothingCame(failure) {
  console.warn('no catalogue:', failure.message);
  document.getElementById('nothing-came').hidden = false;
}

Promise.all([startLanguage(), readHolders(), readCounts()]).then(draw, sayNothingCame);
