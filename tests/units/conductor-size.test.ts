import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatConductorSize, parseConductorSize } from '../../src-shared/units/conductor-size.ts';

// Gauge numbers of ASTM B258, nominal areas of IEC 60228; the spellings are common practice, no source.
// biome-ignore format: a table
const read: readonly (readonly [string, string])[] = [
  ['12AWG', '12 AWG'], ['12 AWG', '12 AWG'], ['#12', '12 AWG'], ['# 12 AWG', '12 AWG'], ['AWG 12', '12 AWG'],
  ['awg12', '12 AWG'], ['12 ga', '12 AWG'], ['12-AWG', '12 AWG'], ['No. 12', '12 AWG'], ['#12 Cu', '12 AWG'],
  ['1/0 AWG', '1/0 AWG'], ['#1/0', '1/0 AWG'], ['4/0 AWG', '4/0 AWG'], ['000 AWG', '3/0 AWG'], ['0 AWG', '1/0 AWG'],
  ['2.5mm2', '2.5 mm²'], ['2,5 mm²', '2.5 mm²'], ['2.5 sq mm', '2.5 mm²'], ['2.5 sq. mm', '2.5 mm²'],
  ['2.5 sqmm', '2.5 mm²'], ['2.5 mm^2', '2.5 mm²'], ['2.5 MM2', '2.5 mm²'], ['4 mm²', '4 mm²'], ['1,5\u00A0mm²', '1.5 mm²'],
];

describe('conductor size', () => {
  it.each(read)('reads %j as %s', (text, expected) => {
    const size = parseConductorSize(text);
    if (!size.ok) throw new Error(size.reason);
    expect(formatConductorSize(size)).toBe(expected);
    expect(size.notes).toEqual([]);
  });

  it.each([
    ['3x2.5mm²', '2.5 mm²', '3'],
    ['3G2.5 mm²', '2.5 mm²', '3'],
    ['3 × 2,5 mm2', '2.5 mm²', '3'],
    ['3/C 12 AWG', '12 AWG', '3'],
    ['2-#12', '12 AWG', '2'],
  ])('notes the number of conductors in %j', (text, expected, count) => {
    const size = parseConductorSize(text);
    if (!size.ok) throw new Error(size.reason);
    expect(formatConductorSize(size)).toBe(expected);
    expect(size.notes).toEqual([`size of one conductor of ${count}`]);
  });

  it.each([
    ['', /empty/],
    ['12', /does not say whether it is AWG or mm²/],
    ['2.5', /does not say/],
    ['1/0', /does not say/],
    ['250 kcmil', /kcmil/],
    ['12 AWG Al', /aluminium/],
    ['99 AWG', /not a wire gauge/],
    ['0 mm²', /area/],
    ['-2.5 mm²', /not a conductor size/],
    ['2.5 mm', /not a conductor size/],
    ['5/0 AWG', /not a conductor size/],
    ['12 AWG 600 V', /not a conductor size/],
    ['copper', /not a conductor size/],
    ['#'.repeat(500), /too long/],
  ])('refuses %j', (text, reason) => {
    const size = parseConductorSize(text);
    expect(size.ok ? 'read' : size.reason).toMatch(reason);
    if (!size.ok) expect(size.reason).toMatch(/write 12 AWG or 2\.5 mm²|ohm\/km/);
  });

  it('reads back what it writes, and never throws', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2_000_000 }), (thousandths) => {
        const areaMm2 = thousandths / 1000;
        const again = parseConductorSize(formatConductorSize({ system: 'mm2', areaMm2 }));
        expect(again).toEqual({ ok: true, system: 'mm2', areaMm2, notes: [] });
      }),
      { seed: 60228 },
    );
    for (const gauge of ['1', '2', '8', '14', '1/0', '2/0', '3/0', '4/0']) {
      const again = parseConductorSize(formatConductorSize({ system: 'awg', gauge }));
      expect(again).toEqual({ ok: true, system: 'awg', gauge, notes: [] });
    }
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        expect(typeof parseConductorSize(text).ok).toBe('boolean');
      }),
      { seed: 258 },
    );
  });
});
