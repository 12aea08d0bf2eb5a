/** The menu as data: what it holds, its keys, what each entry asks for. */
import type { WindowCommand } from '../../src-shared/contract/window-commands.ts';

/** Parts of the system that Electron provides whole. */
export type MenuRole =
  | 'cut'
  | 'copy'
  | 'paste'
  | 'selectAll'
  | 'resetZoom'
  | 'zoomIn'
  | 'zoomOut'
  | 'togglefullscreen'
  | 'minimize'
  | 'zoom'
  | 'front'
  | 'close'
  | 'quit'
  | 'services'
  | 'hide'
  | 'hideOthers'
  | 'unhide'
  | 'reload'
  | 'toggleDevTools';

export interface MenuEntry {
  readonly kind: 'command' | 'recent' | 'role' | 'separator' | 'submenu';
  readonly label?: string;
  readonly accelerator?: string;
  readonly enabled?: boolean;
  readonly command?: WindowCommand;
  /** Of a recent file. */
  readonly fileId?: string;
  readonly role?: MenuRole;
  readonly entries?: readonly MenuEntry[];
}

export interface MenuFacts {
  readonly platform: NodeJS.Platform;
  /** Commands that can be given now, as the window has told. */
  readonly commands: ReadonlySet<WindowCommand>;
  readonly recent: readonly { readonly fileId: string; readonly label: string }[];
  readonly developing: boolean;
}

/** Words and keys of every command of the window. */
export const commandWords: Readonly<
  Record<WindowCommand, { readonly label: string; readonly accelerator?: string }>
> = {
  'new-job': { label: 'New job', accelerator: 'CmdOrCtrl+N' },
  open: { label: 'Open…', accelerator: 'CmdOrCtrl+O' },
  'open-demo': { label: 'Open the demo as a copy' },
  save: { label: 'Save', accelerator: 'CmdOrCtrl+S' },
  'save-as': { label: 'Save as…', accelerator: 'CmdOrCtrl+Shift+S' },
  export: { label: 'Export marked-up schedule…', accelerator: 'CmdOrCtrl+E' },
  print: { label: 'Print…', accelerator: 'CmdOrCtrl+P' },
  undo: { label: 'Undo', accelerator: 'CmdOrCtrl+Z' },
  redo: { label: 'Redo', accelerator: 'CmdOrCtrl+Y' },
  'import-report': { label: 'Import report' },
  columns: { label: 'Columns shown…' },
  help: { label: 'Columns and keys', accelerator: 'F1' },
  about: { label: 'About Runledger' },
};

const separator: MenuEntry = { kind: 'separator' };
const role = (name: MenuRole): MenuEntry => ({ kind: 'role', role: name });
const submenu = (label: string, entries: readonly MenuEntry[]): MenuEntry => ({
  kind: 'submenu',
  label,
  entries,
});

function recentMenu({ recent }: MenuFacts): MenuEntry {
  const entries = recent.map(({ fileId, label }): MenuEntry => ({ kind: 'recent', fileId, label }));
  const none: MenuEntry = { kind: 'separator' };
  return {
    ...submenu('Open recent', entries.length === 0 ? [none] : entries),
    enabled: entries.length > 0,
  };
}

/** The whole menu for this system and this moment. */
export function menuTemplate(facts: MenuFacts): readonly MenuEntry[] {
  const { platform, commands, developing } = facts;
  const mac = platform === 'darwin';
  const command = (name: WindowCommand): MenuEntry => ({
    kind: 'command',
    command: name,
    ...commandWords[name],
    ...(name === 'redo' && mac ? { accelerator: 'Cmd+Shift+Z' } : {}),
    enabled: commands.has(name),
  });
  const file = [
    command('new-job'),
    command('open'),
    recentMenu(facts),
    command('open-demo'),
    separator,
    command('save'),
    command('save-as'),
    command('export'),
    separator,
    command('print'),
    separator,
    role(mac ? 'close' : 'quit'),
  ];
  const edit = [command('undo'), command('redo'), separator];
  const clipboard = (['cut', 'copy', 'paste', 'selectAll'] as const).map(role);
  const view = [
    command('import-report'),
    command('columns'),
    separator,
    ...(['resetZoom', 'zoomIn', 'zoomOut'] as const).map(role),
    separator,
    role('togglefullscreen'),
    ...(developing ? [separator, role('reload'), role('toggleDevTools')] : []),
  ];
  const window = mac ? (['minimize', 'zoom', 'front'] as const) : (['minimize', 'close'] as const);
  const application = [
    command('about'),
    separator,
    role('services'),
    separator,
    ...(['hide', 'hideOthers', 'unhide'] as const).map(role),
    separator,
    role('quit'),
  ];
  return [
    ...(mac ? [submenu('Runledger', application)] : []),
    submenu('&File', file),
    submenu('&Edit', [...edit, ...clipboard]),
    submenu('&View', view),
    submenu('&Window', window.map(role)),
    submenu('&Help', mac ? [command('help')] : [command('help'), separator, command('about')]),
  ];
}

/** Names of recent files, with their folder where two have the same. */
export function recentLabels(
  files: readonly { readonly fileId: string; readonly name: string; readonly folder: string }[],
): MenuFacts['recent'] {
  return files.map(({ fileId, name, folder }) => {
    const twice = files.filter((other) => other.name === name).length > 1;
    return { fileId, label: twice ? `${name} (${folder})` : name };
  });
}
