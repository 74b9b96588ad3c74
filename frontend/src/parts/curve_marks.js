/** What stands behind and before the lines: nights, the hand-over, the hours that matter, the limit. */
import { t } from '../words.js';

const FONT = '600 13px system-ui, sans-serif';
/** Words of the marks stand above the picture, each in a row of its own, px. */
export const LABEL_HEIGHT = 17;
export const LABEL_ROWS = 4;

const ratio = () => window.devicePixelRatio || 1;

function area(plot, from, until) {
  const { left, top, width, height } = plot.bbox;
  const clamp = (x) => Math.min(left + width, Math.max(left, x));
  const start = clamp(plot.valToPos(from, 'x', true));
  return [start, top, clamp(plot.valToPos(until, 'x', true)) - start, height];
}

/** Slanting lines: the hand-over is told from night by its pattern. */
function hatch(context, [x, y, width, height], colour) {
  context.save();
  context.beginPath();
  context.rect(x, y, width, height);
  context.clip();
  context.strokeStyle = colour;
  context.lineWidth = 1.5 * ratio();
  context.beginPath();
  for (let shift = -height; shift < width; shift += 9 * ratio()) {
    context.moveTo(x + shift, y + height);
    context.lineTo(x + shift + height, y);
  }
  context.stroke();
  context.restore();
}

/** Nights and the hand-over, before the lines are drawn. */
export const behind = ({ curve }, colours) => (plot) => {
  const context = plot.ctx;
  context.fillStyle = colours.night;
  for (const [from, until] of curve.night) context.fillRect(...area(plot, from, until));
  const { p10, p90 } = curve.handover_h;
  if (p90 !== null) hatch(context, area(plot, p10, p90), colours.board);
};

const chosenLimit = (curve) => curve.limits.find((one) => one.chosen);

/** What the fish is past the limit that was chosen. */
const overIt = (curve) => (chosenLimit(curve)?.kind === 'softened_share' ? 'curve.mark.limit' : 'curve.mark.warm');

/** Hours to mark: when it leaves, the latest hour to leave, when the limit is reached on the cautious side. */
const marks = ({ curve, hold_cautious_h: hold }) =>
  [
    ['curve.mark.leaves', curve.departs_h, []],
    ['curve.mark.latest', curve.latest_departure_h, [8, 4]],
    ['curve.mark.arrives', curve.handover_h.p50, [1, 6]],
    [overIt(curve), hold, [3, 3]],
  ].filter(([, hour]) => hour !== null && hour !== undefined);

function upright(plot, hour, dash, rise, colours) {
  const [x, top, , height] = area(plot, hour, hour);
  const context = plot.ctx;
  context.strokeStyle = colours.ink;
  context.lineWidth = 1.5 * ratio();
  context.setLineDash(dash.map((length) => length * ratio()));
  context.beginPath();
  context.moveTo(x, top - rise * ratio());
  context.lineTo(x, top + height);
  context.stroke();
  context.setLineDash([]);
}

/** Later rows stand lower, so that each upright runs up to its own word. */
function label(plot, words, hour, row, colours) {
  const context = plot.ctx;
  const { left, top, width } = plot.bbox;
  context.font = FONT.replace('13', String(13 * ratio()));
  const length = context.measureText(words).width + 6 * ratio();
  const centre = plot.valToPos(hour, 'x', true);
  const x = Math.min(left + width - length, Math.max(left, centre - length / 2));
  const y = top - (LABEL_ROWS - row) * LABEL_HEIGHT * ratio();
  context.fillStyle = colours.paper;
  context.fillRect(x, y, length, LABEL_HEIGHT * ratio());
  context.fillStyle = colours.ink;
  context.textBaseline = 'middle';
  context.textAlign = 'left';
  context.fillText(words, x + 3 * ratio(), y + (LABEL_HEIGHT * ratio()) / 2);
}

/** A level line where the limit that was chosen can be read off this plot. */
function level(plot, limit, colours, temperatures) {
  if (!limit || (limit.kind !== 'softened_share') !== temperatures) return;
  const { left, width } = plot.bbox;
  const y = plot.valToPos(limit.value, 'y', true);
  const context = plot.ctx;
  context.strokeStyle = colours.ink;
  context.lineWidth = 2 * ratio();
  context.setLineDash([10, 4, 2, 4].map((length) => length * ratio()));
  context.beginPath();
  context.moveTo(left, y);
  context.lineTo(left + width, y);
  context.stroke();
  context.setLineDash([]);
}

/** Marks over the lines. @param {boolean} labelled whether this plot is the one of temperatures, which carries the words */
export const before = (slot, colours, labelled) => (plot) => {
  level(plot, chosenLimit(slot.curve), colours, labelled);
  marks(slot).forEach(([key, hour, dash], row) => {
    const rise = labelled ? (LABEL_ROWS - row - 1) * LABEL_HEIGHT : 0;
    upright(plot, hour, dash, rise, colours);
    if (labelled) label(plot, t(key), hour, row, colours);
  });
};
