import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

/**
 * Programs from outside that some tests need. Where one is missing its tests are skipped by name:
 *
 *     const ngspice = findProgram('ngspice');
 *     describe.skipIf(!ngspice)('needs ngspice: …', () => { … });
 */

/** Full path of a program on the search path, or null. */
export function findProgram(name: string): string | null {
  const names = process.platform === 'win32' ? [`${name}.exe`, name] : [name];
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    for (const candidate of names.map((file) => join(folder, file))) {
      if (folder !== '' && isExecutable(candidate)) return candidate;
    }
  }
  return null;
}

/**
 * A Python that can import `module`, or null. A machine may have several and only one of them the
 * module, so each is asked.
 */
export function findPythonWith(module: string): string | null {
  const known = pythons.get(module);
  if (known !== undefined) return known;
  const onPath = ['python3', 'python'].map(findProgram);
  const usual = ['/usr/bin/python3', '/usr/local/bin/python3', '/opt/homebrew/bin/python3'];
  const candidates = new Set([...usual.filter(isExecutable), ...onPath.filter((p) => p !== null)]);
  const imports = ['-c', `import ${module}`];
  const found =
    [...candidates].find(
      (python) => spawnSync(python, imports, { stdio: 'ignore', timeout: 60_000 }).status === 0,
    ) ?? null;
  pythons.set(module, found);
  return found;
}

const pythons = new Map<string, string | null>();

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
