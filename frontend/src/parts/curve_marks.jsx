/** What stands behind and before the lines: nights, the hand-over, the hours that matter, the limit. */
import { t } from '../words.js';

/** Rows of words above the picture: each mark has its own. */
export const LABEL_ROWS = 4;
export const ROW = 1.35;
/** A letter is about so wide for its height: words near an edge are kept inside by it. */
const LETTER = 0.58;
const BESIDE = 0.3;

/** @typedef {{x: (hour: number) => number, y: (value: number) => number, left: number, right: number, top: number, bottom: number, em: number, last: number}} Frame pixels of a plot */

const Area = ({ frame, from, until, ...more }) => {
  const start = frame.x(Math.max(0, from));
  const width = frame.x(Math.min(frame.last, until)) - start;
  return width > 0 ? <rect x={start} y={frame.top} width={width} height={frame.bottom - frame.top} {...more} /> : null;
};

/** Slanting lines: the hand-over is told from night by its pattern. */
const Slanting = ({ id }) => (
  <pattern id={id} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
    <path d="M0 0v9" class="curve-hatch" />
  </pattern>
);

/** Nights and the hand-over, under the lines. */
export const Behind = ({ curve, frame, id }) => (
  <>
    <Slanting id={id} />
    {curve.night.map(([from, until]) => <Area frame={frame} from={from} until={until} class="curve-night" />)}
    {curve.handover_h.p90 !== null && <Area frame={frame} from={curve.handover_h.p10} until={curve.handover_h.p90} fill={`url(#${id})`} />}
  </>
);

/**
 * Where the middle of a word lies: beside the uprights that run through its row, and inside the edges.
 *
 * @param {string} words @param {number} wanted @param {number[]} uprights of the rows above @param {Frame} frame
 */
export function middleOf(words, wanted, uprights, { left, right, em }) {
  const half = (words.length * em * LETTER) / 2;
  const near = uprights.find((x) => Math.abs(x - wanted) < half + em * BESIDE);
  const beside = near === undefined ? wanted : near + (half + em * BESIDE) * (near > wanted ? -1 : 1);
  return Math.max(left + half, Math.min(right - half, beside));
}

/** An upright runs up to its own word; later rows stand lower. */
const Mark = ({ mark, row, uprights, frame, labelled }) => {
  const x = frame.x(mark.hour);
  const words = t(mark.words);
  const height = frame.top - (LABEL_ROWS - row) * ROW * frame.em;
  return (
    <>
      <path d={`M${x} ${labelled ? height + ROW * frame.em : frame.top}V${frame.bottom}`} class="curve-upright" stroke-dasharray={mark.dash} />
      {labelled && <text x={middleOf(words, x, uprights, frame)} y={height + frame.em} class="curve-word" text-anchor="middle">{words}</text>}
    </>
  );
};

/** Marks over the lines, and a level line where the limit can be read off this plot. */
export function Before({ marks, level, frame, labelled }) {
  const seen = marks.filter(({ hour }) => hour <= frame.last);
  const uprights = seen.map(({ hour }) => frame.x(hour));
  return (
    <>
      {level !== null && <path d={`M${frame.left} ${frame.y(level)}H${frame.right}`} class="curve-level" stroke-dasharray="10 4 2 4" />}
      {seen.map((mark, row) => <Mark key={mark.words} uprights={uprights.slice(0, row)} {...{ mark, row, frame, labelled }} />)}
    </>
  );
}
