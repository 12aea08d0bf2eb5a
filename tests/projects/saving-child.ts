/**
 * Saves one prepared project after the other until it is killed; says each one that is saved.
 * Kept free of everything but the saving, so that a kill most likely falls into it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { saveFile } from '../../src-main/projects/save-file.ts';

const [path = '', prepared = '', first = '0'] = process.argv.slice(2);
const versions = readdirSync(prepared)
  .sort()
  .map((name) => readFileSync(join(prepared, name)));
for (let version = Number(first); ; version += 1) {
  const saved = await saveFile(path, versions[version % versions.length] ?? Buffer.of());
  process.stdout.write(saved.ok ? `saved ${version}\n` : `failed ${saved.reason.what}\n`);
}
