import { describe, expect, it } from 'vitest';
import { apart, bandsOf, byMember } from '../src/parts/carton_fill.jsx';
import { patternsOf } from '../src/parts/patterns.jsx';

const part = (id, mass_kg, lot = id) => ({ lot, member: { id, name: `Member ${String(id).padStart(2, '0')}` }, mass_kg, mine: false });
const carton = (parts, capacity_kg = 100) => ({ position: 1, capacity_kg, mass_kg: parts.reduce((sum, one) => sum + one.mass_kg, 0), closed_at: null, parts });

describe('the bands of a carton', () => {
  const bands = bandsOf(carton([part(1, 20), part(2, 30)]), 200);

  it('are as high as their kilograms, the free room on top', () => {
    expect(bands.map(({ mass_kg, from, to }) => [mass_kg, to - from])).toEqual([[50, 100], [20, 40], [30, 60]]);
    expect(bands[0].free).toBe(true);
  });

  it('are high enough for their pattern, however little it is', () => {
    const [, hair] = bandsOf(carton([part(1, 0.2), part(2, 30)]), 200);
    expect(hair.to - hair.from).toBeGreaterThan(10);
  });

  it('lie on each other without gaps', () => {
    for (let index = 1; index < bands.length; index += 1) expect(bands[index].from).toBeCloseTo(bands[index - 1].to, 9);
  });

  it('have no free room where it is full', () => {
    expect(bandsOf(carton([part(1, 100)]), 200).length).toBe(1);
  });

  it('are one for each member, however many lots she has in it', () => {
    expect(byMember([part(1, 5, 'a'), part(2, 6, 'b'), part(1, 7, 'c')]).map((one) => [one.member.id, one.mass_kg])).toEqual([[1, 12], [2, 6]]);
  });
});

describe('the names beside the bands', () => {
  it('keep their order and their distance, and end inside the picture', () => {
    const heights = apart([5, 6, 7, 190, 195], 40, 200);
    for (let index = 1; index < heights.length; index += 1) expect(heights[index] - heights[index - 1]).toBeGreaterThanOrEqual(40 - 1e-9);
    expect(heights.at(-1)).toBeLessThanOrEqual(200);
  });

  it('stay beside their bands where there is room', () => {
    expect(apart([30, 90, 150], 40, 200)).toEqual([30, 90, 150]);
  });
});

describe('the patterns of a parcel', () => {
  it('are of eight people eight different ones, the same in each carton', () => {
    const ids = [1, 2, 3, 4, 5, 6, 7, 8];
    const patterns = patternsOf([carton(ids.slice(0, 4).map((id) => part(id, 5))), carton(ids.slice(2).map((id) => part(id, 5)))]);
    expect(new Set(ids.map((id) => patterns.get(id))).size).toBe(8);
  });
});
