import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { unpackOutcome } from './outcome-transfer.ts';
import type { ReadOutcome } from './read-file.ts';
import { MAKE_IT_SMALLER } from './refusal.ts';

export interface WorkerReadOptions {
  /** Time the reading may take, ms. */
  readonly timeoutMs?: number;
  /** Memory the reading may take for its objects, MB. */
  readonly memoryMb?: number;
  /** The bundled worker entry; by default `read-worker.js` beside, or one folder above, this file. */
  readonly workerUrl?: URL;
}

/** Where the bundler puts the worker entry: beside the main entry, one folder above its chunks. */
function bundledWorkerUrl(): URL {
  const beside = new URL('./read-worker.js', import.meta.url);
  return existsSync(fileURLToPath(beside)) ? beside : new URL('../read-worker.js', import.meta.url);
}

function refused(code: string, what: string, fileName: string, todo: string): ReadOutcome {
  const where = fileName.split(/[\\/]/).pop() || 'file';
  return { ok: false, refusal: { code, what, where, todo } };
}

/**
 * `readSourceFile` in a worker thread that ends after `timeoutMs` and cannot take more than
 * `memoryMb`. The bytes are copied; the caller's stay as they are. Does not reject: a worker that
 * dies or overruns is a refusal (`timeout`, `memory`, `reader-ended`).
 */
export function readSourceFileInWorker(
  bytes: Uint8Array,
  fileName: string,
  options: WorkerReadOptions = {},
): Promise<ReadOutcome> {
  const { timeoutMs = 20_000, memoryMb = 700, workerUrl = bundledWorkerUrl() } = options;
  return new Promise((resolve) => {
    const copy = Uint8Array.from(bytes);
    const worker = new Worker(workerUrl, {
      workerData: { bytes: copy, fileName },
      transferList: [copy.buffer],
      resourceLimits: { maxOldGenerationSizeMb: memoryMb },
    });
    const finish = (outcome: ReadOutcome) => {
      clearTimeout(timer);
      resolve(outcome);
      void worker.terminate();
    };
    const timer = setTimeout(() => {
      const seconds = Math.round(timeoutMs / 100) / 10;
      const what = `Reading took longer than ${seconds} s and was ended.`;
      finish(refused('timeout', what, fileName, MAKE_IT_SMALLER));
    }, timeoutMs);
    worker.once('message', (text: string) => finish(unpackOutcome(text)));
    worker.once('error', (error: NodeJS.ErrnoException) => {
      const what =
        error.code === 'ERR_WORKER_OUT_OF_MEMORY'
          ? `Reading would take more than ${memoryMb} MB of memory and was ended.`
          : 'Reading ended before it was done.';
      const code = error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? 'memory' : 'reader-ended';
      finish(refused(code, what, fileName, MAKE_IT_SMALLER));
    });
    worker.once('exit', () => {
      const what = 'Reading ended before it was done.';
      finish(refused('reader-ended', what, fileName, MAKE_IT_SMALLER));
    });
  });
}
