import { render } from 'preact';
import { describe, expect, it } from 'vitest';
import { Picture } from '../src/parts/curve.jsx';
import { middleOf } from '../src/parts/curve_marks.jsx';
import { clockTicks, lastHour, marksOf, pathOf, softPlot, temperaturePlot, ticksOf } from '../src/parts/curve_plots.js';
import { departure } from './invented.js';

const slot = departure('1-20261125-common', new URLSearchParams({ mass_kg: '80', species: 'IRQ' }));
const core = { ...slot.curve, limits: slot.curve.limits.map((one) => ({ ...one, chosen: one.kind === 'core_c' })) };

function drawn(plot, width = 296) {
  const root = document.createElement('div');
  render(<Picture slot={slot} plot={plot} width={width} em={13} />, root);
  return root;
}

const texts = (root) => [...root.querySelectorAll('text')].map((one) => one.textContent);
const numbers = (path) => path.match(/-?\d+(\.\d+)?/g).map(Number);

describe('the picture of temperatures', () => {
  const root = drawn(temperaturePlot(slot));

  it('has core, mean and softest part, each cautious and at best guess, told apart by dashes and weight', () => {
    const lines = [...root.querySelectorAll('.curve-line')];
    expect(lines.length).toBe(6);
    expect(new Set(lines.map((one) => `${one.getAttribute('stroke-dasharray')} ${one.classList.contains('thin')}`)).size).toBe(6);
  });

  it('has nights and the hand-over behind the lines', () => {
    expect(root.querySelectorAll('.curve-night').length).toBeGreaterThan(0);
    expect(root.querySelector('[fill^="url(#"]').getAttribute('fill')).toBe(`url(#${root.querySelector('pattern').id})`);
  });

  it('names the hours that matter', () => {
    for (const words of ['leaves', 'latest hour', 'arrives', 'too soft']) expect(texts(root)).toContain(words);
  });

  it('shows a limit only where it is a temperature', () => {
    expect(root.querySelector('.curve-level')).toBe(null);
    expect(temperaturePlot({ ...slot, curve: core }).level).toBe(-5);
    expect(softPlot({ ...slot, curve: core }).level).toBe(null);
  });

  it('keeps every line and word inside at 296 pixels', () => {
    const areas = [...root.querySelectorAll('rect')].map((one) => Number(one.getAttribute('x')) + Number(one.getAttribute('width')));
    expect(Math.max(...areas)).toBeLessThanOrEqual(296);
    for (const one of root.querySelectorAll('text')) expect(Number(one.getAttribute('x'))).toBeLessThan(296);
  });
});

describe('the picture of soft fish', () => {
  it('draws the share warm side up, and the limit that was chosen across it', () => {
    const root = drawn(softPlot(slot));
    expect(root.querySelectorAll('.curve-line').length).toBe(2);
    const [, level] = numbers(root.querySelector('.curve-level').getAttribute('d'));
    const cautious = numbers(root.querySelectorAll('.curve-line')[1].getAttribute('d')).filter((_, index) => index % 2);
    expect(level).toBeLessThan(cautious[0]);
    expect(level).toBeGreaterThan(cautious.at(-1));
    expect(texts(root)).toContain('20%');
  });
});

describe('a line', () => {
  const same = (value) => value;

  it('is broken off where nothing is known', () => {
    expect(pathOf([0, 1, 2, 3, 4], [5, 6, null, 7, 8], same, same)).toBe('M0 5L1 6M3 7L4 8');
    expect(pathOf([0, 1], [null, null], same, same)).toBe('');
  });
});

describe('the hours below', () => {
  it('are those of the clock at the place', () => {
    expect(clockTicks('2026-11-25T14:30:00+02:00', 20, 6)).toEqual([3.5, 9.5, 15.5]);
    expect(ticksOf(slot, 40).map(({ hour, day }) => `${hour}${day}`).slice(0, 3)).toEqual(['18', '0Thu', '6']);
  });

  it('are fewer where the picture is narrow', () => {
    expect(ticksOf(slot, 5).length).toBeLessThan(ticksOf(slot, 40).length);
  });

  it('end a little after the last that matters, and never beyond what is known', () => {
    const last = lastHour(slot);
    for (const { hour } of marksOf(slot)) expect(hour).toBeLessThan(last);
    expect(lastHour({ ...slot, hold_cautious_h: 500 })).toBe(96);
  });

  it('mark nothing that has no hour', () => {
    const open = { ...slot, hold_cautious_h: null, curve: { ...slot.curve, latest_departure_h: null, handover_h: { p10: null, p50: null, p90: null } } };
    expect(marksOf(open).map(({ words }) => words)).toEqual(['curve.mark.leaves']);
    expect(() => render(<Picture slot={open} plot={temperaturePlot(open)} width={296} em={13} />, document.createElement('div'))).not.toThrow();
  });
});

describe('words over the picture', () => {
  const frame = { left: 40, right: 290, em: 13 };

  it('stay inside its edges', () => {
    expect(middleOf('latest hour', 41, [], frame)).toBeGreaterThan(60);
    expect(middleOf('latest hour', 289, [], frame)).toBeLessThan(270);
    expect(middleOf('leaves', 150, [], frame)).toBe(150);
  });

  it('stand beside an upright that runs through their row', () => {
    expect(middleOf('arrives', 150, [140], frame) - 140).toBeGreaterThan((7 * 13 * 0.58) / 2);
    expect(160 - middleOf('arrives', 150, [160], frame)).toBeGreaterThan((7 * 13 * 0.58) / 2);
  });
});
