/** The two plots of a journey, temperatures and how much of the fish has gone soft: what is drawn where. */
import { hoursLater, percent, plain, weekday } from '../format.js';

/** Each line has its own dashes, so that nothing hangs on colour. */
export const LINES = [
  { name: 'warmest', key: 'warmest_c', dash: '2 4' },
  { name: 'mean', key: 'mean_c', dash: '9 4' },
  { name: 'core', key: 'core_c', dash: '' },
];

const AFTER_H = 4;
const STEP_H = 6;
const LONG_STEP_H = 12;
/** Room that an hour on the axis needs, in heights of its letters. */
const TICK_ROOM = 2;

/** Where the picture ends: a little after the fish is delivered or the carton gives up. */
export function lastHour({ curve, hold_cautious_h: hold }) {
  const { handover_h: handover, latest_departure_h: latest, hours } = curve;
  const wanted = Math.max(handover.p90 ?? 0, hold ?? 0, latest ?? 0) + AFTER_H;
  return Math.min(wanted, hours[hours.length - 1]);
}

const chosenLimit = (curve) => curve.limits.find((one) => one.chosen);

/** The limit that was chosen, where this plot can show it. */
function levelOf(curve, temperatures) {
  const limit = chosenLimit(curve);
  return limit && (limit.kind !== 'softened_share') === temperatures ? limit.value : null;
}

/** What the fish is past the limit that was chosen. */
const overIt = (curve) => (chosenLimit(curve)?.kind === 'softened_share' ? 'curve.mark.limit' : 'curve.mark.warm');

/** Hours to mark: when it leaves, the latest hour to leave, when it arrives, when the limit is reached on the cautious side. */
export const marksOf = ({ curve, hold_cautious_h: hold }) =>
  [
    { words: 'curve.mark.leaves', hour: curve.departs_h, dash: '' },
    { words: 'curve.mark.latest', hour: curve.latest_departure_h, dash: '8 4' },
    { words: 'curve.mark.arrives', hour: curve.handover_h.p50, dash: '1 6' },
    { words: overIt(curve), hour: hold, dash: '3 3' },
  ].filter(({ hour }) => hour !== null && hour !== undefined);

/**
 * @typedef {Object} Plot
 * @property {boolean} labelled whether the words of the marks stand over it
 * @property {number} height in heights of a letter
 * @property {[number, number]} range of what is drawn upwards
 * @property {number[]} steps to write beside it
 * @property {(value: number) => string} shown how a step is written
 * @property {{values: (number | null)[], name: string, dash: string, thin: boolean}[]} lines
 * @property {number | null} level where the limit lies
 */

const WARMEST_SHOWN_C = 4;
const STEP_C = 5;

const steps = (from, until, step) => Array.from({ length: Math.floor((until - from) / step + 1e-9) + 1 }, (_, index) => from + index * step);

const KINDS = [['best', true], ['cautious', false]];

/** @param {any} slot @returns {Plot} */
export function temperaturePlot({ curve }) {
  const lines = KINDS.flatMap(([kind, thin]) => LINES.map(({ name, key, dash }) => ({ name, dash, thin, values: curve[kind][key] })));
  const known = lines.flatMap((line) => line.values.filter((value) => value !== null));
  const lowest = Math.floor(Math.min(...known) / STEP_C) * STEP_C;
  const shown = (celsius) => `${plain(celsius, 0)}°`;
  return { labelled: true, height: 25, range: [lowest, WARMEST_SHOWN_C], steps: steps(lowest, WARMEST_SHOWN_C, STEP_C), shown, lines, level: levelOf(curve, true) };
}

const LEAST_TOP_SHARE = 0.2;
const MOST_STEPS = 5;
const STEP_SHARES = [0.05, 0.1, 0.25, 0.5];

/** @param {any} slot @returns {Plot} */
export function softPlot({ curve }) {
  const limit = curve.limits.find((one) => one.kind === 'softened_share')?.value ?? 0;
  const top = Math.min(1, Math.max(LEAST_TOP_SHARE, limit * 2));
  const lines = KINDS.map(([kind, thin]) => ({ name: 'warmest', dash: '', thin, values: curve[kind].softened_share }));
  const step = STEP_SHARES.find((one) => top / one <= MOST_STEPS);
  return { labelled: false, height: 11, range: [0, top], steps: steps(0, top, step), shown: percent, lines, level: levelOf(curve, false) };
}

/** Midnights, noons and what lies between by the clock of the place, as hours since closing. */
export function clockTicks(closes, last, step) {
  const [, hour, minute] = closes.match(/T(\d\d):(\d\d)/).map(Number);
  const first = (step - ((hour + minute / 60) % step)) % step;
  return first > last ? [] : steps(first, last, step);
}

/** The hour of a tick, and the day that begins there. @returns {{hour: string, day: string}} */
function tickWords(closes, tick) {
  const instant = hoursLater(closes, tick + 0.01);
  const hour = Number(instant.slice(11, 13));
  return { hour: String(hour), day: hour === 0 ? weekday(instant) : '' };
}

/** @param {any} slot @param {number} width of the plot, in heights of a letter */
export function ticksOf(slot, width) {
  const last = lastHour(slot);
  const step = (last / STEP_H) * TICK_ROOM > width ? LONG_STEP_H : STEP_H;
  return clockTicks(slot.curve.closes_at, last, step).map((at) => ({ at, ...tickWords(slot.curve.closes_at, at) }));
}

/** To the tenth of a pixel: longer texts only weigh. */
const near = (pixels) => Math.round(pixels * 10) / 10;

/**
 * The path of a line; where nothing is known it is broken off.
 *
 * @param {number[]} hours @param {(number | null)[]} values @param {(hour: number) => number} x @param {(value: number) => number} y
 */
export function pathOf(hours, values, x, y) {
  let path = '';
  let pen = 'M';
  hours.forEach((hour, index) => {
    const value = values[index];
    if (value !== null) path += `${pen}${near(x(hour))} ${near(y(value))}`;
    pen = value === null ? 'M' : 'L';
  });
  return path;
}
