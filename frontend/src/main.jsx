import { effect } from '@preact/signals';
import { render } from 'preact';
import { bring, whenQuiet } from './answers.js';
import { App } from './app.jsx';
import { bringChoices, choices } from './choices.js';
import { drawApart } from './drawing.js';
import { watchKept } from './kept.js';
import { holders, readHolders, watchTouch, who } from './people.js';
import { departuresPath, question, startQuestion } from './question.js';
import { address, watchAddress } from './router.jsx';
import { watchVersion } from './version.js';
import { readCounts, undoLine } from './waiting.js';
import { chooseLanguage, language, speak } from './words.js';
import { readFirstRun } from './parts/first_run.jsx';
import './style/palette.css';
import './style/base.css';
import './style/pieces.css';

function draw() {
  const root = document.getElementById('app');
  root.textContent = '';
  drawApart();
  watchAddress();
  watchTouch();
  watchKept();
  render(<App />, root);
  // So that the keys of a board move it from the first moment.
  document.querySelector('.page').focus({ preventScroll: true });
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

/** What a visitor's first screen asks for comes while its words are on their way; what fails here the screen asks again. */
async function askAhead() {
  if (holders.value.length || address.value !== '/') return;
  await bringChoices();
  if (!choices.value) return;
  await startQuestion(choices.value);
  await bring(departuresPath(question.value));
}

async function start() {
  await Promise.all([chooseLanguage(), readHolders(), readCounts(), readFirstRun()]);
  askAhead().catch((failure) => console.warn('nothing came ahead:', failure.message));
  await speak(language.value);
}

start().then(draw, sayNothingCame);
