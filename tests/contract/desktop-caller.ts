/** Through the desktop shell, as its window asks: over the recording stub of Electron. */
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { Desktop } from '../../src-main/electron/desktop.ts';
import type { CommonParts } from '../../src-main/services/host-parts.ts';
import { ASK_CHANNEL, HOLD_CHANNEL } from '../../src-main/shell/channels.ts';
import { dialogAnswers, invoke } from '../shell/electron-stub.ts';
import { type Caller, pages } from './hosts.ts';

export interface DeskOptions {
  readonly folder: string;
  readonly parts: CommonParts;
  readonly startWithDemo?: boolean;
}

/** A shell with its window open. The test file must have put the stub in Electron's place. */
export async function openDesktop(options: DeskOptions): Promise<Desktop> {
  const { folder, parts, startWithDemo = false } = options;
  const desktop = new Desktop({
    parts,
    stateFolder: folder,
    pages,
    preloadPath: '/preload.cjs',
    startWithDemo,
    developing: false,
  });
  await desktop.open();
  return desktop;
}

/** The save dialog is answered with a file of the test's folder that has the name offered. */
export function desktopCaller(folder: string): Caller {
  const paths = new Map<string, string>();
  let count = 0;
  const askRaw = async (name: string, body: unknown) => {
    const saves = name === 'project.save' || name === 'workbook.export';
    const suggested = saves ? Reflect.get(Object(body), 'suggestedName') : null;
    count += 1;
    const extension = name === 'project.save' ? '.runledger' : '.xlsx';
    const path = join(folder, `${count}-${basename(String(suggested ?? ''))}${extension}`);
    if (saves) dialogAnswers.save.push({ canceled: false, filePath: path });
    const answer = await invoke(ASK_CHANNEL, [name, body]);
    dialogAnswers.save.length = 0;
    const left = Reflect.get(Object(Reflect.get(Object(answer), 'value')), 'file');
    if (saves && left !== undefined) paths.set(String(Reflect.get(left, 'fileId')), path);
    return answer;
  };
  return {
    ask: (name, question) => askRaw(name, question) as never,
    askRaw,
    upload: async (name, bytes) => {
      const answer = await invoke(HOLD_CHANNEL, [{ name, bytes: new Uint8Array(bytes) }]);
      if (Reflect.get(Object(answer), 'ok') !== true) throw new Error(JSON.stringify(answer));
      return Reflect.get(Object(answer), 'value');
    },
    arrived: async (left) => {
      const path = left.saved === 'file' ? paths.get(left.file.fileId) : undefined;
      if (path === undefined) throw new Error(`nothing was written: ${left.saved}`);
      return new Uint8Array(readFileSync(path));
    },
  };
}
