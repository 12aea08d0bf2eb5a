/** The host forgets the source workbooks of a job when another one is opened. */
import { effect } from '@preact/signals';
import { connection } from '../host/connection.ts';
import { jobFile, onChange } from './document-store.ts';

/** Every workbook the open job has had: undo may bring one back. */
const ofThisJob = new Set<string>();

export function followSources(): void {
  effect(() => {
    for (const { fileId } of jobFile.value.sources) ofThisJob.add(fileId);
  });
  onChange((changes) => {
    if (changes !== 'opened') return;
    const kept = new Set(jobFile.value.sources.map(({ fileId }) => fileId));
    for (const fileId of ofThisJob) {
      if (kept.has(fileId)) continue;
      ofThisJob.delete(fileId);
      void connection().host.ask('file.release', { fileId });
    }
  });
}
