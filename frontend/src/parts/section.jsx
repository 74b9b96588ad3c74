/** The packed carton cut through its length: each layer with its centimetres. */
import { centimetres, tape } from '../format.js';
import { t } from '../words.js';

const WIDTH = 320;
const LEFT = 72;
const RIGHT = 66;
const TOP = 10;
const SEEN_BOARD = 4;

/** Lengths in metres to places in the picture, top down and left to right. */
export function layout(packing) {
  const [length, , height] = packing.outer_m;
  const scale = (WIDTH - LEFT - RIGHT) / length;
  const { faces_m: faces, fish_m: fish, fill_above_m: fill } = packing;
  // Board of half a centimetre would be a hair: it is drawn thick enough to see.
  const board = Math.max(packing.board_m, SEEN_BOARD / scale);
  const x = { outer: LEFT, inside: LEFT + board * scale, fish: LEFT + (board + faces.left) * scale };
  const y = { outer: TOP, inside: TOP + board * scale, fill: TOP + (board + faces.top) * scale };
  y.fish = y.fill + fill * scale;
  y.under = y.fish + fish[2] * scale;
  y.end = TOP + height * scale;
  x.beside = x.fish + fish[0] * scale;
  x.end = LEFT + length * scale;
  return { x, y, scale };
}

/** A pattern of curls, one of denser curls, one of fish. */
const Patterns = () => (
  <defs>
    <pattern id="curls" width="26" height="20" patternUnits="userSpaceOnUse">
      <path class="curl" d="M2 9c0-8 10-8 10-2s-7 4-5 1M14 19c0-8 10-8 10-2s-7 4-5 1" />
    </pattern>
    <pattern id="curls-above" width="15" height="12" patternUnits="userSpaceOnUse">
      <path class="curl" d="M1 5c0-5 6-5 6-1s-4 2-3 0M8 11c0-5 6-5 6-1s-4 2-3 0" />
    </pattern>
    <pattern id="stacked" width="40" height="24" patternUnits="userSpaceOnUse">
      <path class="scale" d="M10 6c6-6 18-6 25 0-7 6-19 6-25 0zM10 6 4 2v8zM30 5v.1" />
      <path class="scale" d="M30 18c3-3 6-4 10-5M30 18c3 3 6 4 10 5M0 13c6 0 11 2 15 5-4 3-9 5-15 5M30 18l-6-4v8zM10 17v.1" />
    </pattern>
  </defs>
);

const Block = ({ class: name, x, y, to, down, fill }) => (
  <rect class={name} x={x} y={y} width={to - x} height={Math.max(0, down - y)} fill={fill} />
);

/** A measure with its ends, and its words beside it at a height of their own. */
const Upright = ({ x, from, to, words, side, at = (from + to) / 2 }) => (
  <g class="measure">
    <path d={`M${x - 4} ${from}h8M${x - 4} ${to}h8M${x} ${from}V${to}`} />
    <text x={x + side * 7} y={at + 5} text-anchor={side > 0 ? 'start' : 'end'}>{words}</text>
  </g>
);

const WORDS_HIGH = 15;

/** Heights for the words of layers from the top down: thin layers push the words below them on. */
export function spread(layers) {
  let last = -Infinity;
  return layers.map(([from, to]) => (last = Math.max((from + to) / 2, last + WORDS_HIGH)));
}

const Level = ({ y, from, to, words }) => (
  <g class="measure">
    <path d={`M${from} ${y - 4}v8M${to} ${y - 4}v8M${from} ${y}H${to}`} />
    <text x={(from + to) / 2} y={y + 18} text-anchor="middle">{words}</text>
  </g>
);

const Layers = ({ x, y }) => (
  <>
    <Block class="layer-board" x={x.outer} y={y.outer} to={x.end} down={y.end} />
    <Block class="layer-wall" x={x.inside} y={y.inside} to={x.end - x.inside + x.outer} down={y.end - y.inside + y.outer} />
    <Block x={x.inside} y={y.inside} to={x.end - x.inside + x.outer} down={y.end - y.inside + y.outer} fill="url(#curls)" />
    <Block class="layer-fill" x={x.fish} y={y.fill} to={x.beside} down={y.fish} />
    <Block x={x.fish} y={y.fill} to={x.beside} down={y.fish} fill="url(#curls-above)" />
    <Block class="layer-fish" x={x.fish} y={y.fish} to={x.beside} down={y.under} />
    <Block x={x.fish} y={y.fish} to={x.beside} down={y.under} fill="url(#stacked)" />
  </>
);

const Measures = ({ packing, x, y }) => {
  const { faces_m: faces, fish_m: fish, outer_m: outer, fill_above_m: fill } = packing;
  const cm = tape;
  const all = [[y.inside, y.fill, faces.top], [y.fill, y.fish, fill], [y.fish, y.under, fish[2]], [y.under, y.end, faces.bottom]];
  const layers = all.filter(([from, to]) => to - from >= 1);
  const heights = spread(layers);
  return (
    <>
      <Upright x={LEFT - 14} from={y.outer} to={y.end} words={cm(outer[2])} side={-1} />
      {layers.map(([from, to, metres], index) => (
        <Upright x={x.end + 12} from={from} to={to} at={heights[index]} words={cm(metres)} side={1} />
      ))}
      <Level y={y.end + 14} from={x.inside} to={x.fish} words={cm(faces.left)} />
      <Level y={y.end + 14} from={x.fish} to={x.beside} words={cm(fish[0])} />
      <Level y={y.end + 14} from={x.beside} to={x.end} words={cm(faces.right)} />
      <Level y={y.end + 44} from={x.outer} to={x.end} words={cm(outer[0])} />
    </>
  );
};

/** The same in words, for whoever does not see the picture. */
const told = ({ outer_m: outer, faces_m: faces, fish_m: fish, fill_above_m: fill }) =>
  t('section.told', {
    length: centimetres(outer[0]),
    width: centimetres(outer[1]),
    height: centimetres(outer[2]),
    bottom: centimetres(faces.bottom),
    side: centimetres(faces.left),
    top: centimetres(faces.top + fill),
    fish: centimetres(fish[2]),
  });

export function Section({ packing }) {
  const { x, y } = layout(packing);
  return (
    <figure class="section">
      <svg viewBox={`0 0 ${WIDTH} ${Math.ceil(y.end + 70)}`} role="img" aria-label={told(packing)}>
        <Patterns />
        <Layers x={x} y={y} />
        <Measures packing={packing} x={x} y={y} />
      </svg>
      <figcaption>
        <ul class="legend">
          {['board', 'wall', 'fill', 'fish'].filter((name) => name !== 'fill' || packing.fill_above_m > 0).map((name) => (
            <li><span class={`swatch swatch-${name}`} aria-hidden="true" /> {t(`section.${name}`, { thickness: centimetres(packing.board_m) })}</li>
          ))}
        </ul>
      </figcaption>
    </figure>
  );
}
