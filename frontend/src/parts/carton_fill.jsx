/** A shared carton cut open: whose fish lies in it, by pattern and name, and the room that is left. */
import { kilograms } from '../format.js';
import { t } from '../words.js';

const WIDTH = 336;
const BOX = { left: 6, right: 150, top: 24, wall: 9 };
const LEAST_HIGH = 150;
const LEAST_BAND = 12;
const LABEL_HIGH = 40;
const MOST_LETTERS = 20;

/** @typedef {{member: {id: any, name: string}, mass_kg: number, mine: boolean, lot: any}} Part */

/** What one member has in a carton, her lots together. @param {Part[]} parts */
export function byMember(parts) {
  const found = new Map();
  for (const part of parts) {
    const before = found.get(part.member.id);
    found.set(part.member.id, { ...part, mass_kg: part.mass_kg + (before?.mass_kg ?? 0) });
  }
  return [...found.values()];
}

/** Heights of labels as near to their bands as they go without touching. @param {number[]} wanted from the top down */
export function apart(wanted, least, end) {
  const heights = [];
  wanted.forEach((at, index) => heights.push(Math.max(at, index ? heights[index - 1] + least : at)));
  for (let index = heights.length - 1, most = end; index >= 0; index -= 1) {
    heights[index] = Math.min(heights[index], most);
    most = heights[index] - least;
  }
  return heights;
}

/** Bands from the top down: the free room, then each one's part. */
export function bandsOf(carton, high) {
  const parts = byMember(carton.parts);
  const free = { free: true, closed: Boolean(carton.closed_at), mass_kg: Math.max(0, carton.capacity_kg - carton.mass_kg) };
  const all = [free, ...parts].filter((band) => band.mass_kg > 0);
  const mass = all.reduce((sum, band) => sum + band.mass_kg, 0);
  // A kilogram among a hundred would be a hair: its pattern is still to be seen.
  const heights = all.map((band) => Math.max(LEAST_BAND, (high * band.mass_kg) / mass));
  const scale = high / heights.reduce((sum, height) => sum + height, 0);
  let y = BOX.top + BOX.wall;
  return all.map((band, index) => {
    const from = y;
    y += heights[index] * scale;
    return { ...band, from, to: y };
  });
}

const nameOf = (band) => (band.free ? t(band.closed ? 'fill.empty' : 'fill.room') : band.mine ? t('fill.mine') : band.member.name);
const short = (name) => (name.length > MOST_LETTERS ? `${name.slice(0, MOST_LETTERS - 1)}…` : name);

const Band = ({ band, pattern, x, to }) => {
  const box = { x, y: band.from, width: to - x, height: band.to - band.from };
  if (band.free) return <rect class="part-free" {...box} />;
  return (
    <>
      <rect class={band.mine ? 'part mine' : 'part'} {...box} />
      <rect {...box} fill={`url(#part-${pattern})`} class={band.mine ? 'part-edge mine' : 'part-edge'} />
    </>
  );
};

const Label = ({ band, at }) => (
  <g class={band.mine ? 'part-label mine' : 'part-label'}>
    <path d={`M${BOX.right - BOX.wall} ${(band.from + band.to) / 2}L${BOX.right + 12} ${at}h5`} />
    <text x={BOX.right + 21} y={at - 3}>{short(nameOf(band))}</text>
    <text class="part-kg" x={BOX.right + 21} y={at + 14}>{kilograms(band.mass_kg)}</text>
  </g>
);

/** Rope both ways round what is closed; flaps up while it is being filled. */
const Lid = ({ closed, end }) => {
  const { left, right, top } = BOX;
  const middle = (left + right) / 2;
  if (closed) return <path class="part-rope" d={`M${middle} ${top}V${end}M${left} ${(top + end) / 2}H${right}M${middle} ${top}l-9-11M${middle} ${top}l9-11`} />;
  return <path class="part-flap" d={`M${left} ${top} ${left - 4} 3M${right} ${top}l4-21`} />;
};

const told = (carton, bands) =>
  t('fill.told', { number: carton.position, parts: bands.map((band) => `${nameOf(band)} ${kilograms(band.mass_kg)}`).join(', ') });

/** @param {{carton: any, patterns: Map<any, number>}} props */
export function CartonFill({ carton, patterns }) {
  const count = byMember(carton.parts).length + 1;
  const high = Math.max(LEAST_HIGH, count * LABEL_HIGH);
  const bands = bandsOf(carton, high);
  const end = BOX.top + high + 2 * BOX.wall;
  const heights = apart(bands.map((band) => (band.from + band.to) / 2), LABEL_HIGH, end - 16);
  return (
    <svg class="carton-fill" viewBox={`0 0 ${WIDTH} ${end + 4}`} role="img" aria-label={told(carton, bands)}>
      <rect class="layer-board" x={BOX.left} y={BOX.top} width={BOX.right - BOX.left} height={end - BOX.top} />
      {bands.map((band) => <Band band={band} pattern={patterns.get(band.member?.id)} x={BOX.left + BOX.wall} to={BOX.right - BOX.wall} />)}
      <Lid closed={Boolean(carton.closed_at)} end={end} />
      {bands.map((band, index) => <Label band={band} at={heights[index]} />)}
    </svg>
  );
}
