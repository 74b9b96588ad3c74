/** The two plots of a journey: temperatures, and how much of the fish has gone soft. */
import { LABEL_HEIGHT, LABEL_ROWS } from './curve_marks.js';
import { hoursLater, percent, plain, weekday } from '../format.js';

/** Each line has its own dashes, so that nothing hangs on colour. */
export const LINES = [
  { name: 'warmest', key: 'warmest_c', dash: [2, 4], colour: 'thaw' },
  { name: 'mean', key: 'mean_c', dash: [9, 4], colour: 'ink' },
  { name: 'core', key: 'core_c', dash: [], colour: 'frost' },
];

const AFTER_H = 4;
const FONT = '13px system-ui, sans-serif';
const X_STEP_H = 6;

/** Where the picture ends: a little after the fish is delivered or the carton gives up. */
export function lastHour({ curve, hold_cautious_h: hold }) {
  const { handover_h: handover, latest_departure_h: latest, hours } = curve;
  const wanted = Math.max(handover.p90 ?? 0, hold ?? 0, latest ?? 0) + AFTER_H;
  return Math.min(wanted, hours[hours.length - 1]);
}

const until = (slot) => {
  const last = lastHour(slot);
  const count = slot.curve.hours.filter((hour) => hour <= last).length;
  return (list) => list.slice(0, count);
};

/** Midnights and noons by the clock of the place, as hours since closing. */
function clockTicks(slot, last, step) {
  const [, hour, minute] = slot.curve.closes_at.match(/T(\d\d):(\d\d)/).map(Number);
  const first = (step - ((hour + minute / 60) % step)) % step;
  const ticks = [];
  for (let tick = first; tick <= last; tick += step) ticks.push(tick);
  return ticks;
}

function clockLabel(slot, tick) {
  const instant = hoursLater(slot.curve.closes_at, tick + 0.01);
  const hour = instant.slice(11, 13);
  return hour === '00' ? `0\n${weekday(instant)}` : String(Number(hour));
}

function axes(slot, colours, width, labels) {
  const last = lastHour(slot);
  const step = (last / X_STEP_H) * 26 > width ? 12 : X_STEP_H;
  const common = { stroke: colours.ink, font: FONT, ticks: { stroke: colours.rule, width: 1 } };
  return [
    { ...common, size: 52, grid: { show: false }, splits: () => clockTicks(slot, last, step), values: (_, ticks) => ticks.map((tick) => clockLabel(slot, tick)) },
    { ...common, size: 46, grid: { stroke: colours.rule, width: 0.5 }, values: (_, ticks) => ticks.map(labels) },
  ];
}

const frame = (slot, width, height, range, labelled) => ({
  width,
  height,
  padding: [labelled ? LABEL_ROWS * LABEL_HEIGHT : 8, 8, 0, 0],
  legend: { show: false },
  cursor: { show: false },
  scales: { x: { time: false, range: [0, lastHour(slot)] }, y: { range } },
});

const lineOf = (line, colours, width) => ({
  stroke: colours[line.colour],
  width,
  dash: line.dash,
  points: { show: false },
});

const WARMEST_SHOWN_C = 4;

/** @param {any} slot @param {Record<string, string>} colours @param {number} width px */
export function temperaturePlot(slot, colours, width) {
  const cut = until(slot);
  const drawn = LINES.flatMap((line) => [['cautious', line, 2.6], ['best', line, 1]]);
  const data = [cut(slot.curve.hours), ...drawn.map(([kind, line]) => cut(slot.curve[kind][line.key]))];
  const lowest = Math.floor(Math.min(...data.slice(1).flat()) / 5) * 5;
  const options = {
    ...frame(slot, width, 320, [lowest, WARMEST_SHOWN_C], true),
    series: [{}, ...drawn.map(([, line, weight]) => lineOf(line, colours, weight))],
    axes: axes(slot, colours, width, (celsius) => `${plain(celsius, 0)}°`),
    labelled: true,
  };
  return { options, data };
}

const LEAST_TOP_SHARE = 0.2;

/** @param {any} slot @param {Record<string, string>} colours @param {number} width px */
export function softPlot(slot, colours, width) {
  const cut = until(slot);
  const data = [cut(slot.curve.hours), cut(slot.curve.cautious.softened_share), cut(slot.curve.best.softened_share)];
  const limit = slot.curve.limits.find((one) => one.kind === 'softened_share')?.value ?? 0;
  const line = { colour: 'thaw', dash: [] };
  const options = {
    ...frame(slot, width, 150, [0, Math.max(LEAST_TOP_SHARE, limit * 2)], false),
    series: [{}, lineOf(line, colours, 2.6), lineOf(line, colours, 1)],
    axes: axes(slot, colours, width, percent),
    labelled: false,
  };
  return { options, data };
}
