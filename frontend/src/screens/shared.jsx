/** What another app shared with this one: a code is taken, a link of ours followed, anything else may be a lot's note. */
import { useEffect } from 'preact/hooks';
import { readCode } from '../enrolment.js';
import { t } from '../words.js';
import { Heading } from '../parts/heading.jsx';

const CODE = /\b[2-9A-HJKMNP-TV-Z]{5}[-\u2010-\u2015][2-9A-HJKMNP-TV-Z]{5}\b/i;
const LINK = /https?:\/\/\S+/;
/** As long as a lot's note may be. */
const MOST_LETTERS = 500;

/** Where a shared text leads by itself; null if nowhere. @param {string} text */
export function leadsTo(text) {
  const code = readCode(CODE.exec(text)?.[0] ?? '');
  if (code) return `/enrol#${code}`;
  const link = LINK.exec(text)?.[0];
  return link && URL.canParse(link) && new URL(link).origin === location.origin ? link : null;
}

/** @param {{query: {title?: string, text?: string, url?: string}}} props */
export function Shared({ query: { title, text, url } }) {
  const said = [title, text, url].filter(Boolean).join(' ');
  const place = leadsTo(said);
  useEffect(() => {
    // Not a screen's change: a quote is the server's own page, and a code must not stay in the address.
    if (place) location.replace(place);
  }, [place]);
  const note = new URLSearchParams({ note: said.slice(0, MOST_LETTERS) });
  return (
    <>
      <Heading words={t('shared.title')} />
      {said ? <p class="notice">{said}</p> : <p>{t('shared.none')}</p>}
      <div class="row">
        {said && <a class="button first" href={`/lots/new?${note}`}>{t('shared.lot')}</a>}
        <a class="button" href="/">{t('departures.back')}</a>
      </div>
    </>
  );
}
