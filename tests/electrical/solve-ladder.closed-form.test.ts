import { describe, expect, test } from 'vitest';
import {
  conductorResistanceOhmPerKm,
  segmentLoopOhm,
} from '../../src-shared/electrical/conductor.ts';
import { readReference } from '../reference/read-reference.ts';
import { type SolvedRun, solveRun } from './solved-run.ts';

const FT = 0.3048;

const twoBus = (sourceV: number, r: number, x: number, p: number, q: number): SolvedRun =>
  solveRun({ sourceV, loopR: [r], loopX: [x], p: [p], q: [q] });

describe('one load, closed forms (closed_form_checks.csv)', () => {
  const answers = new Map(
    readReference('closed_form_checks').map((row) => [row.text('id'), row.text('answer')]),
  );
  const answer = (id: string) => Number.parseFloat(answers.get(id) ?? '');

  test('CF1: unity power factor, no reactance', () => {
    expect(twoBus(120, 2, 0, 600, 0).v[0]).toBeCloseTo(answer('CF1'), 9);
  });

  test('CF2: at the collapse load Vs²/4R the volts are half the supply', () => {
    expect(answer('CF2')).toBe(1800);
    const solved = twoBus(120, 2, 0, 1800, 0);
    expect(solved.state).toBe('solved');
    // a double root: half the digits are all there can be
    expect(Math.abs((solved.v[0] ?? 0) - 60)).toBeLessThan(60 * 1e-7);
  });

  test('CF3: beyond the collapse load there is no operating point', () => {
    expect(answers.get('CF3')).toBe('no real root');
    expect(twoBus(120, 2, 0, 1800.01, 0).state).toBe('no-operating-point');
  });

  test('CF4: with reactance and lagging power factor', () => {
    expect(twoBus(230, 0.5, 0.2, 1500, 900).v[0]).toBeCloseTo(answer('CF4'), 9);
  });

  test('V⁴ + (2(RP+XQ) − Vs²)V² + |Z|²|S|² = 0 over five decades of load, up to collapse', () => {
    // the two-bus equation, from |Vs|² = |V + Z·conj(S/V)|²; its upper root
    for (const [r, x, p, q] of [
      [1, 0, 1, 0],
      [1, 0.5, 0.9, 0.4],
      [0.1, 2, 0.5, 0.8],
      [0, 1, 1, 0],
      [1, 0, 0, 1],
    ] as const) {
      const m = r * p + x * q;
      const zs = Math.hypot(r, x) * Math.hypot(p, q);
      const collapse = 120 ** 2 / (2 * (m + zs)); // A² = 4B
      for (const part of [1e-5, 1e-3, 0.1, 0.5, 0.9, 0.99, 0.999999]) {
        const load = part * collapse;
        const a = 120 ** 2 - 2 * m * load;
        // A² − 4B = Vs⁴·(1 − part)·(…), kept in factors so that nothing cancels
        const root = 120 ** 2 * (1 - part) * (120 ** 2 + 2 * (zs - m) * load);
        const v = Math.sqrt((a + Math.sqrt(root)) / 2);
        const solved = twoBus(120, r, x, p * load, q * load);
        expect(solved.state).toBe('solved');
        // near collapse an error in the load of one bit moves the root by 1/√(1 − part) bits
        expect(Math.abs((solved.v[0] ?? 0) / v - 1)).toBeLessThan(1e-14 / Math.sqrt(1 - part));
      }
      for (const part of [1.000001, 1.01, 2, 1e6]) {
        const load = part * collapse;
        expect(twoBus(120, r, x, p * load, q * load).state).toBe('no-operating-point');
      }
    }
  });
});

