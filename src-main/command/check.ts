/** The check command: the engine without a window. */
import path from 'node:path';
import type { Project } from '../../src-shared/document/project.ts';
import { checkReport } from '../../src-shared/exchange/check-report.ts';
import { fillBlanks } from '../../src-shared/exchange/fill-blanks.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { type CheckOptions, parseCheckWords } from './check-options.ts';
import { type ReadSource, readInput, type SourceBytes } from './read-input.ts';
import { reportText } from './report-text.ts';
import { type OutputFile, whyNotThere, writeAll } from './write-outputs.ts';

export interface WrittenWorkbook {
  readonly bytes: Uint8Array;
  /** What could not be written where it belongs, a sentence each. */
  readonly remarks: readonly string[];
}

export interface CommandIo {
  /** Where the user stood. */
  readonly cwd: string;
  readonly stdout: (text: string) => void;
  readonly stderr: (text: string) => void;
  readonly readSource: ReadSource;
  /**
   * Makes the marked-up schedule: the workbook the job came from with our marks in it, else a new one.
   * Handed in so that the check alone need not load it.
   */
  readonly writeWorkbook: (
    project: Project,
    workbook: SourceBytes | null,
  ) => Promise<WrittenWorkbook>;
}

function outputsOf(options: CheckOptions, cwd: string): OutputFile[] {
  const outputs: OutputFile[] = [];
  const { json, out } = options;
  if (json !== null && json !== '-') {
    outputs.push({
      option: '--json',
      written: json,
      file: path.resolve(cwd, json),
      mayReplace: true,
    });
  }
  if (out !== null) {
    outputs.push({
      option: '--out',
      written: out,
      file: path.resolve(cwd, out),
      mayReplace: options.force,
    });
  }
  return outputs;
}

/** Runs `check` and gives the exit code: 0, 1, 2, 3, 4. Throws only on a fault of ours. */
export async function runCheck(argv: readonly string[], io: CommandIo): Promise<number> {
  const fail = (code: number, message: string): number => {
    io.stderr(`${message}\n`);
    return code;
  };
  const words = parseCheckWords(argv);
  if (!words.ok) return fail(2, words.message);
  const { options } = words;
  const outputs = outputsOf(options, io.cwd);
  const [first, second] = outputs;
  if (first !== undefined && second !== undefined && first.file === second.file) {
    return fail(2, `--out ${second.written}: --json names the same file. Give another name.`);
  }
  const input = await readInput(options, io.cwd, io.readSource);
  if (!input.ok) return fail(input.exit, input.message);
  const inputFile = path.resolve(io.cwd, options.input);
  for (const output of outputs) {
    const why = await whyNotThere(output, inputFile);
    if (why !== null) return fail(4, why);
  }
  const project = fillBlanks(input.project, options.fill, options.fillFrom);
  const report = checkReport(new EngineSession(project), path.basename(inputFile));
  const json = `${JSON.stringify(report, null, 1)}\n`;
  const written: { output: OutputFile; content: Uint8Array | string }[] = [];
  for (const output of outputs) {
    if (output.option === '--json') written.push({ output, content: json });
    else {
      const { bytes, remarks } = await io.writeWorkbook(project, input.workbook);
      for (const remark of remarks) io.stderr(`--out ${output.written}: ${remark}\n`);
      written.push({ output, content: bytes });
    }
  }
  const failed = await writeAll(written);
  if (failed !== null) return fail(4, failed);
  if (options.json === '-') io.stdout(json);
  else if (options.json === null) {
    const sheets = project.source?.sheets.map(({ sheet }) => sheet) ?? [];
    io.stdout(reportText(report, sheets));
  }
  return report.counts.stop + report.counts.breach > 0 ? 1 : 0;
}
