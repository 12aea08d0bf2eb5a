import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { copyForReading } from './copy-for-reading.ts';
import { unpackOutcome } from './outcome-transfer.ts';
import { isDecidedAtOnce, type ReadOutcome, readSourceFile } from './read-file.ts';
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
 * `readSourceFile` in a worker thread that is ended after `timeoutMs` and cannot take more than
 * `memoryMb`. The bytes are copied; the caller's stay as they are. Does not reject: a worker that
 * dies or overruns is a refusal (`timeout`, `memory`, `reader-ended`).
 */
export async function readSourceFileInWorker(
  bytes: Uint8Array,
  fileName: string,
  options: WorkerReadOptions = {},
): Promise<ReadOutcome> {
  // Too large to copy, and refused by a look at a few bytes.
  if (isDecidedAtOnce(bytes)) return readSourceFile(bytes, fileName);
  const texts: string[] = [];
  const outcome = await runWorker(bytes, fileName, options, texts);
  return outcome ?? unpackOutcome(texts);
}

/** Gathers the worker's texts; null when it said all, else why not. The worker is gone by then. */
function runWorker(
  bytes: Uint8Array,
  fileName: string,
  options: WorkerReadOptions,
  texts: string[],
): Promise<ReadOutcome | null> {
  const { timeoutMs = 4_500, memoryMb = 180, workerUrl = bundledWorkerUrl() } = options;
  return new Promise((resolve) => {
    const copy = copyForReading(bytes);
    const worker = new Worker(workerUrl, {
      workerData: { bytes: copy, fileName },
      transferList: [copy.buffer],
      resourceLimits: { maxOldGenerationSizeMb: memoryMb },
    });
    const finish = (outcome: ReadOutcome | null) => {
      clearTimeout(timer);
      worker.removeAllListeners();
      // An error on the way out says nothing new.
      worker.on('error', () => {});
      void worker.terminate().finally(() => resolve(outcome));
    };
    const timer = setTimeout(() => {
      const seconds = Math.round(timeoutMs / 100) / 10;
      const what = `Reading took longer than ${seconds} s and was ended.`;
      finish(refused('timeout', what, fileName, MAKE_IT_SMALLER));
    }, timeoutMs);
    worker.on('message', (text: string | null) => {
      if (text === null) finish(null);
      else texts.push(text);
    });
    worker.once('error', (error: NodeJS.ErrnoException) => {
      const isMemory = error.code === 'ERR_WORKER_OUT_OF_MEMORY';
      const what = isMemory
        ? `Reading would take more than ${memoryMb} MB of memory and was ended.`
        : 'Reading ended before it was done.';
      finish(refused(isMemory ? 'memory' : 'reader-ended', what, fileName, MAKE_IT_SMALLER));
    });
    worker.once('exit', () => {
      const what = 'Reading ended before it was done.';
      finish(refused('reader-ended', what, fileName, MAKE_IT_SMALLER));
    });
  });
}
