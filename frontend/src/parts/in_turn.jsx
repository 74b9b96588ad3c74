/** Parts of a long screen drawn one after the other, each in a moment of its own: a touch never waits for the whole. */
import { toChildArray } from 'preact';
import { useEffect, useState } from 'preact/hooks';

/** Pieces that stand alone, each whole: those at the end come last, so that nothing moves that can be seen. */
export function InTurn({ children }) {
  const parts = toChildArray(children);
  const [drawn, draw] = useState(1);
  useEffect(() => {
    if (drawn >= parts.length) return undefined;
    const soon = setTimeout(() => draw(drawn + 1));
    return () => clearTimeout(soon);
  }, [drawn, parts.length]);
  return parts.slice(0, drawn);
}
