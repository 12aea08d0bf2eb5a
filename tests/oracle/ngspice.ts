import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findProgram } from '../house/need.ts';
import { type Oracle, type OracleRun, residualV } from './oracle.ts';

/**
 * Solves a run with ngspice, a general circuit simulator: operating point of two coupled real
 * networks (real and imaginary parts), loads as current sources conj(S/V). One process a run.
 *
 * null when ngspice is not there. Throws when its answer is not an operating point of the upper
 * branch: past collapse it prints a low-voltage answer without a word. Every segment needs R > 0.
 */
export function solveByNgspice(run: OracleRun): Oracle | null {
  const program = findProgram('ngspice');
  if (program === null) return null;
  const folder = mkdtempSync(join(tmpdir(), 'runledger-ngspice-'));
  try {
    const deck = join(folder, 'run.cir');
    writeFileSync(deck, deckOf(run));
    const { stdout, stderr, error } = spawnSync(program, ['-n', '-b', deck], {
      encoding: 'utf8',
      timeout: 60_000,
    });
    if (error !== undefined) throw error;
    return checked(run, read(run, stdout, stderr));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function deckOf(run: OracleRun): string {
  const places = run.p.map((_, index) => index + 1);
  const lines = [
    'one unbranched run',
    '.options reltol=1e-9 vntol=1e-12 abstol=1e-15 gmin=1e-18 itl1=1000',
    `VSR r0 0 ${run.sourceV}`,
    'VSI i0 0 0',
  ];
  for (const k of places) {
    const [r, x, p, q] = [run.loopR, run.loopX, run.p, run.q].map((list) => list[k - 1] ?? 0);
    const square = `max(v(r${k})*v(r${k})+v(i${k})*v(i${k}),1)`;
    lines.push(
      `VMR${k} r${k - 1} ra${k} 0`,
      `RR${k} ra${k} rb${k} ${r}`,
      `HR${k} rb${k} r${k} VMI${k} ${-(x ?? 0)}`,
      `VMI${k} i${k - 1} ia${k} 0`,
      `RI${k} ia${k} ib${k} ${r}`,
      `HI${k} ib${k} i${k} VMR${k} ${x}`,
      `BR${k} r${k} 0 I=(${p}*v(r${k})+${q}*v(i${k}))/${square}`,
      `BI${k} i${k} 0 I=(${p}*v(i${k})-${q}*v(r${k}))/${square}`,
      // without these it starts from 0 V and may settle on nonsense
      `.nodeset v(r${k})=${run.sourceV} v(i${k})=0`,
    );
  }
  lines.push('.control', 'set numdgt=15', 'op');
  for (const k of places) lines.push(`print v(r${k}) v(i${k})`);
  return [...lines, 'quit', '.endc', '.end', ''].join('\n');
}

function read(run: OracleRun, stdout: string, stderr: string): Oracle {
  const values = new Map<string, number>();
  for (const [, node, value] of stdout.matchAll(/^v\(([ri]\d+)\) = (\S+)/gm)) {
    values.set(node ?? '', Number(value));
  }
  const part = (letter: string) =>
    run.p.map((_, index) => {
      const value = values.get(`${letter}${index + 1}`);
      if (value === undefined) throw new Error(`ngspice gave no answer: ${stderr.slice(0, 400)}`);
      return value;
    });
  return { vRe: part('r'), vIm: part('i') };
}

function checked(run: OracleRun, answer: Oracle): Oracle {
  const residual = residualV(run, answer);
  if (!(residual < 1e-7 * run.sourceV)) throw new Error(`ngspice misses by ${residual} V`);
  const low = answer.vRe.some((re, k) => Math.hypot(re, answer.vIm[k] ?? 0) <= 0.5 * run.sourceV);
  if (low) throw new Error('ngspice settled at or under half the supply');
  return answer;
}
