/** A fold whose inside is drawn once it is opened: most never are. */
import { useState } from 'preact/hooks';

/** @param {{words: string, children: () => any}} props */
export function Fold({ words, children }) {
  const [opened, open] = useState(false);
  return (
    <details onToggle={() => open(true)}>
      <summary>{words}</summary>
      {opened && children()}
    </details>
  );
}
