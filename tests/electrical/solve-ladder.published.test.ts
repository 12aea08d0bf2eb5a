import { describe, expect, test } from 'vitest';
import {
  conductorResistanceOhmPerKm,
  segmentLoopOhm,
} from '../../src-shared/electrical/conductor.ts';
import { loadPhasor } from '../../src-shared/electrical/load.ts';
import type { OracleRun } from '../oracle/oracle.ts';
import { readReference } from '../reference/read-reference.ts';
import { solveRun } from './solved-run.ts';

describe('case12da: Das, Nagi and Kothari 1994, open MATPOWER data', () => {
  const lines = readReference('case12da_lines');
  const loads = readReference('case12da_loads');
  const published = readReference('case12da_expected_voltages');
  const BASE_V = 11000;
  const solved = solveRun({
    sourceV: BASE_V,
    // loop values already: not doubled
    loopR: lines.map((row) => row.number('r_ohm')),
    loopX: lines.map((row) => row.number('x_ohm')),
    p: loads.slice(1).map((row) => row.number('Pd_kW') * 1000),
    q: loads.slice(1).map((row) => row.number('Qd_kvar') * 1000),
  });

  test('it is one unbranched feeder in order', () => {
    lines.forEach((row, k) => {
      expect([row.number('from_bus'), row.number('to_bus')]).toEqual([k + 1, k + 2]);
    });
  });

  test.each(published.slice(1).map((row, k) => [row.text('bus'), k, row] as const))(
    'bus %s: volts within 1e-8 per unit of Newton, ngspice and MATPOWER, and the angle',
    (_, k, row) => {
      const perUnit = (solved.v[k] ?? 0) / BASE_V;
      for (const column of ['Vm_pu_newton', 'Vm_pu_ngspice', 'Vm_pu_matpower_octave']) {
        expect(Math.abs(perUnit - row.number(column))).toBeLessThan(1e-8);
      }
      const angle = (Math.atan2(solved.vIm[k] ?? 0, solved.vRe[k] ?? 0) * 180) / Math.PI;
      expect(Math.abs(angle - row.number('Va_deg_newton'))).toBeLessThan(1e-6);
    },
  );
});

interface Golden {
  readonly name: string;
  readonly file: string;
  readonly run: OracleRun;
}

/** `count` equal fixtures on one conductor: lead-in, then equal spans. */
function uniform(
  sourceV: number,
  count: number,
  watts: number,
  pf: number,
  leadInM: number,
  spanM: number,
  ohmPerKm: number | null,
  reactanceOhmPerKm: number,
): OracleRun {
  const load = loadPhasor(watts, pf);
  if (load === null || ohmPerKm === null) throw new Error('the golden run has a known conductor');
  const metres = Array.from({ length: count }, (_, k) => (k === 0 ? leadInM : spanM));
  return {
    sourceV,
    loopR: metres.map((m) => segmentLoopOhm(m, ohmPerKm)),
    loopX: metres.map((m) => segmentLoopOhm(m, reactanceOhmPerKm)),
    p: metres.map(() => load.activeW),
    q: metres.map(() => load.reactiveVar),
  };
}

/** A golden run as its own file states it. */
function asFiled(file: string): OracleRun {
  const [source, ...nodes] = readReference(file);
  const column = (name: string) => nodes.map((row) => row.number(name));
  return {
    sourceV: source?.number('V_volts_newton') ?? Number.NaN,
    loopR: column('loop_R_ohm_of_segment_into_node'),
    loopX: column('loop_X_ohm_of_segment_into_node'),
    p: column('P_W'),
    q: column('Q_var'),
  };
}

