/** Runs the check command in this process, in a folder of its own. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { runCheck } from '../../src-main/command/check.ts';
import { writeOut } from '../../src-main/command/write-out.ts';
import { readSourceFile } from '../../src-main/workbook/read-file.ts';
import type { CheckReport } from '../../src-shared/exchange/check-report.ts';

export interface CheckRun {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
  readonly folder: string;
}

const folders: string[] = [];

/** A scratch folder with these files; gone with `cleanUp`. */
export function scratch(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'runledger-check-'));
  folders.push(folder);
  for (const [name, content] of Object.entries(files))
    writeFileSync(path.join(folder, name), content);
  return folder;
}

export function cleanUp(): void {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
}

export async function check(folder: string, ...words: readonly string[]): Promise<CheckRun> {
  let stdout = '';
  let stderr = '';
  const code = await runCheck(words, {
    cwd: folder,
    stdout: (text) => {
      stdout += text;
    },
    stderr: (text) => {
      stderr += text;
    },
    readSource: async (bytes, fileName) => readSourceFile(bytes, fileName),
    writeWorkbook: writeOut,
  });
  return { code, stdout, stderr, folder };
}

/** The report of a csv schedule. Throws when the command refuses it. */
export async function reportOf(csv: string, ...words: readonly string[]): Promise<CheckReport> {
  const run = await check(scratch({ 'job.csv': csv }), 'job.csv', '--json', '-', ...words);
  if (run.code > 1) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as CheckReport;
}

export function readJson(folder: string, name: string): CheckReport {
  return JSON.parse(readFileSync(path.join(folder, name), 'utf8')) as CheckReport;
}
