import { render } from 'preact';
import { afterEach, describe, expect, it } from 'vitest';
import { ServerFault, ServerWords } from '../src/parts/states.jsx';
import { language } from '../src/words.js';

const shown = (content) => {
  const place = document.createElement('div');
  render(content, place);
  return place.firstChild;
};

afterEach(() => (language.value = 'en'));

describe('words of the server', () => {
  it('are marked with their language only where the screen speaks another', () => {
    language.value = 'mg';
    expect(shown(<ServerWords>odd</ServerWords>).lang).toBe('en');
    expect(shown(<ServerWords said="mg">hafahafa</ServerWords>).hasAttribute('lang')).toBe(false);
    expect(shown(<ServerFault fault={{ problem: 'odd', right: 'even', language: 'en' }} />).lang).toBe('en');
    expect(shown(<ServerFault fault={{ problem: 'hafahafa', right: '', language: 'mg' }} />).hasAttribute('lang')).toBe(false);
  });
});
