/** Where part of what a limit needs is missing: broken is said where it is sure, else not checked. */
import { afterAll, describe, expect, it } from 'vitest';
import type { CheckReport } from '../../src-shared/exchange/check-report.ts';
import { cleanUp, reportOf } from '../command/run-check.ts';

afterAll(cleanUp);

const has = (report: CheckReport, limit: string, severity: string) =>
  report.findings.some((f) => f.limit === limit && f.severity === severity);

describe('partly known', () => {
  it('a circuit that one solved run overloads is broken, whatever the other draws', async () => {
    const csv = (watts: number) =>
      `Tag,Run,Place,Span m,Load W,PF,Panel,Circuit,Supply V,Home run m,Breaker A\nA-1,R1,1,1,${watts},1,P,1,230,1,16\nB-1,R2,1,1,,1,P,1,230,1,16\n`;
    const over = await reportOf(csv(6000), '--conductor', '2.5mm2', '--profile', 'iec');
    expect(has(over, 'circuit-load', 'breach')).toBe(true);
    const under = await reportOf(csv(600), '--conductor', '2.5mm2', '--profile', 'iec');
    expect(has(under, 'circuit-load', 'breach')).toBe(false);
    expect(has(under, 'circuit-load', 'not-checked')).toBe(true);
  });

  it('a feeder behind a fixture without tag is not checked', async () => {
    const report = await reportOf(
      'Tag,Type,Run,Place,Fed from\nA-1,K,R1,1,BOX\n,K,R1,2,A-1\nA-3,K,R1,3,ZZ-9\n',
    );
    expect(has(report, 'broken-chain', 'not-checked')).toBe(true);
  });

  it('a value of the run that cannot be read on a later row is not checked', async () => {
    const report = await reportOf(
      'Tag,Run,Place,Span m,Load W,PF,Supply V,Home run m\nA-1,R1,1,1,20,1,230,5\nA-2,R1,2,1,20,1,xyz,qqq\n',
    );
    const marked = report.findings.filter((f) => f.limit === 'differing-values');
    expect(marked.map((f) => f.severity)).toEqual(['not-checked', 'not-checked']);
    expect(marked.flatMap((f) => f.tags)).toEqual(['A-2', 'A-2']);
  });

  it('jumpers without stock lead-ins: the lead-in is not checked', async () => {
    const csv = 'Tag,Run,Place,Span m\nA-1,R1,1,1\nA-2,R1,2,1\n';
    const report = await reportOf(csv, '--jumpers', '1m,2m');
    const found = report.findings.filter((f) => f.limit === 'no-stock-pieces');
    expect(found.map((f) => [f.severity, f.tags])).toEqual([['not-checked', ['A-1']]]);
  });

  it('0 W is used as it stands and watched', async () => {
    const csv = 'Tag,Run,Place,Span m,Load W,PF,Supply V,Home run m\nA-1,R1,1,1,0,1,230,5\n';
    const report = await reportOf(csv, '--conductor', '2.5mm2');
    expect(report.fixtures[0]?.loadW).toBe(0);
    expect(has(report, 'unlikely-value', 'watch')).toBe(true);
  });
});
