import { beforeEach, describe, expect, it } from 'vitest';
import { members, parcels, split } from './invented_parcels.js';
import { all, one, opened, says, sent, silence, type, until, words } from './opened.js';

const [agness, bwalya, , , joseph] = members;
const open = parcels(agness.id)[0];

beforeEach(() => {
  document.body.textContent = '';
  history.replaceState(null, '', '/');
});

describe('the split', () => {
  it('has the rule of the cooperative first, each beside alone, in words why', async () => {
    await opened(joseph, 'Split', { id: open.id });
    await until(() => one('.chosen'));
    const chosen = one('.chosen').textContent;
    expect(chosen).toContain('by weight, never above alone');
    expect(chosen).toMatch(/270\.25.*alone.+482\.00.+211\.75\sless/);
    expect(all('details summary').length).toBe(6);
    expect(words()).toContain('Agness Namukonda would do better to leave');
  });

  it('shows a member her own share and the others together', async () => {
    await opened(agness, 'Split', { id: open.id });
    await until(() => one('.chosen'));
    expect(words()).toContain('1 other member');
    expect(words()).not.toContain('Bwalya');
  });

  it('works out other weights on the phone, each beside the other, also without a signal', async () => {
    await opened(joseph, 'Split', { id: open.id });
    await until(() => one('[name=weight_1]'));
    const told = () => one('[aria-labelledby=other-weights] [role=status]').textContent.replace(/[\u00a0\u202f]/g, ' ');
    expect(told()).toBe('');
    await type('weight_1', '41');
    await until(() => one('[aria-labelledby=other-weights] dl'));
    silence();
    await type('weight_1', '40');
    await until(() => told().includes('60 kg'));
    // 74 310 for 55 kg by the kilogram are 81 066 for 60. Of that two thirds are hers, 54 044; in coins of 5 she, who
    // misses 4 of 54 040, gets the one that is left, and the last unit goes to the other.
    for (const said of ['at most K810.66 for 60 kg', 'K540.45', 'K270.21']) expect(told()).toContain(said);
    await type('weight_1', '109');
    await until(() => told().includes('does not fit'));
    await type('weight_1', 'many');
    await until(() => one('[aria-labelledby=other-weights] [aria-invalid]'));
    expect(told()).toBe('');
  });

  it('lets a member try her own weight, and tells nothing of what the others would pay alone', async () => {
    await opened(agness, 'Split', { id: open.id });
    await until(() => one('[name=weight_0]'));
    expect(all('[aria-labelledby=other-weights] input').length).toBe(1);
    await type('weight_0', '10');
    await until(() => one('[aria-labelledby=other-weights] dl'));
    const cells = all('[aria-labelledby=other-weights] dd').map((cell) => cell.textContent.replace(/[\u00a0\u202f]/g, ' '));
    expect(cells[3]).toBe('not known');
    expect(words()).not.toContain('Bwalya');
  });

  it('has shares that make up the bill by every rule', () => {
    const { rules, bill_minor } = split(1, true);
    for (const { shares } of rules) expect(shares.reduce((sum, share) => sum + share.amount_minor, 0)).toBe(bill_minor);
  });
});

describe('a statement', () => {
  it('says in words who owes', async () => {
    await opened(agness, 'Statement');
    await until(() => one('.balance'));
    expect(one('.balance').textContent).toMatch(/You owe the cooperative.*112\.50/);
    expect(one('.balance').textContent).not.toMatch(/[-−]/);
    for (const entry of all('.moved')) expect(entry.textContent).toMatch(/you owe|for you/);
  });

  it('says so the other way round too', async () => {
    await opened(bwalya, 'Statement');
    await until(() => one('.balance'));
    expect(one('.balance').textContent).toMatch(/The cooperative owes you.*43\.00/);
    expect(one('.balance').textContent).not.toMatch(/[-−]/);
  });

  it('lets whoever packs put a payment right, with a reason', async () => {
    await opened(joseph, 'Statement', { id: '1' });
    await until(() => one('.entry form'));
    one('.entry form').requestSubmit();
    await until(() => one('.entry .fault'));
    expect(sent).toEqual([]);
  });
});

describe('a claim', () => {
  it('names what each claims, for her own fish only where she does not pack', async () => {
    await opened(agness, 'ClaimNew', { query: { parcel: parcels(0)[3].id } });
    await until(() => one('form'));
    expect(all('input[inputmode=decimal]').length).toBe(1);
    await type('claims_1', '20');
    says(201, { id: 'new' });
    one('form').requestSubmit();
    await until(() => sent.length);
    expect(sent[0][2]).toMatchObject({ kind: 'softened', parts: [{ member: 1, claimed_minor: 2000 }] });
  });
});
