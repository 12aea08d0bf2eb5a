/**
 * The document: everything the engineer has said, nothing that is solved. Plain data, SI units in
 * the names, `null` where unknown. Names (of runs, types, lines, panels) are the keys, as in the
 * engineer's own files; fixtures carry an id of ours because tags can stand twice.
 */
import type { LengthUnit } from '../units/length.ts';

export type ProfileId = 'north-america' | 'iec';
export type PieceChoice = 'fewest-joints' | 'least-excess';

/** Where a row stood in a source file. `cells` are the stored values, one per source column. */
export interface RowOrigin {
  /** Place in `source.files`. */
  readonly file: number;
  readonly sheet: string;
  readonly row: number;
  readonly cells: readonly (string | number | boolean | null)[];
}

/** Values a row may state for its whole run; only those that differ from the run's are kept. */
export interface RunStatement {
  readonly supplyV?: number;
  readonly panel?: string;
  readonly circuit?: string;
  readonly breakerA?: number;
  readonly protection?: string;
  readonly line?: string;
  readonly conductor?: string;
  readonly homeRunM?: number;
  readonly leadInM?: number;
}
export type RunField = keyof RunStatement;

export interface Fixture {
  readonly id: string;
  readonly tag: string | null;
  readonly type: string | null;
  readonly run: string | null;
  readonly place: number | null;
  readonly fedFrom: string | null;
  /** Drawn distance from the previous fixture; place 1: from the head box. */
  readonly spanM: number | null;
  /** Stated installed length of the span; null: sum of the stock pieces. */
  readonly installedM: number | null;
  /** Own watts; null: the type's. */
  readonly loadW: number | null;
  readonly powerFactor: number | null;
  readonly mode: string | null;
  /** Own footprint in slots; null: from the mode. */
  readonly footprint: number | null;
  /** Universe, base 1. */
  readonly universe: number | null;
  /** Start address 1 to 512. */
  readonly address: number | null;
  readonly unitLoad: number | null;
  readonly leakageMa: number | null;
  readonly shareSet: string | null;
  readonly location: string | null;
  readonly reach: string | null;
  readonly area: string | null;
  readonly description: string | null;
  readonly remarks: string | null;
  /** What this row says of its run where the run says something else. */
  readonly differing: RunStatement | null;
  /** Columns whose cell said something that could not be read: unknown, and nothing takes their place. */
  readonly unread: readonly string[];
  readonly locks: readonly string[];
  readonly origin: RowOrigin | null;
  /** Rows of further files that speak of the same fixture. */
  readonly alsoFrom: readonly RowOrigin[];
}
export type FixtureField = Exclude<
  keyof Fixture,
  'id' | 'differing' | 'unread' | 'locks' | 'origin' | 'alsoFrom'
>;

export interface Run {
  readonly name: string;
  readonly supplyV: number | null;
  /** Key of the circuit; a run without a stated circuit has one of its own. */
  readonly circuitId: string;
  /** Name of its line; null: the project's. */
  readonly line: string | null;
  /** Conductor instead of the line's own, such as `10 AWG`. */
  readonly conductor: string | null;
  readonly homeRunM: number | null;
  /** Head box to first tap; null: the span of place 1. */
  readonly leadInM: number | null;
  /** Conductor of the home run; null: the project's, else the line's. */
  readonly homeRunConductor: string | null;
  /** Splitter output that feeds the data line; null: one of its own. */
  readonly dataOutput: string | null;
  readonly locks: readonly string[];
}

export interface Circuit {
  readonly id: string;
  readonly panel: string | null;
  /** As on the panel: `1,3`; null: not stated, one run alone. */
  readonly name: string | null;
  readonly breakerA: number | null;
  /** Device that protects people or equipment against leakage, as written: `Class A GFCI`, `RCD 30 mA`, `none`. */
  readonly protection: string | null;
}

/** A panel. */
export interface Supply {
  readonly name: string;
  readonly system: string | null;
  readonly phases: 1 | 3 | null;
  readonly lineToLineV: number | null;
  readonly lineToNeutralV: number | null;
}

export interface Mode {
  readonly name: string;
  readonly footprint: number;
}

export interface BreakerMaximum {
  readonly breakerA: number;
  readonly fixtures: number;
}

export interface FixtureType {
  readonly name: string;
  readonly description: string | null;
  readonly loadW: number | null;
  readonly powerFactor: number | null;
  readonly printedMinV: number | null;
  readonly printedMaxV: number | null;
  readonly absoluteMinV: number | null;
  readonly absoluteMaxV: number | null;
  readonly modes: readonly Mode[];
  readonly unitLoad: number | null;
  readonly leakageMa: number | null;
  readonly breakerMaxima: readonly BreakerMaximum[];
}

export interface LengthLimit {
  readonly supplyV: number;
  readonly maxLengthM: number;
}

export interface Line {
  readonly name: string;
  /** `12 AWG` or `2.5 mm²`; null: not known. */
  readonly conductor: string | null;
  /** Hot resistance per conductor (half the loop); null: from the conductor's table. */
  readonly resistanceOhmPerKm: number | null;
  /** Reactance per conductor; null: taken as 0 and listed. */
  readonly reactanceOhmPerKm: number | null;
  readonly ratingA: number | null;
  readonly maxUpstreamBreakerA: number | null;
  /** Listed head box to last fixture, by supply voltage. An unlisted voltage is not checked. */
  readonly lengthLimits: readonly LengthLimit[];
  /** Length limit at any voltage, for a line that states only one; null: see the table. */
  readonly maxLengthM: number | null;
  readonly jumperLengthsM: readonly number[];
  readonly leadInLengthsM: readonly number[];
  /** The bare end of a lead-in may be cut at the head box. */
  readonly leadInCuttable: boolean;
  readonly pieceChoice: PieceChoice;
  /** Conductors to terminate by hand, per hard-wired fixture and per head box. */
  readonly conductorsPerFixture: number;
  readonly conductorsPerHeadBox: number;
  /** The assembly is listed for power and data together; null: not known. */
  readonly listedPowerAndData: boolean | null;
}

