/** Findings by row and by cell, and what is written of them. */
import type { ColumnId } from '../../columns/column-table.ts';
import { type Finding, titlesInLine } from '../../limits/finding.ts';
import type { EngineSession } from '../../session/engine-session.ts';
import { remediesFor } from '../../session/remedies.ts';
import { severityLetters, severityWords } from './severity-letters.ts';

function push<K>(map: Map<K, Finding[]>, key: K, finding: Finding): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [finding]);
  else if (list.at(-1) !== finding) list.push(finding);
}

/** All findings of a session, looked up by row and cell; every list is worst first. */
export class FindingMarks {
  private readonly rows = new Map<string, Finding[]>();
  private readonly cells = new Map<string, Map<ColumnId, Finding[]>>();
  /** By fixtures they are about, and by run. */
  private readonly fixtures = new Map<string, Finding[]>();
  private readonly runs = new Map<string, Finding[]>();
  private readonly notes = new Map<Finding, string>();
  private readonly ranks = new Map<Finding, number>();

  constructor(private readonly session: EngineSession) {
    for (const finding of session.findings) {
      this.ranks.set(finding, this.ranks.size);
      const rows = new Set(finding.fixtureIds);
      for (const id of rows) push(this.fixtures, id, finding);
      if (finding.run !== null) push(this.runs, finding.run, finding);
      for (const { fixtureId, column } of finding.marks) {
        rows.add(fixtureId);
        let cells = this.cells.get(fixtureId);
        if (cells === undefined) {
          cells = new Map();
          this.cells.set(fixtureId, cells);
        }
        push(cells, column, finding);
      }
      // A finding about a run as a whole stands in the row of its first fixture.
      const head = finding.run === null ? undefined : session.runs.get(finding.run)?.facts[0];
      if (rows.size === 0 && head !== undefined) rows.add(head.fixture.id);
      for (const id of rows) push(this.rows, id, finding);
    }
  }

  /** Where a finding stands among all: 0 is the worst. */
  order(finding: Finding): number {
    return this.ranks.get(finding) ?? this.ranks.size;
  }

  /** Findings about any of the fixtures, or of the run. */
  about(fixtureIds: readonly string[], run: string | null): Finding[] {
    const all = new Set(run === null ? [] : this.runs.get(run));
    for (const id of fixtureIds) {
      for (const finding of this.fixtures.get(id) ?? []) all.add(finding);
    }
    return [...all].sort((a, b) => this.order(a) - this.order(b));
  }

  ofRow(fixtureId: string): readonly Finding[] {
    return this.rows.get(fixtureId) ?? [];
  }

  /** Findings that point at a cell of this row, by column. */
  ofCells(fixtureId: string): ReadonlyMap<ColumnId, readonly Finding[]> {
    return this.cells.get(fixtureId) ?? noCells;
  }

  /** The finding in full: title, sentence, basis, ways out. */
  noteOf(finding: Finding): string {
    let note = this.notes.get(finding);
    if (note === undefined) {
      note = noteText(finding, remediesFor(finding, this.session));
      this.notes.set(finding, note);
    }
    return note;
  }

  notesOf(findings: readonly Finding[]): string {
    return findings.map((finding) => this.noteOf(finding)).join('\n\n');
  }
}

const noCells: ReadonlyMap<ColumnId, readonly Finding[]> = new Map();

function noteText(finding: Finding, remedies: readonly string[]): string {
  const { severity, title, message, basis } = finding;
  const lines = [`${severityLetters[severity]} ${severityWords[severity]}: ${title}`, message];
  if (basis !== '') lines.push(`Basis: ${basis}`);
  if (remedies.length > 0) lines.push(`Try: ${remedies.join(' ')}`);
  return lines.join('\n');
}

/** `S Wrong voltage, B Branch drop, ? not checked: line rating`, worst first. Null: no finding. */
export function titlesOf(findings: readonly Finding[]): string | null {
  if (findings.length === 0) return null;
  const line = titlesInLine(
    findings,
    ({ severity, title }) => `${severityLetters[severity]} ${title}`,
  );
  return line.replace('not checked: ', `${severityLetters['not-checked']} not checked: `);
}
