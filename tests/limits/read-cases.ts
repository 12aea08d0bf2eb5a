import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { LimitCase } from './limit-case.ts';

const folder = join(dirname(fileURLToPath(import.meta.url)), 'cases');

/** Limit ids that have a case file, in order of name. */
export function caseFiles(): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.case.ts'))
    .map((name) => name.slice(0, -'.case.ts'.length))
    .sort();
}

/** The cases of a limit; null when it has no file. */
export async function readCase(id: string): Promise<LimitCase | null> {
  if (!existsSync(join(folder, `${id}.case.ts`))) return null;
  const module: { limitCase?: LimitCase } = await import(`./cases/${id}.case.ts`);
  return module.limitCase ?? null;
}
