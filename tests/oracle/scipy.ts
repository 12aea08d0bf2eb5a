import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { findPythonWith } from '../house/need.ts';
import type { Oracle, OracleRun } from './oracle.ts';

/**
 * Solves runs with scipy's `fsolve` on the nodal equations, all in one process. null when there is
 * no Python with scipy; a run's own answer is null when fsolve found none. Every segment needs an
 * impedance above 0.
 */
export function solveByScipy(runs: readonly OracleRun[]): (Oracle | null)[] | null {
  const python = findPythonWith('scipy.optimize');
  if (python === null) return null;
  const script = fileURLToPath(new URL('./nodal.py', import.meta.url));
  const { status, stdout, stderr, error } = spawnSync(python, [script], {
    input: JSON.stringify(runs),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    timeout: 120_000,
    env: { ...process.env, OMP_NUM_THREADS: '1', PYTHONDONTWRITEBYTECODE: '1' },
  });
  if (error !== undefined) throw error;
  if (status !== 0) throw new Error(`nodal.py: ${stderr.slice(-400)}`);
  return JSON.parse(stdout) as (Oracle | null)[];
}
