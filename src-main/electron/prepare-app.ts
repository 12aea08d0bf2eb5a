/** Everything that must be said before Electron is ready. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { app, protocol } from 'electron';
import { SCHEME } from '../shell/own-address.ts';
import { engineSwitches } from '../shell/window-options.ts';

/** Electron wants the folder to be there; where it cannot be made, Electron's usual one serves. */
function settleOwnFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    app.setPath('userData', folder);
  } catch {
    // Nothing of ours lies there: only the engine's own small files.
  }
}

/** @param stateFolder Electron's own few files go into a folder below it */
export function prepareApp(stateFolder: string, developing: boolean): void {
  app.setName('Runledger');
  settleOwnFolder(join(stateFolder, 'shell'));
  app.enableSandbox();
  for (const [name, value] of engineSwitches(developing)) {
    app.commandLine.appendSwitch(name, value);
  }
  // Standard and secure: an origin of its own. The other two: module scripts and fonts are loaded in
  // CORS mode; no answer of ours ever carries a header that lets another origin read it.
  const privileges = { standard: true, secure: true, supportFetchAPI: true, corsEnabled: true };
  protocol.registerSchemesAsPrivileged([{ scheme: SCHEME, privileges }]);
}
