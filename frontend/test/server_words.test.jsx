import { render } from 'preact';
import { afterEach, describe, expect, it } from 'vitest';
import { ServerFault, ServerWords } from '../src/parts/states.jsx';
import { me } from '../src/people.js';
import { language } from '../src/words.js';

const shown = (content) => {
  const place = document.createElement('div');
  render(content, place);
  return place.firstChild;
};

afterEach(() => {
  language.value = 'en';
  me.value = null;
});

describe('words of the server', () => {
  it('are marked with their language only where the screen speaks another', () => {
    language.value = 'mg';
    expect(shown(<ServerWords>odd</ServerWords>).lang).toBe('en');
    expect(shown(<ServerWords said="mg">hafahafa</ServerWords>).hasAttribute('lang')).toBe(false);
    expect(shown(<ServerFault fault={{ problem: 'odd', right: 'even', language: 'en' }} />).lang).toBe('en');
    expect(shown(<ServerFault fault={{ problem: 'hafahafa', right: '', language: 'mg' }} />).hasAttribute('lang')).toBe(false);
  });

  it('tell its hours as those of the place where somebody holds the phone', () => {
    const fault = { problem: 'is before the last carton closed', right: 'from 2026-11-28T17:26:38.383107+00:00 on' };
    expect(shown(<ServerFault fault={fault} />).textContent).toBe('is before the last carton closed: from Sat 17:26 on');
    me.value = { cooperative: { time_zone: 'Africa/Lusaka' } };
    expect(shown(<ServerFault fault={fault} />).textContent).toBe('is before the last carton closed: from Sat 19:26 on');
    expect(shown(<ServerWords>not later than 2026-12-01T16:20+02:00</ServerWords>).textContent).toBe('not later than Tue 16:20');
  });
});
