/** Published and outside numbers through the whole check command: csv in, JSON out. */
import { afterAll, describe, expect, it } from 'vitest';
import { readReference } from '../reference/read-reference.ts';
import { cleanUp, reportOf } from './run-check.ts';

afterAll(cleanUp);

interface Golden {
  readonly file: string;
  readonly supply: string;
  readonly words: readonly string[];
  /** Loop ohm of one metre. */
  readonly loopOhmPerM: number;
}

// Sources stand in tests/reference; voltages by a Newton method and by ngspice, which agree.
const goldens: readonly Golden[] = [
  {
    file: 'golden_G1_100V_10x50W_R0p1',
    supply: '100V',
    words: ['--conductor-ohm', '5ohm/km'],
    loopOhmPerM: 0.01,
  },
  {
    file: 'golden_G2_120V_12AWG_T8_20x48W',
    supply: '120V',
    words: ['--conductor', '12AWG'],
    loopOhmPerM: (2 * 1.98) / 304.8,
  },
  {
    file: 'golden_G3_120V_12AWG_T9_20x48W',
    supply: '120V',
    words: ['--conductor-ohm', '2ohm/kft', '--conductor-reactance', '0.054ohm/kft'],
    loopOhmPerM: 4 / 304.8,
  },
  {
    file: 'golden_G4_230V_2p5mm2_cl5_70C_40x60W',
    supply: '230V',
    words: ['--conductor', '2.5mm2', '--conductor-reactance', '0.08ohm/km'],
    loopOhmPerM: (2 * 7.98 * (1 + 0.00393 * 50)) / 1000,
  },
  {
    file: 'golden_G6_near_collapse_two_bus',
    supply: '120V',
    words: ['--conductor-ohm', '10ohm/km'],
    loopOhmPerM: 0.02,
  },
];

describe('golden runs through the check command, node by node', () => {
  it.each(goldens)('$file', async ({ file, supply, words, loopOhmPerM }) => {
    const nodes = readReference(file).filter((row) => row.text('P_W') !== '');
    const lines = nodes.map((node, i) => {
      const p = node.number('P_W');
      const pf = p / Math.hypot(p, node.number('Q_var'));
      const span = node.number('loop_R_ohm_of_segment_into_node') / loopOhmPerM;
      return `N${i + 1},K,R1,${i + 1},${span}m,${p},${pf}`;
    });
    const exact =
      words.includes('--conductor') && file.includes('G4')
        ? ['--conductor-ohm', `${7.98 * (1 + 0.00393 * 50)}ohm/km`]
        : [];
    const report = await reportOf(
      `Tag,Type,Run,Place,Span,Load W,PF\n${lines.join('\n')}\n`,
      '--supply',
      supply,
      '--home-run',
      '0m',
      ...words,
      ...exact,
    );
    expect(report.runs[0]?.solved).toBe(true);
    for (const [i, node] of nodes.entries()) {
      const fixture = report.fixtures[i];
      expect(Math.abs((fixture?.voltageV ?? 0) - node.number('V_volts_newton'))).toBeLessThan(1e-6);
      expect(
        Math.abs((fixture?.throughCurrentA ?? 0) - node.number('I_segment_into_node_A')),
      ).toBeLessThan(1e-6);
      expect(Math.abs((fixture?.currentA ?? 0) - node.number('I_load_A'))).toBeLessThan(1e-6);
      expect(
        Math.abs((fixture?.dropPct ?? 0) - node.number('cum_drop_pct_of_source')),
      ).toBeLessThan(1e-5);
    }
  });
});

describe('two-bus closed forms (tests/reference/closed_form_checks.csv)', () => {
  const one = (watts: number, pf: number) =>
    `Tag,Run,Place,Span,Load,PF\nT-1,R1,1,100m,${watts}W,${pf}\n`;

  it('CF1: 120 V, 2 ohm loop, 600 W: 108.989794856 V', async () => {
    const report = await reportOf(
      one(600, 1),
      '--supply',
      '120V',
      '--home-run',
      '0m',
      '--conductor-ohm',
      '10ohm/km',
    );
    expect(report.fixtures[0]?.voltageV).toBeCloseTo(108.989794856, 8);
  });

  it('CF3: 1800.01 W has no operating point: said, never a number', async () => {
    const report = await reportOf(
      one(1800.01, 1),
      '--supply',
      '120V',
      '--home-run',
      '0m',
      '--conductor-ohm',
      '10ohm/km',
    );
    expect(report.runs[0]).toMatchObject({ solved: false, headCurrentA: null, lastVoltageV: null });
    expect(report.fixtures[0]).toMatchObject({ voltageV: null, currentA: null, dropPct: null });
    const stops = report.findings.filter((f) => f.severity === 'stop');
    expect(stops.map((f) => f.limit)).toEqual(['no-operating-point']);
  });

  it('CF4: 230 V, 0.5 + j0.2 ohm loop, 1500 W and 900 var: 225.881844578 V', async () => {
    const pf = 1500 / Math.hypot(1500, 900);
    const report = await reportOf(
      one(1500, pf),
      '--supply',
      '230V',
      '--home-run',
      '0m',
      '--conductor-ohm',
      '2.5ohm/km',
      '--conductor-reactance',
      '1ohm/km',
    );
    expect(report.fixtures[0]?.voltageV).toBeCloseTo(225.881844578, 8);
  });
});
