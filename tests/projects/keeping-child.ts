/** Keeps a recovery copy over and over until it is killed; says each one that is kept. */
import { createRecoveryStore } from '../../src-main/projects/recovery-store.ts';
import { blankProject } from '../../src-shared/document/blank.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';

const [folder = ''] = process.argv.slice(2);
const store = createRecoveryStore({ folder, appVersion: '0.1.0' });
let recoveryId: string | null = null;
for (let version = 1; ; version += 1) {
  const projectText = writeProject(blankProject(`version ${version}`));
  const kept = await store.keep(recoveryId, { name: 'Larkspur', projectText, sources: [] });
  if (kept.ok) recoveryId = kept.recoveryId;
  process.stdout.write(kept.ok ? `kept ${version}\n` : 'failed\n');
}
