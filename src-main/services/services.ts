/** All the host does for the window. Knows neither HTTP nor the desktop shell. */
import type { Handlers } from '../../src-shared/contract/requests.ts';
import { openFile } from './open-file.ts';
import { answered } from './reasons.ts';
import { keepRecovery } from './recovery-service.ts';
import { exportProject, saveProject } from './save-project.ts';
import type { ServiceParts } from './service-parts.ts';

/** The demo's name, in the package and in the window. */
export const DEMO_NAME = 'foxglove-roundhouse.xlsx';

async function recoveriesOf({ recovery, warn }: ServiceParts) {
  try {
    return await recovery.list();
  } catch (fault) {
    const what = fault instanceof Error ? fault.message : String(fault);
    warn(`Recovery copies cannot be listed (${what}); they stay where they are.`);
    return [];
  }
}

/** The handlers of every request, for any host. */
export function createServices(parts: ServiceParts): Handlers {
  const { store, recovery, launchFile } = parts;
  const heldDemo = async () => {
    const held = store.put(DEMO_NAME, await parts.demo());
    return held.ok ? answered(held.file) : held;
  };
  return {
    'app.start': async () => {
      let start = launchFile?.file ?? null;
      if (start === null && parts.startWithDemo) {
        const demo = await heldDemo();
        if (!demo.ok) return demo;
        start = demo.value;
      }
      const recoveries = await recoveriesOf(parts);
      return answered({
        host: parts.host,
        version: parts.version,
        launchFile: start,
        recoveries,
      });
    },
    'file.open': ({ fileId }) => openFile(parts, fileId),
    'file.demo': heldDemo,
    'file.release': async ({ fileId }) => {
      store.release(fileId);
      return answered({});
    },
    'project.save': (question) => saveProject(parts, question),
    'workbook.export': (question) => exportProject(parts, question),
    'recovery.keep': (question) => keepRecovery(parts, question),
    'recovery.drop': async ({ recoveryId }) => {
      await recovery.drop(recoveryId);
      return answered({});
    },
  };
}
