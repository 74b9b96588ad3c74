import 'fake-indexeddb/auto';
import en from '../src/catalogues/en.json';
import { useCatalogue } from '../src/words.js';

// jsdom draws nothing, so it has no layer above the page to show a dialog in.
HTMLDialogElement.prototype.showModal ??= function showModal() {
  this.open = true;
};
HTMLDialogElement.prototype.close ??= function close() {
  this.open = false;
  this.dispatchEvent(new Event('close'));
};

useCatalogue(en);
