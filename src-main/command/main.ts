/** Entry of the command line: `runledger check …`, also `npm run check -- …`. */
import { readSourceFileInWorker } from '../workbook/read-in-worker.ts';
import { runCheck } from './check.ts';

const usage = 'Write: runledger check INPUT [options]; the options stand in README.md.';

function write(stream: NodeJS.WriteStream, text: string): void {
  stream.write(text);
}

async function main(argv: readonly string[]): Promise<number> {
  const [command, ...words] = argv;
  if (command !== 'check') {
    write(process.stderr, `${command ?? 'runledger'}: no such command. ${usage}\n`);
    return 2;
  }
  return runCheck(words, {
    cwd: process.env.INIT_CWD ?? process.cwd(),
    stdout: (text) => write(process.stdout, text),
    stderr: (text) => write(process.stderr, text),
    readSource: (bytes, fileName) => readSourceFileInWorker(bytes, fileName),
    writeWorkbook: async (project, workbook) => {
      const { writeOut } = await import('./write-out.ts');
      return writeOut(project, workbook);
    },
  });
}

// A reader that stops early (a pager, head) is no fault.
process.stdout.on('error', (problem: NodeJS.ErrnoException) => {
  if (problem.code === 'EPIPE') process.exit(0);
  const why = problem.code === 'ENOSPC' ? 'the disk is full' : (problem.code ?? 'unknown cause');
  process.stderr.write(
    `--json -: standard output cannot be written (${why}). Send it elsewhere.\n`,
    () => process.exit(4),
  );
});

main(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (fault: unknown) => {
    const what = fault instanceof Error ? fault.message : String(fault);
    write(
      process.stderr,
      `runledger: a fault of ours (${what}). Nothing was written; please report it with the file.\n`,
    );
    process.exitCode = 70;
  },
);
