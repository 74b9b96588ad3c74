import { render } from 'preact';
import { describe, expect, it, vi } from 'vitest';
import { Cost, shortLadder, withMine } from '../src/parts/cost.jsx';
import { rowsOf } from '../src/parts/curve_table.jsx';
import { Fold } from '../src/parts/fold.jsx';
import { GiveUp } from '../src/parts/give_up.jsx';
import { Guard } from '../src/parts/guard.jsx';
import { InTurn } from '../src/parts/in_turn.jsx';
import { Steps } from '../src/parts/packing_steps.jsx';
import { reasonOf } from '../src/parts/reason.js';
import { layout, spread } from '../src/parts/section.jsx';
import { Slot } from '../src/parts/slot.jsx';
import { Strip } from '../src/parts/strip.jsx';
import { departure, invented } from './invented.js';

const whole = departure('1-20261125-common', new URLSearchParams({ mass_kg: '80', species: 'IRQ' }));

describe('the carton in section', () => {
  const { x, y, scale } = layout(whole.packing);

  it('is drawn to scale from board to board', () => {
    expect(x.end - x.outer).toBeCloseTo(1.0 * scale, 9);
    expect(y.end - y.outer).toBeCloseTo(0.7 * scale, 9);
    expect(x.beside - x.fish).toBeCloseTo(0.79 * scale, 9);
  });

  it('has its layers in order', () => {
    const down = [y.outer, y.inside, y.fill, y.fish, y.under, y.end];
    expect(down).toEqual([...down].sort((a, b) => a - b));
    expect(y.fish - y.fill).toBeCloseTo(whole.packing.fill_above_m * scale, 9);
  });
});

describe('the words of thin layers', () => {
  it('keep a line between them and the order of their layers', () => {
    const heights = spread([[0, 4], [4, 8], [8, 100], [100, 104]]);
    for (let index = 1; index < heights.length; index += 1) expect(heights[index] - heights[index - 1]).toBeGreaterThanOrEqual(15);
    expect(heights[0]).toBe(2);
  });
});

describe('a cost that rests on old prices', () => {
  it('says after how many days a price is old, though nothing else has asked the cooperative', async () => {
    vi.stubGlobal('fetch', vi.fn(async (path) => new Response(JSON.stringify(invented(path, Date.now())[1]))));
    const root = document.createElement('div');
    render(<Cost cost={{ ...whole.cost, old_prices: 2 }} decimals={2} />, root);
    await vi.waitFor(() => expect(root.textContent).toContain('2 prices were not confirmed for over 45 days.'));
    vi.unstubAllGlobals();
  });
});

describe('the steps of packing', () => {
  const steps = (packing) => {
    const root = document.createElement('div');
    render(<Steps packing={{ ...whole.packing, ...packing }} start={-18} hour="Wed 21:30" />, root);
    return root.textContent;
  };

  it('build the walls of a carton of shavings', () => {
    expect(steps({})).toContain('Press down dry shavings until 10 cm');
    expect(steps({})).toContain('The load is not full');
    expect(steps({ fill_above_m: 0 })).not.toContain('The load is not full');
  });

  it('build no walls into a box that has them', () => {
    const box = steps({ insulation: { material: 'polyurethane', density_kg_m3: 40 } });
    expect(box).not.toContain('bottom');
    expect(box).toContain('shut the lid');
    expect(box).toContain('Write on it: not later than Wed 21:30');
  });
});

describe('the table of a curve', () => {
  it('has a row every three hours, up to the end of the picture', () => {
    expect(rowsOf([0, 0.5, 1, 3, 6, 9], 6)).toEqual([0, 3, 4]);
  });
});

describe('a short price ladder', () => {
  it('keeps each jump and the weight of the person', () => {
    const { ladder } = whole.cost;
    const short = shortLadder(ladder, 80);
    expect(short.length).toBeLessThan(ladder.length);
    expect(ladder.filter((step) => step.break).every((step) => short.includes(step))).toBe(true);
    expect(short.some((step) => step.mass_kg === 80)).toBe(true);
  });
});

describe('the weight of the person', () => {
  it('stands on the ladder even between its steps', () => {
    const ladder = withMine(whole.cost, { mass_kg: 62.5, cartons: 1 });
    expect(ladder.map((step) => step.mass_kg)).toEqual([...ladder.map((step) => step.mass_kg)].sort((a, b) => a - b));
    expect(ladder.find((step) => step.mass_kg === 62.5).per_kg_minor).toBe(whole.cost.per_kg_minor);
    expect(withMine(whole.cost, { mass_kg: 80, cartons: 1 })).toBe(whole.cost.ladder);
  });
});

describe('a hold that was not followed to its end', () => {
  it('is told as a least one', () => {
    const root = document.createElement('div');
    render(<GiveUp slot={{ ...whole, hold_is_at_least: true }} asked={{ start_temperature_c: '-18' }} safe price="" />, root);
    expect(root.textContent).toContain('at least');
    expect(root.textContent).not.toContain('best guess');
  });
});

