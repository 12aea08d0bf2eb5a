import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { isAlive } from './temporary-file.ts';

function linuxStart(pid: number): string | null {
  try {
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // Field 22 is the start time; the name in field 2 may hold blanks and brackets (proc(5)).
    const start = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
    return start === undefined ? null : `${boot} ${start}`;
  } catch {
    return null;
  }
}

/**
 * Eight hex digits that tell a running process from a later one with the same number; null when no
 * such process runs. Where the system does not tell start times, only the number counts.
 */
export function processMark(pid: number): string | null {
  if (!isAlive(pid)) return null;
  const start = process.platform === 'linux' ? linuxStart(pid) : null;
  return createHash('sha256')
    .update(start ?? 'running')
    .digest('hex')
    .slice(0, 8);
}
