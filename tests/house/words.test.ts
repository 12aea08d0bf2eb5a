/** Words that stand nowhere in what is committed. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { houseRoot } from './import-graph.ts';

const text = /\.(?:ts|tsx|mjs|md|json|css|html|py|csv)$/;

test('the word this tool never says of a design stands in no file', () => {
  const git = spawnSync('git', ['ls-files'], { cwd: houseRoot, encoding: 'utf8' });
  const files = git.stdout.split('\n').filter((f) => text.test(f) && f !== 'package-lock.json');
  expect(git.status !== 0 || files.length > 100).toBe(true);
  const word = new RegExp(['compl', 'ian(?:t|ce)'].join(''), 'i');
  const found = files.filter((file) => word.test(readFileSync(join(houseRoot, file), 'utf8')));
  expect(found).toEqual([]);
});
