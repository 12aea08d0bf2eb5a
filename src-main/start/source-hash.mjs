import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

/** What the built program is made of, from the top of the project. */
const SOURCE_FOLDERS = ['src-main', 'src-renderer', 'src-shared'];
const SOURCE_FILES = [
  'electron.vite.config.ts',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
];

/**
 * Sixteen hex digits that change with any source file, its name, the lock file or the version of
 * Node's major line.
 * @param {string} root top folder of the project
 */
export function sourceHash(root) {
  const paths = [...SOURCE_FILES];
  for (const folder of SOURCE_FOLDERS) {
    for (const entry of readdirSync(join(root, folder), { recursive: true, withFileTypes: true })) {
      if (entry.isFile()) paths.push(relative(root, join(entry.parentPath, entry.name)));
    }
  }
  const hash = createHash('sha256').update(process.version.split('.')[0] ?? '');
  for (const path of paths.map((name) => name.split(sep).join('/')).sort()) {
    const bytes = readFileSync(join(root, path));
    hash.update(`\0${path}\0${bytes.length}\0`).update(bytes);
  }
  return hash.digest('hex').slice(0, 16);
}