/** A number of a profile the project has changed. */
export interface ProfileChange {
  readonly setting: string;
  readonly value: number | boolean | string;
  readonly who: string;
  readonly when: string;
  readonly why: string;
}

export interface ProjectSettings {
  readonly profile: ProfileId;
  /** How far the supply may be off, both ways, in percent; null: the profile's. */
  readonly supplyTolerancePct: number | null;
  /** Branch drop limit in percent; null: the profile's. */
  readonly branchDropPct: number | null;
  /** The branch drop limit binds in this project (then broken = breach); null: the profile's. */
  readonly branchDropBinding: boolean | null;
  /** Part of a breaker that a continuous load may use; null: the profile's. */
  readonly continuousFactor: number | null;
  readonly defaultLine: string | null;
  readonly homeRunConductor: string | null;
  /** Exact hot resistance and reactance per conductor for lines and home runs alike; they override any named conductor. */
  readonly exactOhmPerKm: number | null;
  readonly exactReactanceOhmPerKm: number | null;
  readonly displayUnit: LengthUnit;
}

/** A value that came from an option or a default, not from the file. */
export interface Assumption {
  readonly what: string;
  readonly value: string | number | boolean;
  readonly unit: string | null;
  readonly from: string;
}

/** A column of the source. Columns of several sheets or files with the same header are one. */
export interface SourceColumn {
  readonly header: string;
  /** Column id it was read as; null: carried along untouched. */
  readonly columnId: string | null;
  /** Unit stated in the header, kept so that export writes the same unit. */
  readonly unit: string | null;
}

export interface SkippedRow {
  readonly row: number;
  readonly reason: string;
}

export type Confidence = 'sure' | 'likely' | 'guess' | 'refused';

/** One reading of one cell that was not plain: shown, counted, changeable. */
export interface Reading {
  /** `Schedule!K12`; of a second file `[install.xlsx]Sheet1!K12`; the bare file name: a remark on the whole file. */
  readonly cell: string;
  readonly raw: string;
  readonly column: string | null;
  readonly value: string | number | boolean | null;
  readonly confidence: Confidence;
  readonly note: string;
  /** A text the cell may be read as instead, such as what its comment says; absent: none is known. */
  readonly offer?: string;
}

export interface SourceFile {
  /** File name without folders. */
  readonly fileName: string;
}

/** A sheet that was read as the schedule or a part of it. */
export interface SheetRead {
  /** Place in `source.files`. */
  readonly file: number;
  readonly sheet: string;
  /** The row right above the data, counted from 1. */
  readonly headerRow: number;
  /** Where each of `source.columns` stands in this sheet, zero-based; null: not there. */
  readonly columnAt: readonly (number | null)[];
  /** The number its first universe has in this sheet. */
  readonly universeBase: 0 | 1;
  readonly rowsRead: number;
  readonly rowsSkipped: readonly SkippedRow[];
}

/** Something about a file as a whole that only the engineer knows; `chosen` holds until it is answered. */
export interface ImportQuestion {
  readonly id: 'hidden-rows' | 'universe-base' | 'tag-match' | 'sheets';
  /** Place in `source.files`. */
  readonly file: number;
  readonly text: string;
  readonly choices: readonly { readonly value: string; readonly title: string }[];
  readonly chosen: string;
  readonly answered: boolean;
}

/** A cell to be read as another text. */
export interface CellAnswer {
  /** As readings name it. */
  readonly cell: string;
  /** What the file had when it was answered; a re-read file that says something else there asks again. */
  readonly raw: string;
  /** Null: leave blank. */
  readonly text: string | null;
}

/** A reading the engineer has looked at and taken as it is. */
export interface AcceptedReading {
  readonly cell: string;
  readonly column: string | null;
  readonly raw: string;
}

/** What the engineer has answered about the source: kept with the document, so that a re-import keeps it. */
export interface ImportAnswers {
  /** Sheets that make up the schedule, in order; null: as found. */
  readonly sheets: readonly { readonly file: number; readonly sheet: string }[] | null;
  readonly headerRows: readonly {
    readonly file: number;
    readonly sheet: string;
    readonly row: number;
  }[];
  /** Header text to column id; null: carry the column along unread. */
  readonly columns: readonly { readonly header: string; readonly columnId: string | null }[];
  readonly questions: readonly {
    readonly id: ImportQuestion['id'];
    readonly file: number;
    readonly value: string;
  }[];
  readonly cells: readonly CellAnswer[];
  readonly accepted: readonly AcceptedReading[];
}

export interface ScheduleSource {
  /** The file that was opened, then those merged in. */
  readonly files: readonly SourceFile[];
  /** At least one, in the order they were read. */
  readonly sheets: readonly SheetRead[];
  readonly columns: readonly SourceColumn[];
  readonly readings: readonly Reading[];
  readonly questions: readonly ImportQuestion[];
  readonly answers: ImportAnswers;
}

export interface Project {
  readonly name: string;
  readonly revision: string | null;
  readonly settings: ProjectSettings;
  readonly profileChanges: readonly ProfileChange[];
  readonly types: readonly FixtureType[];
  readonly lines: readonly Line[];
  readonly supplies: readonly Supply[];
  readonly circuits: readonly Circuit[];
  readonly runs: readonly Run[];
  readonly fixtures: readonly Fixture[];
  readonly assumptions: readonly Assumption[];
  readonly source: ScheduleSource | null;
}
