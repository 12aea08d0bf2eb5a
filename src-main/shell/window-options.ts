/** How the window is made and what its page may never do, as data. */
import { LEAST, type Rectangle } from './window-bounds.ts';

/** Name of the session: without `persist:`, so nothing of it is ever written to the disk. */
export const PARTITION = 'runledger';

export function windowOptions(bounds: Rectangle, preload: string, developing: boolean) {
  return {
    ...bounds,
    minWidth: LEAST.width,
    minHeight: LEAST.height,
    show: false,
    title: 'Runledger',
    webPreferences: {
      preload,
      partition: PARTITION,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webviewTag: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      navigateOnDragDrop: false,
      spellcheck: false,
      devTools: developing,
    },
  };
}

/** Switches of the engine: it looks up no name, and asks nobody anything of its own accord. */
export function engineSwitches(
  developing: boolean,
): readonly (readonly [name: string, value?: string])[] {
  return [
    ['host-resolver-rules', `MAP * ~NOTFOUND${developing ? ', EXCLUDE 127.0.0.1' : ''}`],
    ['disable-background-networking'],
    ['disable-component-update'],
    ['disable-domain-reliability'],
    ['no-pings'],
    ['no-proxy-server'],
  ];
}
