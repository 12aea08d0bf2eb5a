/** Entry of the reading worker: reads one file, hands it over and ends. Bundled as an entry of its own. */
import { parentPort, workerData } from 'node:worker_threads';
import { packOutcome } from './outcome-transfer.ts';
import { readSourceFile } from './read-file.ts';

const { bytes, fileName }: { bytes?: unknown; fileName?: unknown } = workerData ?? {};
if (!(bytes instanceof Uint8Array) || typeof fileName !== 'string') {
  throw new TypeError('The reading worker was started without a file.');
}
for (const text of packOutcome(readSourceFile(bytes, fileName))) parentPort?.postMessage(text);
// The last word: everything was said.
parentPort?.postMessage(null);
