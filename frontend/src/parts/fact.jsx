/** A name and its figure in one line of a list. */
import { useHelp } from './help.jsx';

export function Fact({ name, children }) {
  const [words, told] = useHelp(name);
  return (
    <div class="fact">
      <dt>{words}</dt>
      <dd>{children}</dd>
      {told && <dd class="help">{told}</dd>}
    </div>
  );
}
