import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'vite';

/** What became of a file in the child. */
export type Outcome =
  | {
      readonly ok: false;
      readonly refusal: {
        readonly code: string;
        readonly what: string;
        readonly where: string;
        readonly todo: string;
      };
    }
  | { readonly ok: true; readonly fixtures: number; readonly remarks: readonly string[] };

export interface Measured {
  readonly outcome?: Outcome;
  /** An error that came through: always a defect. */
  readonly threw?: string;
  /** From the bytes in memory to the schedule or the refusal. */
  readonly ms: number;
  /** Time of the processor in all threads of the process; unlike `ms` not longer on a busy machine. */
  readonly cpuMs: number;
  /** Peak memory of the process that reads: program, file and all; null: not measured. */
  readonly mb: number | null;
}

export interface Request {
  readonly path: string;
  readonly fileName: string;
}

/** Reads files in a child process, one at a time; the program is bundled as the product is. */
export class Measurer {
  readonly folder = mkdtempSync(join(tmpdir(), 'runledger-bad-input-'));
  /** The bundled worker. */
  readonly workerUrl = pathToFileURL(join(this.folder, 'read-worker.js'));
  #warm: ChildProcess | undefined;

  async prepare(): Promise<void> {
    const source = (name: string) => fileURLToPath(new URL(name, import.meta.url));
    await build({
      configFile: false,
      logLevel: 'error',
      ssr: { noExternal: true },
      build: {
        ssr: true,
        outDir: this.folder,
        target: 'node20',
        rollupOptions: {
          input: {
            'read-worker': source('../../../src-main/workbook/read-worker.ts'),
            'measured-child': source('./measured-child.ts'),
          },
        },
      },
    });
    writeFileSync(join(this.folder, 'package.json'), '{"type":"module"}');
  }

  async measure(bytes: Uint8Array, fileName: string, fresh: boolean): Promise<Measured> {
    const path = join(this.folder, 'input');
    writeFileSync(path, bytes);
    const child = fresh ? undefined : this.#warm;
    const reader = child ?? (await this.#start());
    if (!fresh) this.#warm = reader;
    const request: Request = { path, fileName };
    const answer = await this.#next(reader, () => reader.send(request));
    if (fresh) reader.kill();
    return answer as Measured;
  }

  end(): void {
    this.#warm?.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }

  async #start(): Promise<ChildProcess> {
    const child = fork(join(this.folder, 'measured-child.js'), { execArgv: ['--expose-gc'] });
    await this.#next(child, () => {});
    return child;
  }

  #next(child: ChildProcess, ask: () => void): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const gone = (code: number | null) =>
        reject(new Error(`the reading process ended (${code})`));
      child.once('exit', gone);
      child.once('message', (message) => {
        child.off('exit', gone);
        resolve(message);
      });
      ask();
    });
  }
}