describe('printed examples (worked_examples.csv, sources there)', () => {
  test('the answers quoted below are those of the file', () => {
    const file = new Map(
      readReference('worked_examples').map((row) => [row.text('id'), row.text('published_answer')]),
    );
    for (const [id, quoted] of [
      ['WE01', '295.0, 291.0, 288.0, 287.6 V'],
      ['WE02', '245.35, 240.74, 239.42 V'],
      ['WE07', 'V_M=217.08 V'],
      ['WE08', '476 V, 460 V'],
      ['WE09', '5823.35 V/ph = 10.086 kV, I=71.55 A, eff 92.87 %'],
      ['WE21', '4.0 V; 16.7 % of 24 V (3.992 V exactly)'],
      ['WE24', '25 A; 4.4 V; 1.83 %'],
    ] as const) {
      expect(file.get(id)).toContain(quoted);
    }
  });

  test('WE09: 11 kV three-phase line per phase, 1000 kW at 0.8 lagging', () => {
    const solved = twoBus(11000 / Math.sqrt(3), 5, 5.6, 1e6 / 3, 250000);
    const amps = solved.currentA[0] ?? 0;
    expect(solved.v[0]).toBeCloseTo(5823.35, 2);
    expect(((solved.v[0] ?? 0) * Math.sqrt(3)) / 1000).toBeCloseTo(10.086, 3);
    expect(amps).toBeCloseTo(71.55, 2);
    expect((1e6 / (1e6 + 3 * amps ** 2 * 5)) * 100).toBeCloseTo(92.87, 2);
  });

  // The next ones print loads as amps. The watts those amps are at the printed volts must give the
  // printed volts and amps back.

  test('WE01: 300 V two-wire distributor, 0.02 ohm/km loop', () => {
    const volts = [295, 291, 288, 287.6];
    const amps = [100, 150, 200, 50];
    const solved = solveRun({
      sourceV: 300,
      loopR: [500, 500, 600, 400].map((m) => (m * 0.02) / 1000),
      loopX: [0, 0, 0, 0],
      p: amps.map((a, k) => a * (volts[k] ?? 0)),
      q: [0, 0, 0, 0],
    });
    for (const [k, v] of volts.entries()) expect(solved.v[k]).toBeCloseTo(v, 9);
    for (const [k, a] of [500, 400, 250, 50].entries())
      expect(solved.throughA[k]).toBeCloseTo(a, 9);
    for (const [k, a] of [100, 250, 450, 500].entries())
      expect(solved.cumulativeA[k]).toBeCloseTo(a, 9);
  });

  test('WE02: 250 V, 0.27 cm² at 1.78e-6 ohm·cm', () => {
    const volts = [245.35, 240.74, 239.42];
    const amps = [12, 15, 20];
    const solved = solveRun({
      sourceV: 250,
      loopR: [75, 100, 50].map((m) => (2 * m * 100 * 1.78e-6) / 0.27),
      loopX: [0, 0, 0],
      p: amps.map((a, k) => a * (volts[k] ?? 0)),
      q: [0, 0, 0],
    });
    for (const [k, v] of volts.entries())
      expect(Math.abs((solved.v[k] ?? 0) - v)).toBeLessThan(0.01);
    for (const [k, a] of [47, 35, 20].entries()) expect(solved.throughA[k]).toBeCloseTo(a, 2);
  });

  test('WE07: two halves of 0.1 + j0.15 ohm, power factors against the local volts', () => {
    const solved = solveRun({
      sourceV: Math.hypot(251.97, 13.5),
      loopR: [0.1, 0.1],
      loopX: [0.15, 0.15],
      p: [217.08 * 100 * 0.6, 200 * 100 * 0.8],
      q: [217.08 * 100 * 0.8, 200 * 100 * 0.6],
    });
    expect(Math.abs((solved.v[0] ?? 0) - 217.08)).toBeLessThan(0.015);
    expect(Math.abs((solved.v[1] ?? 0) - 200)).toBeLessThan(0.02);
    // V_M leads V_B by 1.58°
    const angle = (k: number) =>
      (Math.atan2(solved.vIm[k] ?? 0, solved.vRe[k] ?? 0) * 180) / Math.PI;
    expect(angle(0) - angle(1)).toBeCloseTo(1.58, 2);
    expect(solved.currentA[0]).toBeCloseTo(100, 1);
  });

  test('WE08: 500 V, 100 A at 2 km and 200 A at 4 km of 0.04 ohm/km loop', () => {
    const solved = solveRun({
      sourceV: 500,
      loopR: [0.08, 0.08],
      loopX: [0, 0],
      p: [476 * 100, 460 * 200],
      q: [0, 0],
    });
    expect(solved.v[0]).toBeCloseTo(476, 10);
    expect(solved.v[1]).toBeCloseTo(460, 10);
    expect(solved.throughA[0]).toBeCloseTo(300, 10);
  });

  test('WE21: 100 ft of 16 AWG at 4 A from 24 V drop 3.992 V', () => {
    const ohmPerKm = conductorResistanceOhmPerKm({ system: 'awg', gauge: '16' }) ?? 0;
    const solved = twoBus(24, segmentLoopOhm(100 * FT, ohmPerKm), 0, 4 * (24 - 3.992), 0);
    expect(24 - (solved.v[0] ?? 0)).toBeCloseTo(3.992, 9);
    expect(solved.currentA[0]).toBeCloseTo(4, 9);
    // prints 16.7 % from the rounded 4.0 V
    expect(((24 - (solved.v[0] ?? 0)) / 24) * 100).toBeCloseTo(16.63, 2);
  });

  test('WE24: 240 V, 25 A over 16 m at 11 mV/A/m drop 4.4 V, 1.83 %', () => {
    const solved = twoBus(240, 16 * 0.011, 0, 25 * (240 - 4.4), 0);
    expect(240 - (solved.v[0] ?? 0)).toBeCloseTo(4.4, 9);
    expect(solved.currentA[0]).toBeCloseTo(25, 9);
    expect(((240 - (solved.v[0] ?? 0)) / 240) * 100).toBeCloseTo(1.83, 2);
    // 11 mV/A/m = 2 × 4.61 × 1.1965 (IEC 60228 class 2, 70 °C), rounded as printed
    const row = readReference('iec60228').find((r) => r.text('mm2') === '4');
    const loop = segmentLoopOhm(1, (row?.number('class1_2_plain_max_ohm_km_20C') ?? 0) * 1.1965);
    expect(loop * 1000).toBeCloseTo(11, 1);
  });
});
