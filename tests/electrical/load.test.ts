import { expect, test } from 'vitest';
import { loadPhasor } from '../../src-shared/electrical/load.ts';
import { readReference } from '../reference/read-reference.ts';

test('48 W at 0.95 and 60 W at 0.9 are the loads of golden runs G2 and G4', () => {
  for (const [watts, pf, golden] of [
    [48, 0.95, 'golden_G2_120V_12AWG_T8_20x48W'],
    [60, 0.9, 'golden_G4_230V_2p5mm2_cl5_70C_40x60W'],
  ] as const) {
    const load = loadPhasor(watts, pf);
    const row = readReference(golden)[1];
    expect(load?.activeW).toBe(row?.number('P_W'));
    expect(load?.reactiveVar).toBeCloseTo(row?.number('Q_var') ?? 0, 5);
  }
});

test('the 3-4-5 triangle: 80 W at 0.8 are 60 var', () => {
  expect(loadPhasor(80, 0.8)?.reactiveVar).toBeCloseTo(60, 12);
});

test('unity power factor and no watts are exact', () => {
  expect(loadPhasor(100, 1)).toEqual({ activeW: 100, reactiveVar: 0 });
  expect(loadPhasor(0, 0.9)).toEqual({ activeW: 0, reactiveVar: 0 });
});

test.each([
  [-1, 0.9],
  [Number.NaN, 0.9],
  [Infinity, 0.9],
  [50, 0],
  [50, -0.9],
  [50, 1.0000001],
  [50, 95],
  [50, Number.NaN],
  [1e300, 1e-300],
])('%d W at %d is refused', (watts, pf) => {
  expect(loadPhasor(watts, pf)).toBeNull();
});
