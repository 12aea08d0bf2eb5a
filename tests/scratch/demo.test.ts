import { readFileSync } from 'node:fs';
import { it } from 'vitest';
import { blankCircuit, blankFixture, blankLine, blankProject, blankRun, blankSupply, blankType } from '../../src-shared/document/blank.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { checkReport } from '../../src-shared/exchange/check-report.ts';
import { parse } from 'csv-parse/sync';

it('demo', () => {
  const rows = parse(readFileSync('tests/files/demo/rows.csv'), { columns: true }) as Record<string, string>[];
  const ft = 0.3048;
  const T = (name: string, w: number, pf: number, a: number, b: number, modes: [string, number][], ul: number, mA: number) => ({ ...blankType(name), loadW: w, powerFactor: pf, absoluteMinV: a, absoluteMaxV: b, modes: modes.map(([name, footprint]) => ({ name, footprint })), unitLoad: ul, leakageMa: mA });
  const runs = new Map<string, ReturnType<typeof blankRun>>();
  const circuits = new Map<string, ReturnType<typeof blankCircuit>>();
  for (const r of rows) {
    const key = `${r.Panel} ${r.Circuit}`;
    if (!circuits.has(key)) circuits.set(key, { ...blankCircuit(key), panel: r.Panel!, name: r.Circuit!, breakerA: 20, protection: r.Protection || null });
    if (!runs.has(r.Run!)) runs.set(r.Run!, { ...blankRun(r.Run!, key), supplyV: Number(r['Supply V']), homeRunM: Number(r['Home run ft']) * ft, leadInM: Number(r['Lead-in ft']) * ft });
  }
  const p = blankProject('demo');
  const project = {
    ...p,
    settings: { ...p.settings, defaultLine: 'H12', branchDropBinding: true, homeRunConductor: '12 AWG' },
    types: [T('RB1', 87, 0.95, 90, 305, [['5ch', 5], ['9ch', 9]], 1, 0.5), T('RC2', 70, 0.92, 312, 528, [['5ch', 5], ['9ch', 9]], 0.5, 0.6), T('RT3', 280, 0.95, 108, 305, [['4ch', 4]], 1, 0.7), T('RP4', 32, 0.93, 90, 305, [['4ch', 4]], 0.25, 0.45)],
    lines: [{ ...blankLine('H12'), conductor: '12 AWG', resistanceOhmPerKm: 1.98 / 0.3048, reactanceOhmPerKm: 0, ratingA: 10, maxUpstreamBreakerA: 20, lengthLimits: [{ supplyV: 208, maxLengthM: 220 * ft }, { supplyV: 347, maxLengthM: 380 * ft }], jumperLengthsM: [2, 8, 15, 30].map((x) => x * ft), leadInLengthsM: [8, 30, 60].map((x) => x * ft) }],
    supplies: [{ ...blankSupply('LP-R'), lineToLineV: 208, lineToNeutralV: 120 }, { ...blankSupply('LP-S'), lineToLineV: 600, lineToNeutralV: 347 }],
    circuits: [...circuits.values()],
    runs: [...runs.values()],
    fixtures: rows.map((r, i) => ({ ...blankFixture(`f${i}`), tag: r.Tag!, type: r.Type!, run: r.Run!, place: Number(r.Place), fedFrom: r['Fed from']!, spanM: r['Span ft'] ? Number(r['Span ft']) * ft : null, universe: Number(r.Universe), address: Number(r.Start), mode: r.Mode!, shareSet: r['Share set'] || null })),
  };
  const t0 = performance.now();
  const session = new EngineSession(project);
  const t1 = performance.now();
  const report = checkReport(session, 'x');
  console.log(t1 - t0, performance.now() - t1);
  console.log(report.counts);
  for (const r of report.runs) console.log(r.id, r.headCurrentLowSupplyA?.toFixed(4), r.headCurrentA?.toFixed(4), session.runs.get(r.id)?.high?.headA.toFixed(4), r.lastVoltageV?.toFixed(3), r.worstDropPct?.toFixed(3), r.installedM! / ft, r.drawnM! / ft);
  for (const f of report.findings) console.log(f.severity, f.id, f.tags.length, f.value, f.allowed, '\n   ', f.message, '\n   ', f.remedies.join('\n    '));
  console.log(report.takeoff);
});
