import { columnById } from '../../src-shared/columns/column-table.ts';
import { profileNumbers } from '../../src-shared/document/profile.ts';
import type { Finding } from '../../src-shared/limits/finding.ts';
import { dropPct, type RunResult } from '../../src-shared/solve/run-result.ts';
import { formatNumber, formatPercent } from '../../src-shared/units/format-quantity.ts';
import { RunDrawing } from '../charts/run-drawing.tsx';
import { placeRun } from '../charts/run-figure.ts';
import { VoltageProfile } from '../charts/voltage-profile.tsx';
import { findingIndex, lengthUnit, project, solved } from '../state/document-store.ts';
import { atHand, showCell } from '../state/view-state.ts';
import { FindingCard } from './finding-card.tsx';

const frame = { width: 372, left: 40, right: 34 };

/** Findings of a run: those of the fixture at hand first, both worst first. */
export function findingsHere(
  ofRun: readonly Finding[],
  fixtureId: string | null,
): { readonly here: readonly Finding[]; readonly elsewhere: readonly Finding[] } {
  const touches = (f: Finding) => fixtureId !== null && f.fixtureIds.includes(fixtureId);
  return { here: ofRun.filter(touches), elsewhere: ofRun.filter((f) => !touches(f)) };
}

function brokenAt(list: readonly Finding[]): ReadonlySet<string> {
  const bad = list.filter((f) => f.severity === 'stop' || f.severity === 'breach');
  const marks = bad.flatMap((f) => f.marks);
  const own = marks.filter(({ column }) => columnById(column).scope !== 'circuit');
  return new Set(own.map(({ fixtureId }) => fixtureId));
}

function Levels({ run }: { readonly run: RunResult }) {
  const { low, nominal, high } = run;
  if (nominal === null) return null;
  const levels = [
    ['low', low],
    ['nominal', nominal],
    ['high', high],
  ] as const;
  return (
    <table class="levels">
      <thead>
        <tr>
          <th scope="col">Supply</th>
          <th scope="col">Volts</th>
          <th scope="col">Head</th>
          <th scope="col">Last fixture</th>
          <th scope="col">Drop</th>
        </tr>
      </thead>
      <tbody>
        {levels.map(([word, level]) => {
          if (level === null) {
            return (
              <tr key={word}>
                <th scope="row">{word}</th>
                <td colSpan={4}>no operating point</td>
              </tr>
            );
          }
          const last = level.voltsV.at(-1) ?? level.supplyV;
          return (
            <tr key={word}>
              <th scope="row">{word}</th>
              <td>{formatNumber(level.supplyV, 1)} V</td>
              <td>{formatNumber(level.headA, 3)} A</td>
              <td>{formatNumber(last, 2)} V</td>
              <td>{formatPercent(dropPct(level, level.voltsV.length - 1), 2)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Unsolved({ run }: { readonly run: RunResult }) {
  if (run.solved === true) return null;
  if (run.solved === false) {
    return <p class="unsolved">No operating point at nominal supply: no number is shown.</p>;
  }
  const needs = run.needs.map((need) => {
    const count = need.fixtureIds.length;
    return count === 0
      ? need.what
      : `${need.what} of ${count} ${count === 1 ? 'fixture' : 'fixtures'}`;
  });
  return <p class="unsolved">Not solved, not checked. It lacks: {needs.join(', ')}.</p>;
}

/** The run at hand: drawn, its volts, and what was found on it. */
export function RunPanel() {
  const session = solved();
  const { fixtureId, run: name } = atHand.value;
  const run = name === null ? undefined : session?.runs.get(name);
  const now = project.value;
  if (session === null || now === null || run === undefined) {
    return (
      <p class="quiet side-empty">
        Choose a row to see its run drawn, its volts and what was found on it.
      </p>
    );
  }
  const figure = placeRun(run, frame);
  const { here, elsewhere } = findingsHere(
    findingIndex.value.byRun.get(run.run.name) ?? [],
    fixtureId,
  );
  const broken = brokenAt([...here, ...elsewhere]);
  const unit = lengthUnit.value;
  const fixture = run.facts.find((facts) => facts.fixture.id === fixtureId)?.fixture;
  return (
    <div class="run-panel">
      <h2>
        Run {run.run.name}
        {fixture !== undefined && (
          <span class="quiet">
            {' '}
            place {fixture.place ?? '?'} · {fixture.tag ?? 'no tag'}
          </span>
        )}
      </h2>
      {figure !== null && (
        <RunDrawing
          run={run}
          figure={figure}
          frame={frame}
          unit={unit}
          atHand={fixtureId}
          broken={broken}
          onPick={(id) => showCell(id, null)}
        />
      )}
      <Unsolved run={run} />
      {figure !== null && run.nominal !== null && (
        <>
          <h3>Volts along the run{figure.toScale ? ', to scale' : ''}</h3>
          <VoltageProfile
            run={run}
            figure={figure}
            frame={frame}
            limitPct={profileNumbers(now).branchDropPct}
            atHand={fixtureId}
            broken={broken}
          />
          <Levels run={run} />
        </>
      )}
      <FindingGroup
        title={fixtureId === null ? 'Findings' : 'Findings here'}
        list={fixtureId === null ? elsewhere : here}
      />
      {fixtureId !== null && elsewhere.length > 0 && (
        <FindingGroup title="Elsewhere on this run" list={elsewhere} />
      )}
    </div>
  );
}

function FindingGroup({
  title,
  list,
}: {
  readonly title: string;
  readonly list: readonly Finding[];
}) {
  return (
    <section>
      <h3>{title}</h3>
      {list.length === 0 ? (
        <p class="quiet">None on what was checked.</p>
      ) : (
        <ul class="findings">
          {list.map((finding) => (
            <FindingCard key={finding.id} finding={finding} withRemedies />
          ))}
        </ul>
      )}
    </section>
  );
}
