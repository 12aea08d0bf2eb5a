/** All the host does for the window. Knows neither HTTP nor the desktop shell. */
import type { Answer, Handlers } from '../../src-shared/contract/requests.ts';
import { exportWorkbook } from './export-workbook.ts';
import { openFile } from './open-file.ts';
import { answered } from './reasons.ts';
import { keepRecovery } from './recovery-service.ts';
import { saveProject } from './save-project.ts';
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

async function holdDemo({ store, demo }: ServiceParts): Promise<Answer<'file.demo'>> {
  const held = store.put(DEMO_NAME, await demo());
  return held.ok ? answered(held.file) : held;
}

async function start(parts: ServiceParts): Promise<Answer<'app.start'>> {
  let launchFile = parts.launchFile();
  if (launchFile === null && parts.startWithDemo) {
    const demo = await holdDemo(parts);
    if (!demo.ok) return demo;
    launchFile = demo.value;
  }
  const recoveries = await recoveriesOf(parts);
  const memory = await parts.memory.all();
  // Looked at now, so that a damaged list is among the remarks; not at the files of it, which may
  // lie on a share that does not answer.
  await parts.recent.look();
  const { host, version } = parts;
  return answered({ host, version, launchFile, recoveries, memory, remarks: parts.remarks() });
}

async function choose(
  parts: ServiceParts,
  what: 'any' | 'schedule',
): Promise<Answer<'file.choose'>> {
  const chosen = await parts.frame.chooseFile({ what });
  if (!chosen.ok) return chosen;
  return chosen.value === null ? answered(null) : parts.disk.admit(chosen.value);
}

/** The handlers of every request, for any host. */
export function createServices(parts: ServiceParts): Handlers {
  const { store, recovery, memory, recent, frame } = parts;
  return {
    'app.start': () => start(parts),
    'file.open': ({ fileId }) => openFile(parts, fileId),
    'file.demo': () => holdDemo(parts),
    'file.release': async ({ fileId }) => {
      store.release(fileId);
      return answered({});
    },
    'project.save': (question) => saveProject(parts, question),
    'workbook.export': (question) => exportWorkbook(parts, question),
    'recovery.keep': (question) => keepRecovery(parts, question),
    'recovery.drop': async ({ recoveryId }) => {
      await recovery.drop(recoveryId);
      return answered({});
    },
    'memory.keep': async ({ key, text }) => {
      const kept = await memory.keep(key, text);
      return kept.ok ? answered({}) : kept;
    },
    'file.choose': ({ what }) => choose(parts, what),
    'file.recent': async () => answered(await recent.held()),
    'app.told': async (question) => {
      frame.told(question);
      return answered({});
    },
    'app.leave': async ({ answer }) => {
      frame.leave(answer);
      return answered({});
    },
    'app.print': () => frame.print(),
  };
}
