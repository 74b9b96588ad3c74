/** The one heading of a screen; it names the page in the browser too. */
import { useEffect, useRef } from 'preact/hooks';
import { moved } from '../router.jsx';
import { t } from '../words.js';

/** @param {{words: string}} props */
export function Heading({ words }) {
  const heading = useRef(null);
  useEffect(() => {
    document.title = `${words} · ${t('app.name')}`;
  }, [words]);
  useEffect(() => {
    // Only where nothing of the screen has the focus: an answer that comes late takes it from nobody.
    if (moved && document.activeElement.matches('body, .page')) heading.current.focus({ preventScroll: true });
  }, []);
  return <h1 tabIndex={-1} ref={heading}>{words}</h1>;
}
