/**
 * `npm test`: prepares, checks types and style, builds, runs every test, and lists what was skipped
 * by name. On CI any skip but the real desktop window fails the run.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { prepareOutsidePrograms } from './outside-programs.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
/** The only test that may be skipped on CI: it needs the desktop shell's binary. */
const maySkip = /needs the Electron binary/;

/** @param {string} title @param {string} script @param {readonly string[]} words */
function step(title, script, words) {
  console.error(`\n— ${title}`);
  const { status } = spawnSync(process.execPath, [script, ...words], {
    cwd: root,
    stdio: 'inherit',
  });
  return status === 0;
}

/** @param {string} file */
function readReport(file) {
  if (!existsSync(file)) {
    console.log('\nThe test runner left no report: see above.');
    return { passed: 0, failed: 1, skipped: /** @type {string[]} */ ([]) };
  }
  /** @type {{testResults: {name: string, message: string, status: string, assertionResults: {status: string, fullName: string}[]}[]}} */
  const report = JSON.parse(readFileSync(file, 'utf8'));
  const tests = report.testResults.flatMap((f) => f.assertionResults);
  const brokenFiles = report.testResults.filter(
    (f) => f.status === 'failed' && f.assertionResults.length === 0,
  );
  const skipped = tests
    .filter((t) => t.status !== 'passed' && t.status !== 'failed')
    .map((t) => t.fullName);
  return {
    passed: tests.filter((t) => t.status === 'passed').length,
    failed: tests.filter((t) => t.status === 'failed').length + brokenFiles.length,
    skipped,
  };
}

const missing = await prepareOutsidePrograms();
if (missing.length > 0)
  console.error(
    `Not to be had here: ${missing.join(', ')}. Tests that need them are skipped by name.`,
  );

const tsc = path.join(root, 'node_modules/typescript/bin/tsc');
const biome = path.join(root, 'node_modules/@biomejs/biome/bin/biome');
const vitest = path.join(root, 'node_modules/vitest/vitest.mjs');
let checks = true;
for (const part of ['src-shared', 'src-main', 'src-renderer', 'tests']) {
  checks = step(`types of ${part}`, tsc, ['-p', part]) && checks;
}
checks = step('format and lint', biome, ['check', '--diagnostic-level=warn']) && checks;
checks = step('build', 'src-main/start/ensure-built.mjs', []) && checks;

const scratch = mkdtempSync(path.join(tmpdir(), 'runledger-tests-'));
const report = path.join(scratch, 'report.json');
step('tests', vitest, [
  'run',
  '--config',
  'tests/vitest.config.ts',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
  ...process.argv.slice(2),
]);
const { passed, failed, skipped } = readReport(report);
rmSync(scratch, { recursive: true, force: true });

const wrongSkips = process.env.CI === 'true' ? skipped.filter((name) => !maySkip.test(name)) : [];
if (skipped.length > 0) console.log(`\nSkipped:\n${skipped.map((name) => `  ${name}`).join('\n')}`);
if (wrongSkips.length > 0)
  console.log(
    `\nOn CI these must not be skipped:\n${wrongSkips.map((name) => `  ${name}`).join('\n')}`,
  );
if (!checks) console.log('\nTypes, style or build failed: see above.');
console.log(`\n${passed} passed, ${failed} failed, ${skipped.length} skipped`);
process.exitCode = passed > 0 && failed === 0 && checks && wrongSkips.length === 0 ? 0 : 1;
