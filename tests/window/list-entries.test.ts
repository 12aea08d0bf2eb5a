import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  readLengths,
  readLimits,
  readMaxima,
  readModes,
  showLengths,
  showLimits,
  showMaxima,
  showModes,
} from '../../src-renderer/state/list-entries.ts';

const seed = 20260102;

describe('lists typed into one cell', () => {
  test('modes with their slots', () => {
    expect(readModes('5ch = 5, 9ch=9')).toEqual({
      ok: true,
      value: [
        { name: '5ch', footprint: 5 },
        { name: '9ch', footprint: 9 },
      ],
    });
    expect(readModes('').ok && readModes('')).toEqual({ ok: true, value: [] });
    expect(readModes('8ch')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('5ch = 5'),
    });
    expect(readModes('a = 513').ok).toBe(false);
    expect(readModes('a = 5, A = 6')).toMatchObject({ ok: false });
  });

  test('stock lengths: one unit behind the last counts for all, sorted, once each', () => {
    const read = readLengths('30, 2, 15, 8, 8 ft', 'm');
    expect(read.ok && read.value.map((m) => Number((m / 0.3048).toFixed(9)))).toEqual([
      2, 8, 15, 30,
    ]);
    expect(readLengths('2, 0 ft', 'ft').ok).toBe(false);
    expect(readLengths('2, x', 'ft').ok).toBe(false);
  });

  test('listed lengths by voltage and breaker maxima', () => {
    expect(readLimits('220 ft at 208 V, 380 ft @ 347', 'ft')).toMatchObject({
      ok: true,
      value: [{ supplyV: 208 }, { supplyV: 347 }],
    });
    expect(readLimits('220 ft', 'ft').ok).toBe(false);
    expect(readMaxima('40 at 20 A')).toEqual({ ok: true, value: [{ fixtures: 40, breakerA: 20 }] });
    expect(readMaxima('40').ok).toBe(false);
  });

  test('what is shown reads back as it was', () => {
    const name = fc.stringMatching(/^[a-z][a-z0-9]{0,6}$/);
    const modes = fc.uniqueArray(fc.record({ name, footprint: fc.integer({ min: 1, max: 512 }) }), {
      selector: (mode) => mode.name,
    });
    const maxima = fc.array(
      fc.record({
        fixtures: fc.integer({ min: 1, max: 99 }),
        breakerA: fc.integer({ min: 1, max: 63 }),
      }),
    );
    fc.assert(
      fc.property(modes, maxima, (list, most) => {
        expect(readModes(showModes(list))).toEqual({ ok: true, value: list });
        expect(readMaxima(showMaxima(most))).toEqual({ ok: true, value: most });
      }),
      { seed },
    );
    const feet = fc.uniqueArray(fc.integer({ min: 1, max: 400 }), { minLength: 1 });
    fc.assert(
      fc.property(feet, (list) => {
        const lengthsM = list.map((n) => (n * 3048) / 10000).sort((a, b) => a - b);
        expect(readLengths(showLengths(lengthsM, 'ft'), 'ft')).toEqual({
          ok: true,
          value: lengthsM,
        });
        const limits = lengthsM.map((maxLengthM, at) => ({ supplyV: 100 + at, maxLengthM }));
        expect(readLimits(showLimits(limits, 'ft'), 'ft')).toEqual({ ok: true, value: limits });
      }),
      { seed },
    );
  });
});