const FT = 0.3048;
const G1 = 'golden_G1_100V_10x50W_R0p1';
const G2 = 'golden_G2_120V_12AWG_T8_20x48W';
const G3 = 'golden_G3_120V_12AWG_T9_20x48W';
const G4 = 'golden_G4_230V_2p5mm2_cl5_70C_40x60W';
const G6 = 'golden_G6_near_collapse_two_bus';
const G7 = 'golden_G7_case12da_scaled_230V';
const awg12 = conductorResistanceOhmPerKm({ system: 'awg', gauge: '12' });
const mm2 = conductorResistanceOhmPerKm({ system: 'mm2', areaMm2: 2.5 });
const table9 = readReference('nec_ch9_t9').find((row) => row.text('awg') === '12');
const perKm = (column: string) => (table9?.number(column) ?? Number.NaN) / FT;

const goldens: readonly Golden[] = [
  { name: 'G1: 0.1 ohm a segment', file: G1, run: asFiled(G1) },
  {
    name: 'G2: 12 AWG of the program’s own table, lead-in 100 ft, spans 4 ft',
    file: G2,
    run: uniform(120, 20, 48, 0.95, 100 * FT, 4 * FT, awg12, 0),
  },
  {
    name: 'G3: 12 AWG of NEC Ch 9 Table 9 in PVC, with reactance',
    file: G3,
    run: uniform(
      120,
      20,
      48,
      0.95,
      100 * FT,
      4 * FT,
      perKm('R_PVC_ohm_kft'),
      perKm('XL_PVC_or_Al_ohm_kft'),
    ),
  },
  {
    name: 'G4: 2.5 mm² of the program’s own table, 0.08 mohm/m, lead-in 20 m, spans 5 m',
    file: G4,
    run: uniform(230, 40, 60, 0.9, 20, 5, mm2, 0.08),
  },
  { name: 'G6: 99 % of the collapse load', file: G6, run: asFiled(G6) },
  { name: 'G7: case12da at 230 V', file: G7, run: asFiled(G7) },
];

describe.each(goldens)('golden run $name (Newton and ngspice)', ({ file, run }) => {
  const [, ...nodes] = readReference(file);
  const solved = solveRun(run);

  test('as many nodes as the file', () => {
    expect(run.p).toHaveLength(nodes.length);
    expect(nodes.length).toBeGreaterThan(0);
  });

  test('volts at every node within 1e-6 V of both, angle within 1e-6 degrees', () => {
    nodes.forEach((row, k) => {
      for (const column of ['V_volts_newton', 'V_volts_ngspice']) {
        expect(Math.abs((solved.v[k] ?? 0) - row.number(column))).toBeLessThan(1e-6);
      }
      const angle = (Math.atan2(solved.vIm[k] ?? 0, solved.vRe[k] ?? 0) * 180) / Math.PI;
      expect(Math.abs(angle - row.number('V_angle_deg'))).toBeLessThan(1e-6);
    });
  });

  test('own and through current at every node within 1e-8 A', () => {
    nodes.forEach((row, k) => {
      const through = row.number('I_segment_into_node_A');
      expect(Math.abs((solved.throughA[k] ?? 0) - through)).toBeLessThan(1e-8);
      expect(Math.abs((solved.currentA[k] ?? 0) - row.number('I_load_A'))).toBeLessThan(1e-8);
    });
  });

  test('head current, drop and loss as in golden_summary.csv', () => {
    const summary = readReference('golden_summary').find((row) => file.endsWith(row.text('case')));
    if (summary === undefined) throw new Error('no summary');
    const headA = Math.hypot(solved.headRe, solved.headIm);
    expect(Math.abs(headA - summary.number('I_first_segment_A'))).toBeLessThan(1e-6);
    const last = solved.v[nodes.length - 1] ?? 0;
    const dropPct = (100 * (run.sourceV - last)) / run.sourceV;
    expect(Math.abs(dropPct - summary.number('drop_last_pct'))).toBeLessThan(6e-6);
    const loads = run.p.reduce((sum, w) => sum + w, 0);
    const lossW = run.sourceV * solved.headRe - loads;
    expect(Math.abs(lossW - summary.number('line_loss_W'))).toBeLessThan(1e-6);
  });
});
