/** What the shell's menu can ask of the window. */
export const windowCommands = [
  'new-job',
  'open',
  'open-demo',
  'save',
  'save-as',
  'export',
  'print',
  'undo',
  'redo',
  'import-report',
  'columns',
  'help',
  'about',
] as const;
export type WindowCommand = (typeof windowCommands)[number];
