/** What is solved of one row, in the units it is written in. */
import type { Fixture, Project, Run } from '../../document/project.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { dropPct, type RunResult } from '../../solve/run-result.ts';
import { formatTrimmed } from '../../units/format-quantity.ts';
import { type LengthUnit, lengthInUnit } from '../../units/length.ts';
import type { CellContent } from './export-table.ts';
import { locksToText, type OwnColumnKey } from './own-columns.ts';

interface PlaceOnRun {
  readonly run: RunResult;
  readonly index: number;
  /** Installed length from the head box to here; null from the first unknown span on. */
  readonly cableSoFarM: number | null;
}

/** Solved values of every row of a session. */
export class SolvedRows {
  private readonly places = new Map<string, PlaceOnRun>();
  private readonly unit: LengthUnit;
  private readonly firsts = new Map<string, string>();

  constructor(
    project: Project,
    private readonly session: EngineSession,
  ) {
    this.unit = project.settings.displayUnit;
    for (const run of session.runs.values()) {
      let cableSoFarM: number | null = 0;
      run.facts.forEach(({ fixture }, index) => {
        const span = run.installedM[index] ?? null;
        cableSoFarM = cableSoFarM === null || span === null ? null : cableSoFarM + span;
        this.places.set(fixture.id, { run, index, cableSoFarM });
      });
    }
    for (const { id, run } of project.fixtures) {
      if (run !== null && !this.firsts.has(run)) this.firsts.set(run, id);
    }
  }

  /** Stock pieces of the span, as `8 + 2`; several equal ones as `2 × 30`; a lead-in cut at the box says so. */
  private leads({ run, index }: PlaceOnRun): string | null {
    const pieces = run.piecesM[index] ?? null;
    if (pieces === null || pieces.length === 0 || (run.line?.jumperLengthsM.length ?? 0) === 0) {
      return null;
    }
    const counts = new Map<string, number>();
    for (const lengthM of pieces) {
      const text = formatTrimmed(lengthInUnit(lengthM, this.unit), 2);
      counts.set(text, (counts.get(text) ?? 0) + 1);
    }
    const all = [...counts].map(([text, n]) => (n === 1 ? text : `${n} × ${text}`)).join(' + ');
    const [leadIn = 0] = pieces;
    const isCut = index === 0 && leadIn > (run.installedM[index] ?? leadIn) + 1e-6;
    return isCut ? `${all}, cut` : all;
  }

  /** The run whose first row this is; null: none. */
  private runBegunBy({ run, id }: Fixture): Run | null {
    if (run === null || this.firsts.get(run) !== id) return null;
    return this.session.runs.get(run)?.run ?? null;
  }

  private locks(fixture: Fixture): string | null {
    const ofRun = this.runBegunBy(fixture)?.locks ?? [];
    const text = locksToText({ fixture: fixture.locks, run: ofRun });
    return text === '' ? null : text;
  }

  /** A cell of ours; null where nothing is known. Findings are not made here. */
  cell(fixture: Fixture, key: Exclude<OwnColumnKey, 'findings'>): CellContent {
    const slot = this.session.plan.get(fixture.id);
    switch (key) {
      case 'proposedUniverse':
        return slot?.proposed === true && fixture.universe === null ? slot.universe : null;
      case 'proposedAddress':
        return slot?.proposed === true && fixture.address === null ? slot.address : null;
      case 'lastAddress':
        return slot?.lastAddress ?? null;
      case 'locks':
        return this.locks(fixture);
      case 'homeRunConductor':
      case 'dataOutput':
        return this.runBegunBy(fixture)?.[key] ?? null;
      case 'rowId':
        return fixture.id;
      default: {
        const place = this.places.get(fixture.id);
        return place === undefined ? null : this.onRun(place, key);
      }
    }
  }

  private onRun(
    place: PlaceOnRun,
    key: Exclude<
      OwnColumnKey,
      | 'findings'
      | 'proposedUniverse'
      | 'proposedAddress'
      | 'lastAddress'
      | 'locks'
      | 'homeRunConductor'
      | 'dataOutput'
      | 'rowId'
    >,
  ): CellContent {
    const { run, index } = place;
    const { nominal } = run;
    switch (key) {
      case 'leads':
        return this.leads(place);
      case 'installedSpan':
        return lengthInUnit(run.installedM[index] ?? null, this.unit);
      case 'cableSoFar':
        return lengthInUnit(place.cableSoFarM, this.unit);
      case 'current':
        return nominal?.currentA[index] ?? null;
      case 'cumulativeCurrent':
        return nominal?.cumulativeA[index] ?? null;
      case 'throughCurrent':
        return nominal?.throughA[index] ?? null;
      case 'voltsHere':
        return nominal?.voltsV[index] ?? null;
      case 'voltsLow':
        return run.low?.voltsV[index] ?? null;
      case 'voltsHigh':
        return run.high?.voltsV[index] ?? null;
      case 'drop':
        return nominal === null ? null : dropPct(nominal, index);
    }
  }
}
