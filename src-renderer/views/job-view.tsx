import { profileDefaults, profileIds, profileNumbers } from '../../src-shared/document/profile.ts';
import type { ProfileId, Project, ProjectSettings } from '../../src-shared/document/project.ts';
import { listAssumptions } from '../../src-shared/session/assumptions.ts';
import { parseConductorSize } from '../../src-shared/units/conductor-size.ts';
import { formatTrimmed } from '../../src-shared/units/format-quantity.ts';
import { lengthUnit, project, run, solved } from '../state/document-store.ts';
import { say } from '../state/notice.ts';
import { readQuantityText } from '../state/parse-cell.ts';

function setSettings(now: Project, change: Partial<ProjectSettings>, label: string): void {
  const value = { ...now.settings, ...change };
  run({ label, changes: [{ kind: 'part', part: 'settings', value }] });
}

interface FieldProps {
  readonly label: string;
  readonly value: string;
  readonly note?: string;
  readonly take: (text: string) => boolean;
}

/** One value with its name; a refused entry goes back to what it was. */
function Field({ label, value, note, take }: FieldProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <input
        value={value}
        onChange={(event) => {
          if (!take(event.currentTarget.value)) event.currentTarget.value = value;
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur();
          if (event.key === 'Escape') {
            event.currentTarget.value = value;
            event.currentTarget.blur();
          }
        }}
      />
      {note !== undefined && <span class="field-note">{note}</span>}
    </label>
  );
}

type NumberSetting = 'supplyTolerancePct' | 'branchDropPct' | 'continuousFactor';

function NumberField(props: {
  readonly now: Project;
  readonly setting: NumberSetting;
  readonly label: string;
  readonly kind: 'percent' | 'number';
  readonly most: number;
}) {
  const { now, setting, label, kind, most } = props;
  const stated = now.settings[setting];
  const profile = profileDefaults(now.settings.profile)[setting];
  const unit = kind === 'percent' ? ' %' : '';
  const take = (text: string) => {
    if (text.trim() === '') {
      setSettings(now, { [setting]: null }, label);
      return true;
    }
    const read = readQuantityText(text, kind, lengthUnit.value);
    if (read === 'later' || !read.ok || read.value <= 0 || read.value > most) {
      const why = read !== 'later' && !read.ok ? read.reason : `over 0, at most ${most}${unit}`;
      say('alert', `${label} not taken: ${why}.`);
      return false;
    }
    setSettings(now, { [setting]: read.value }, label);
    return true;
  };
  return (
    <Field
      label={label}
      value={stated === null ? '' : `${formatTrimmed(stated, 4)}${unit}`}
      note={`${stated === null ? 'in force: ' : ''}profile ${formatTrimmed(profile, 4)}${unit}`}
      take={take}
    />
  );
}

function takeConductor(now: Project, text: string): boolean {
  const size = parseConductorSize(text);
  if (text.trim() !== '' && !size.ok) {
    say('alert', `Conductor not taken: ${size.reason}.`);
    return false;
  }
  setSettings(
    now,
    { homeRunConductor: text.trim() === '' ? null : text.trim() },
    'Conductor of home runs',
  );
  return true;
}

function takeName(text: string): boolean {
  if (text.trim() === '') {
    say('alert', 'A job needs a name.');
    return false;
  }
  return run({
    label: 'Name of the job',
    changes: [{ kind: 'part', part: 'name', value: text.trim() }],
  });
}

function JobFields({ now }: { readonly now: Project }) {
  const { settings } = now;
  const binding = profileNumbers(now).branchDropBinding;
  return (
    <div class="fields">
      <Field label="Job" value={now.name} take={takeName} />
      <Field
        label="Revision"
        value={now.revision ?? ''}
        take={(text) =>
          run({
            label: 'Revision',
            changes: [
              { kind: 'part', part: 'revision', value: text.trim() === '' ? null : text.trim() },
            ],
          })
        }
      />
      <label class="field">
        <span>Profile</span>
        <select
          value={settings.profile}
          onChange={(event) =>
            setSettings(now, { profile: event.currentTarget.value as ProfileId }, 'Profile')
          }
        >
          {profileIds.map((id) => (
            <option key={id} value={id}>
              {id}
            </option>
          ))}
        </select>
        <span class="field-note">limits and their bases; verify in the adopted edition</span>
      </label>
      <NumberField
        now={now}
        setting="supplyTolerancePct"
        label="Supply tolerance, both ways"
        kind="percent"
        most={25}
      />
      <NumberField
        now={now}
        setting="branchDropPct"
        label="Branch drop limit"
        kind="percent"
        most={50}
      />
      <label class="field">
        <span>Branch drop limit binds</span>
        <select
          value={String(settings.branchDropBinding)}
          onChange={(event) => {
            const { value } = event.currentTarget;
            setSettings(
              now,
              { branchDropBinding: value === 'null' ? null : value === 'true' },
              'Branch drop limit binds',
            );
          }}
        >
          <option value="null">as the profile</option>
          <option value="true">yes: broken is a breach</option>
          <option value="false">no: advice, a watch</option>
        </select>
        <span class="field-note">in force: {binding ? 'yes' : 'no'}</span>
      </label>
      <NumberField
        now={now}
        setting="continuousFactor"
        label="Continuous load, part of a breaker"
        kind="number"
        most={1}
      />
      <label class="field">
        <span>Line, where a run states none</span>
        <select
          value={settings.defaultLine ?? ''}
          onChange={(event) => {
            const { value } = event.currentTarget;
            setSettings(now, { defaultLine: value === '' ? null : value }, 'Line of the job');
          }}
        >
          <option value="">none</option>
          {now.lines.map(({ name }) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <Field
        label="Conductor of home runs"
        value={settings.homeRunConductor ?? ''}
        note="empty: as the line"
        take={(text) => takeConductor(now, text)}
      />
    </div>
  );
}

/** The job, the numbers in force, and every value that came from nowhere in the file. */
export function JobView() {
  const now = project.value;
  const session = solved();
  if (now === null || session === null) return null;
  const assumptions = listAssumptions(now, session);
  return (
    <div class="paper">
      <h2>Job and numbers in force</h2>
      <JobFields now={now} />
      <h2>Assumptions</h2>
      <p class="quiet">
        {assumptions.length} values in force that did not come from the file. They go out with every
        export.
      </p>
      <table class="plain">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" class="figures">
              Value
            </th>
            <th scope="col">From</th>
          </tr>
        </thead>
        <tbody>
          {assumptions.map(({ what, value, unit, from }, at) => (
            <tr key={at}>
              <th scope="row">{what}</th>
              <td class="figures">
                {typeof value === 'number'
                  ? formatTrimmed(value, 4)
                  : value === true
                    ? 'yes'
                    : value === false
                      ? 'no'
                      : value}
                {unit === null ? '' : ` ${unit}`}
              </td>
              <td>{from}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