describe('a reason', () => {
  const slot = { ...whole, hold_cautious_h: 35.9, arrives_until: '2026-11-27T19:00:00+02:00' };
  const short = (needed_h) => reasonOf({ ...slot, reason: { code: 'hold_too_short', values: { needed_h }, words: '' } }, -18);

  it('is told with its figures, on the cautious side', () => {
    const told = short(44.1);
    expect(told.words).toContain('35.5 hours');
    expect(told.words).toContain('44.5 hours');
    expect(told.ours).toBe(true);
  });

  it('never says that a journey shorter than the hold is too long for it', () => {
    expect(short(30).words).toContain('too often');
    expect(short(30).words).not.toContain('30');
    expect(short(null).words).toContain('for days');
  });

  it('falls back on the words of the server where a figure is missing or the code is new', () => {
    const closed = { ...slot, close_no_earlier_than: null, reason: { code: 'closed_too_early', words: 'Closed too early.' } };
    expect(reasonOf(closed, -18)).toMatchObject({ words: 'Closed too early.', ours: false });
    const fresh = { ...slot, reason: { code: 'bridge_is_gone', words: 'The bridge is gone.' } };
    expect(reasonOf(fresh, -18)).toMatchObject({ words: 'The bridge is gone.', ours: false });
  });

  it('names the hour up to which a vehicle that is often late may still be taken', () => {
    const late = { ...slot, latest_safe_departure_at: '2026-11-26T16:45:00+02:00', reason: { code: 'may_leave_late', words: '' } };
    expect(reasonOf(late, -18)).toMatchObject({ ours: true });
    expect(reasonOf(late, -18).words).toContain('16:45');
    expect(reasonOf({ ...late, latest_safe_departure_at: null }, -18).ours).toBe(false);
  });

  it('is given even where the server calls safe what its chance does not bear', () => {
    expect(reasonOf({ ...slot, reason: null }, -18).words).toContain('below what the cooperative asks for');
  });
});

describe('a slot', () => {
  const answer = { currency: 'ZMW', currency_decimals: 2 };
  const shown = (slot) => {
    const root = document.createElement('ul');
    const asked = { start_temperature_c: '-18', mass_kg: '80' };
    render(<Slot group={{ lead: slot, others: [], safe: slot.safe }} {...{ answer, asked }} confidence={0.95} />, root);
    return root.textContent;
  };

  it('without a price says so, and never that it costs nothing', () => {
    const words = shown({ ...whole, cost_minor: null, cost_per_kg_minor: null });
    expect(words).toContain('no price');
    expect(words).not.toContain('0.00');
  });

  it('whose hour of arrival nobody can name says so', () => {
    const words = shown({ ...whole, arrives_from: null, arrives_median: null, arrives_until: null });
    expect(words).toContain('no hour of arrival can be named');
  });

  it('of another day names the day of the latest hour', () => {
    expect(shown({ ...whole, latest_safe_departure_at: '2026-11-26T01:30:00+02:00' })).toContain('not later than Thu 01:30');
  });
});

describe('a screen that fails', () => {
  it('says so and can be tried again', async () => {
    vi.spyOn(console, 'error').mockImplementation(() => {});
    let broken = true;
    const Screen = () => {
      if (broken) throw new TypeError('no legs');
      return <p>whole</p>;
    };
    const root = document.createElement('div');
    render(<Guard><Screen /></Guard>, root);
    await vi.waitFor(() => expect(root.querySelector('[role=alert]')).not.toBe(null));
    broken = false;
    root.querySelector('button').click();
    await vi.waitFor(() => expect(root.textContent).toBe('whole'));
    vi.restoreAllMocks();
  });
});

describe('the strip of the road', () => {
  it('names each place once with its heat and what the carton stands in', () => {
    const root = document.createElement('div');
    render(<Strip stops={whole.strip} />, root);
    expect([...root.querySelectorAll('h3')].map((one) => one.textContent)).toEqual(whole.strip.map((stop) => stop.place));
    expect(root.querySelector('li').textContent).toContain('29°C');
    expect(root.querySelector('li').textContent).toContain('waits in the sun');
  });
});

describe('a long screen', () => {
  it('is drawn part by part in its order, what is added later too', async () => {
    const root = document.createElement('div');
    const draw = (names) => render(<InTurn>{names.map((name) => <p key={name}>{name}</p>)}{null}<footer>foot</footer></InTurn>, root);
    draw(['Mon ', 'Tue ']);
    expect(root.textContent).toBe('Mon ');
    await vi.waitFor(() => expect(root.textContent).toBe('Mon Tue foot'));
    draw(['Mon ', 'Tue ', 'Wed ']);
    await vi.waitFor(() => expect(root.textContent).toBe('Mon Tue Wed foot'));
  });
});

describe('a fold', () => {
  it('draws its inside once it is opened, and keeps it', async () => {
    const root = document.createElement('div');
    render(<Fold words="3 others">{() => <p>whole</p>}</Fold>, root);
    expect(root.textContent).toBe('3 others');
    root.querySelector('details').dispatchEvent(new Event('toggle'));
    await vi.waitFor(() => expect(root.textContent).toBe('3 otherswhole'));
    root.querySelector('details').dispatchEvent(new Event('toggle'));
    await Promise.resolve();
    expect(root.textContent).toBe('3 otherswhole');
  });
});
