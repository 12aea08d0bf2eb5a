import { describe, expect, test } from 'vitest';
import { columnById } from '../../src-shared/columns/column-table.ts';
import { profileIds } from '../../src-shared/document/profile.ts';
import { countFindings } from '../../src-shared/limits/finding.ts';
import { basisOf, type LimitId, limitIds } from '../../src-shared/limits/limit.ts';
import { limits } from '../../src-shared/limits/registry.ts';
import {
  cleanProject,
  findingsIn,
  findingsOf,
  notCheckedLimits,
  raised,
  tagsOf,
} from './build-project.ts';
import { caseFiles, readCase } from './read-cases.ts';

test('the first set of limits, as the check command names them', () => {
  // The list at the end of the check command's contract.
  const contract =
    'wrong-voltage mixed-voltage line-rating circuit-load breaker-over-line branch-drop fixture-under-volts no-operating-point run-length branch broken-chain two-universes address-overlap past-512 footprint-unknown no-stock-pieces leakage unit-loads duplicate-tag missing-value unlikely-value differing-values';
  expect([...limitIds]).toEqual(contract.split(' '));
});

test('every limit id has a limit, every limit an id, title, basis and needs', () => {
  expect(new Set(limits.map((limit) => limit.id))).toEqual(new Set(limitIds));
  for (const limit of limits) {
    expect(limit.title).not.toBe('');
    expect(limit.needs).not.toBe('');
    for (const profile of profileIds) {
      const basis = basisOf(limit, profile);
      expect(basis.length).toBeGreaterThan(20);
      if (/\b(?:NEC|CEC|IEC|ANSI|EIA|UL)\b/.test(basis)) {
        expect(basis).toMatch(/verify in the adopted edition/i);
      }
    }
  }
});

test('every limit has its case file, and no case file is without a limit', () => {
  expect(caseFiles()).toEqual([...limitIds].sort());
});

test('the clean job raises nothing at all', () => {
  expect(findingsIn(cleanProject())).toEqual([]);
});

describe.each([...limitIds])('%s', (id: LimitId) => {
  const cases = async () => {
    const found = await readCase(id);
    if (found === null) throw new Error(`limit ${id} has no cases`);
    return found;
  };

  test('names itself', async () => {
    expect((await cases()).id).toBe(id);
  });

  test('passing: nothing broken, near or not checked', async () => {
    expect(findingsIn((await cases()).passing)).toEqual([]);
  });

  test('failing: one finding, this limit alone, with its numbers', async () => {
    const { failing, expects } = await cases();
    const mine = findingsOf(failing, id);
    const [finding] = mine;
    expect(mine.map((f) => f.severity)).toEqual([expects.severity]);
    expect(tagsOf(finding, failing)).toEqual(expects.tags);
    expect(finding?.run).toBe(expects.run);
    expect(finding?.allowed).toBe(expects.allowed ?? null);
    expect(finding?.unit).toBe(expects.unit ?? null);
    if (expects.value === undefined) expect(finding?.value).toBeNull();
    else expect(finding?.value).toBeCloseTo(expects.value, 9);
    expect(raised(failing).filter((f) => f.limit !== id)).toEqual([]);
  });

  test('failing: the finding says what, where and why, and points at cells', async () => {
    const { failing, expects } = await cases();
    const [finding] = findingsOf(failing, id);
    expect(finding?.message).toMatch(/\.$/);
    expect(finding?.message).not.toMatch(/NaN|undefined|null|Infinity|complian[t]/);
    expect(finding?.message).not.toContain('\u0000');
    expect(finding?.basis).not.toBe('');
    const tags = new Set(expects.tags);
    const byId = new Map(failing.fixtures.map((f) => [f.id, f]));
    expect(finding?.marks.length).toBeGreaterThan(0);
    for (const mark of finding?.marks ?? []) {
      expect(tags).toContain(byId.get(mark.fixtureId)?.tag);
      expect(columnById(mark.column).id).toBe(mark.column);
    }
  });

  test('corrected: that one input clears it, and nothing else is left', async () => {
    expect(findingsIn((await cases()).corrected)).toEqual([]);
  });

  test('not checked: said for this limit and for exactly the others that need that input', async () => {
    const { notChecked, expects } = await cases();
    const found = notCheckedLimits(notChecked);
    expect(found).toContain(id);
    expect(found).toEqual([...expects.notCheckedLimits].sort());
    expect(raised(notChecked)).toEqual([]);
    const counts = countFindings(findingsIn(notChecked));
    expect(counts.notChecked).toBeGreaterThanOrEqual(found.length);
    for (const finding of findingsOf(notChecked, id)) {
      expect(finding.message).toMatch(/^(?:Not checked|Missing): /);
    }
  });
});
