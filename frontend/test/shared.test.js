import { describe, expect, it } from 'vitest';
import { leadsTo } from '../src/screens/shared.jsx';

describe('what another app shared', () => {
  it('leads a code to the screen that takes it, out of any sentence', () => {
    expect(leadsTo('Your code is 7kq2m-x9f4t, use it today')).toBe('/enrol#7KQ2M-X9F4T');
    expect(leadsTo(`see ${location.origin}/enrol#7KQ2M-X9F4T`)).toBe('/enrol#7KQ2M-X9F4T');
  });

  it('follows a link of ours and no other', () => {
    const link = `${location.origin}/q/84mXfN31MJZTGNAYODcEEV98GK/`;
    expect(leadsTo(`Sleek lates ${link}`)).toBe(link);
    expect(leadsTo('https://fish.example/q/84mXfN31MJ/')).toBe(null);
    expect(leadsTo('javascript:alert(1)')).toBe(null);
    expect(leadsTo('https://')).toBe(null);
  });

  it('leads nowhere with plain words', () => {
    expect(leadsTo('')).toBe(null);
    expect(leadsTo('30 kg of buka for Mrs Phiri, one lorry less today')).toBe(null);
  });
});
