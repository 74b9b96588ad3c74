/** The link of a quote, told once: sent as the phone sends things, or copied. */
import { effect, signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { who } from '../people.js';
import { t } from '../words.js';

/** @typedef {{quote: {id: string}, address: string | null, text: string | null}} Sent */

/** In memory only, and gone when the phone changes hands. @type {import('@preact/signals').Signal<Sent | null>} */
export const justSent = signal(null);

effect(() => {
  who.value;
  justSent.value = null;
});

function Copy({ text }) {
  const [copied, setCopied] = useState(false);
  if (!navigator.clipboard) return <p>{t('link.by_hand')}</p>;
  const copy = () => navigator.clipboard.writeText(text).then(() => setCopied(true), () => setCopied(false));
  return (
    <>
      <button type="button" class={`button wide-button ${navigator.share ? '' : 'first'}`} onClick={copy}>{t('link.copy')}</button>
      <p role="status">{copied && t('link.copied')}</p>
    </>
  );
}

/** Whoever changes her mind on the sheet has sent nothing, and the button still stands there. */
const share = (text) => navigator.share({ text }).catch((failure) => console.warn('not shared:', failure.message));

/** @param {{id: string}} props of the quote */
export const QuoteLink = ({ id }) => {
  const sent = justSent.value;
  if (sent?.quote.id !== id) return null;
  if (!sent.text) return <p class="notice">{t('link.lost')}</p>;
  return (
    <section class="mine-box" aria-labelledby="link">
      <h2 id="link">{t('link.title')}</h2>
      <p class="link-text" lang={sent.quote.language}>{sent.text}</p>
      {navigator.share && <button type="button" class="button first wide-button" onClick={() => share(sent.text)}>{t('link.send')}</button>}
      <Copy text={sent.text} />
      <p><strong>{t('link.once')}</strong></p>
    </section>
  );
};
