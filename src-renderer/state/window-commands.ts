/** What the window can be asked to do as a whole, by its own menu, its keys, or the shell's menu. */
import { computed } from '@preact/signals';
import { type WindowCommand, windowCommands } from '../../src-shared/contract/window-commands.ts';
import { withPrintLayout } from '../grid/print-layout.ts';
import { connection } from '../host/connection.ts';
import { choiceQuestion } from './ask-choice.ts';
import { unsavedQuestion } from './ask-unsaved.ts';
import { busy } from './busy.ts';
import { history, project, redoStep, undoStep } from './document-store.ts';
import { exportWorkbook } from './export-actions.ts';
import { chooseFile, newJob, openDemo } from './file-actions.ts';
import { sayReason } from './notice.ts';
import { saveJob } from './save-actions.ts';
import { dialog, view } from './view-state.ts';

interface Act {
  readonly act: () => void;
  /** Cannot be given now; reading it subscribes. */
  readonly off?: () => boolean;
}

const noJob = () => project.value === null;

async function print(): Promise<void> {
  const answer = await withPrintLayout(document, () => connection().host.print());
  if (!answer.ok) sayReason(answer.reason);
}

export const commandActs: Readonly<Record<WindowCommand, Act>> = {
  'new-job': { act: () => void newJob() },
  open: { act: () => void chooseFile() },
  'open-demo': { act: () => void openDemo() },
  save: { act: () => void saveJob('same'), off: noJob },
  'save-as': { act: () => void saveJob('new'), off: noJob },
  export: { act: () => void exportWorkbook(), off: noJob },
  print: { act: () => void print(), off: noJob },
  undo: { act: undoStep, off: () => (history.value?.past.length ?? 0) === 0 },
  redo: { act: redoStep, off: () => (history.value?.future.length ?? 0) === 0 },
  'import-report': {
    act: () => {
      view.value = 'import';
    },
    off: () => (project.value?.source ?? null) === null,
  },
  columns: {
    act: () => {
      dialog.value = 'columns';
    },
    off: noJob,
  },
  help: {
    act: () => {
      dialog.value = 'help';
    },
  },
  about: {
    act: () => {
      dialog.value = 'about';
    },
  },
};

/** A question or a dialog of ours stands: nothing else is begun meanwhile. */
const inQuestion = computed(
  () => dialog.value !== null || unsavedQuestion.value !== null || choiceQuestion.value !== null,
);

/** Commands that can be given now. */
export const givable = computed<readonly WindowCommand[]>(() =>
  inQuestion.value || busy.value !== null
    ? []
    : windowCommands.filter((name) => commandActs[name].off?.() !== true),
);

function inText(): boolean {
  const at = document.activeElement;
  return at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement;
}

/** Does what the shell's menu asks. In a text being typed, undo and redo are the text's own. */
export function giveCommand(name: WindowCommand): void {
  if ((name === 'undo' || name === 'redo') && inText()) {
    document.execCommand(name);
    return;
  }
  if (givable.value.includes(name)) commandActs[name].act();
}
