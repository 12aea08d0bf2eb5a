/** The menu, made of its template. */
import { Menu, type MenuItemConstructorOptions } from 'electron';
import type { WindowCommand } from '../../src-shared/contract/window-commands.ts';
import { type MenuEntry, type MenuFacts, menuTemplate } from '../shell/menu-template.ts';

export interface MenuActs {
  readonly command: (command: WindowCommand) => void;
  readonly recent: (fileId: string) => void;
}

function itemOf(entry: MenuEntry, acts: MenuActs): MenuItemConstructorOptions {
  const { kind, label, accelerator, enabled = true, command, fileId, role, entries } = entry;
  if (kind === 'separator') return { type: 'separator' };
  if (kind === 'role') return role === undefined ? { type: 'separator' } : { role };
  if (kind === 'submenu') {
    const submenu = (entries ?? []).map((inner) => itemOf(inner, acts));
    return { label: label ?? '', enabled, submenu };
  }
  const click = () => {
    if (command !== undefined) acts.command(command);
    if (fileId !== undefined) acts.recent(fileId);
  };
  return { label: label ?? '', enabled, click, ...(accelerator && { accelerator }) };
}

export function showMenu(facts: MenuFacts, acts: MenuActs): void {
  const template = menuTemplate(facts).map((entry) => itemOf(entry, acts));
  Menu.setApplicationMenu(Menu.buildFromTemplate(template));
}
