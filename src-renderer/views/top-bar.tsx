import type { ProfileId } from '../../src-shared/document/project.ts';
import type { LengthUnit } from '../../src-shared/units/length.ts';
import { busy } from '../state/busy.ts';
import {
  dirty,
  history,
  jobFile,
  lengthUnit,
  project,
  redoStep,
  run,
  undoStep,
} from '../state/document-store.ts';
import { exportWorkbook } from '../state/export-actions.ts';
import { chooseFile } from '../state/file-actions.ts';
import { saveJob } from '../state/save-actions.ts';
import { view } from '../state/view-state.ts';
import { MainMenu } from './main-menu.tsx';

export const profileTitles: Readonly<Record<ProfileId, string>> = {
  'north-america': 'north-america',
  iec: 'iec',
};

function setUnit(displayUnit: LengthUnit): void {
  const now = project.value;
  if (now === null || now.settings.displayUnit === displayUnit) return;
  const value = { ...now.settings, displayUnit };
  run({ label: `Lengths in ${displayUnit}`, changes: [{ kind: 'part', part: 'settings', value }] });
}

function UnitChoice() {
  return (
    <fieldset class="unit-choice">
      <legend class="heard">Lengths in</legend>
      {(['ft', 'm'] as const).map((unit) => (
        <button
          key={unit}
          type="button"
          aria-pressed={lengthUnit.value === unit}
          onClick={() => setUnit(unit)}
        >
          {unit}
        </button>
      ))}
    </fieldset>
  );
}

function JobName() {
  const now = project.value;
  if (now === null) return <span class="job-name" />;
  const revision = now.revision === null ? 'no revision' : `revision ${now.revision}`;
  return (
    <button
      type="button"
      class="job-name"
      title="Name, revision, profile and assumptions"
      onClick={() => {
        view.value = 'job';
      }}
    >
      <span class="job-title">{now.name}</span>
      <span class="job-facts">
        {revision} · {profileTitles[now.settings.profile]}
      </span>
      <span class={dirty.value ? 'unsaved' : 'heard'}>{dirty.value ? 'unsaved' : 'saved'}</span>
    </button>
  );
}

/** The job and what is done with it as a whole. */
export function TopBar() {
  const open = project.value !== null;
  const past = history.value?.past.at(-1)?.label;
  const future = history.value?.future.at(-1)?.label;
  return (
    <header class="top-bar" data-pane>
      <span class="product">Runledger</span>
      <JobName />
      <div class="top-acts" data-before-grid>
        <button
          type="button"
          onClick={() => void chooseFile()}
          title="Open a schedule or a saved job (Ctrl+O)"
        >
          Open
        </button>
        {open && (
          <>
            <button
              type="button"
              disabled={!dirty.value && jobFile.value.target !== null}
              onClick={() => void saveJob('same')}
              title="Save (Ctrl+S)"
            >
              Save
            </button>
            <span class="pair">
              <button
                type="button"
                disabled={past === undefined}
                onClick={undoStep}
                title={`Undo${past === undefined ? '' : `: ${past}`} (Ctrl+Z)`}
              >
                Undo
              </button>
              <button
                type="button"
                disabled={future === undefined}
                onClick={redoStep}
                title={`Redo${future === undefined ? '' : `: ${future}`} (Ctrl+Y)`}
              >
                Redo
              </button>
            </span>
            <UnitChoice />
            <button type="button" class="chief" onClick={() => void exportWorkbook()}>
              Export marked-up<span class="wide-only"> schedule</span>
            </button>
          </>
        )}
        <MainMenu />
      </div>
      <span class="heard" role="status">
        {busy.value ?? ''}
      </span>
      {busy.value !== null && <span class="busy">{busy.value} …</span>}
    </header>
  );
}
