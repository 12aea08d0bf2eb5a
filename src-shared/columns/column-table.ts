/**
 * The one table of columns. It feeds the grid, the import (headers), the export (titles, units,
 * decimals), the check command (`--map`) and the help.
 */

/** Column ids a schedule can carry; a public contract of the check command. */
export const sourceColumnIds = [
  'tag',
  'type',
  'run',
  'place',
  'fedFrom',
  'span',
  'leadIn',
  'homeRun',
  'installed',
  'load',
  'powerFactor',
  'supply',
  'panel',
  'circuit',
  'breaker',
  'protection',
  'line',
  'conductor',
  'universe',
  'address',
  'mode',
  'footprint',
  'unitLoad',
  'leakage',
  'shareSet',
  'location',
  'reach',
  'area',
  'quantity',
  'description',
  'remarks',
] as const;
export type SourceColumnId = (typeof sourceColumnIds)[number];

/** Columns only the engine fills. */
export const solvedColumnIds = [
  'current',
  'cumulativeCurrent',
  'throughCurrent',
  'voltsHere',
  'voltsLow',
  'voltsHigh',
  'drop',
  'cableSoFar',
  'lastAddress',
  'findings',
] as const;
export type SolvedColumnId = (typeof solvedColumnIds)[number];

/** Columns our own export adds so that it can be read back. */
export const bookkeepingColumnIds = ['rowId', 'locks'] as const;
export type BookkeepingColumnId = (typeof bookkeepingColumnIds)[number];

export type ColumnId = SourceColumnId | SolvedColumnId | BookkeepingColumnId;

export type ColumnKind =
  | 'text'
  | 'integer'
  | 'length'
  | 'power'
  | 'ratio'
  | 'voltage'
  | 'current'
  | 'percent'
  | 'leakage'
  | 'unitLoad'
  | 'findings';

/** What a column belongs to: one edit of a run's or circuit's value holds for all its rows. */
export type ColumnScope = 'fixture' | 'run' | 'circuit' | 'solved' | 'bookkeeping';

export interface Column {
  readonly id: ColumnId;
  readonly title: string;
  readonly kind: ColumnKind;
  readonly scope: ColumnScope;
  /** Unit shown; lengths follow the project's display unit. */
  readonly unit: string | null;
  readonly decimals: number | null;
  readonly edit: 'typed' | 'solved';
  readonly help: string;
  /** Headers an engineer may have written for it, lower case, without units and punctuation. */
  readonly headers: readonly string[];
}

const typed = (
  id: SourceColumnId,
  title: string,
  kind: ColumnKind,
  scope: ColumnScope,
  unit: string | null,
  decimals: number | null,
  help: string,
  headers: readonly string[],
): Column => ({ id, title, kind, scope, unit, decimals, edit: 'typed', help, headers });

const solved = (
  id: SolvedColumnId,
  title: string,
  kind: ColumnKind,
  unit: string | null,
  decimals: number | null,
  help: string,
): Column => ({
  id,
  title,
  kind,
  scope: 'solved',
  unit,
  decimals,
  edit: 'solved',
  help,
  headers: [],
});

const bookkeeping = (id: BookkeepingColumnId, title: string, help: string): Column => ({
  id,
  title,
  kind: 'text',
  scope: 'bookkeeping',
  unit: null,
  decimals: null,
  edit: 'solved',
  help,
  headers: [],
});
// biome-ignore format: one column a line
export const columns: readonly Column[] = [
  typed('tag', 'Tag', 'text', 'fixture', null, null, 'Name of the luminaire position on the drawings.', ['tag', 'fixture tag', 'fixture id', 'fixture no', 'fixture number', 'fixture ref', 'fixture mark', 'tag no', 'tag number', 'tag id', 'tag ref', 'fixture', 'luminaire', 'luminaire tag', 'luminaire id', 'luminaire no', 'luminaire ref', 'luminaire mark', 'light ref', 'light no', 'lum ref', 'lum no', 'id', 'ref', 'reference', 'position no', 'mark', 'item']),
  typed('type', 'Type', 'text', 'fixture', null, null, 'Fixture type; its watts, window, modes and more stand in the types table.', ['type', 'fixture type', 'luminaire type', 'type code', 'type mark', 'type ref', 'fixture code', 'lum type', 'luminaire code', 'type id', 'type no', 'spec', 'code', 'ltg type', 'lighting type', 'light type', 'fitting type', 'fixt type', 'lum code', 'fitting code']),
  typed('run', 'Run', 'text', 'fixture', null, null, 'The continuous chain of cable this fixture is on.', ['run', 'run no', 'run id', 'run name', 'run number', 'cable run', 'line run', 'chain', 'string', 'string no', 'string id', 'string number', 'string name', 'chain no', 'chain id']),
  typed('place', 'Place', 'integer', 'fixture', null, 0, 'Position along the run; 1 is nearest the head box.', ['place', 'place on run', 'position', 'pos', 'position on run', 'pos on run', 'seq', 'sequence', 'order', 'no on run', 'position in run', 'place in run']),
  typed('fedFrom', 'Fed from', 'text', 'fixture', null, null, 'Tag of the fixture before it, or BOX. Checked against place, never used to solve.', ['fed from', 'fed by', 'feed from', 'from', 'upstream', 'previous', 'supplied from']),
  typed('span', 'Span', 'length', 'fixture', 'length', 2, 'Drawn distance from the previous fixture; place 1: from the head box.', ['span', 'spacing', 'distance', 'dist', 'span length', 'drawn span', 'to previous', 'distance from previous', 'from previous', 'c c', 'centres', 'centers', 'length', 'span to previous', 'spacing to previous']),
  typed('leadIn', 'Lead-in', 'length', 'run', 'length', 2, 'Cable from the head box to the first tap; cut to length at the box.', ['lead in', 'leadin', 'lead in length', 'feed length', 'box to first', 'head box to first', 'lead']),
  typed('homeRun', 'Home run', 'length', 'run', 'length', 2, 'Wiring from the panel to the head box, one way.', ['home run', 'homerun', 'home run length', 'panel to box', 'panel to head box', 'feeder length', 'db to box']),
  typed('installed', 'Installed', 'length', 'fixture', 'length', 2, 'Cable laid in the span: the stock pieces, or what is typed here.', ['installed', 'installed length', 'laid length', 'cable installed', 'installed cable', 'lead length as ordered', 'lead as ordered', 'leads as ordered', 'length as ordered', 'ordered length', 'lead length ordered']),
  typed('load', 'Watts', 'power', 'fixture', 'W', 1, 'Greatest watts of the fixture; from its type unless typed.', ['load', 'watts', 'watt', 'w', 'wattage', 'power', 'max load', 'max watts', 'w max', 'load max', 'max power', 'input power', 'system watts', 'power max', 'watts max', 'max wattage', 'max w', 'va', 'load per fixture', 'watts per fixture', 'w per fixture', 'power consumption', 'kw', 'total watts']),
  typed('powerFactor', 'Power factor', 'ratio', 'fixture', null, 3, 'Lagging power factor at full load; from the type unless typed.', ['power factor', 'pf', 'p f', 'cos phi', 'cosphi', 'cos', 'cos φ', 'cosφ']),
  typed('supply', 'Supply', 'voltage', 'run', 'V', 0, 'Nominal voltage the run is connected to.', ['supply', 'supply v', 'voltage', 'volts', 'v', 'volt', 'supply voltage', 'nominal voltage', 'system voltage', 'line voltage', 'supply volts', 'nom v']),
  typed('panel', 'Panel', 'text', 'circuit', null, null, 'Panel that feeds the circuit.', ['panel', 'panelboard', 'panel board', 'distribution board', 'db', 'board', 'panel name', 'fed from panel', 'source panel', 'dist board', 'panel id']),
  typed('circuit', 'Circuit', 'text', 'circuit', null, null, 'Circuit as on the panel, such as 1,3.', ['circuit', 'ckt', 'cct', 'circuit no', 'circuit number', 'way', 'circuit s', 'circuits', 'ckt no', 'cct no', 'circuit id', 'circuit name', 'panel circuit', 'panel ckt', 'board circuit', 'db way']),
  typed('breaker', 'Breaker', 'current', 'circuit', 'A', 0, 'Breaker rating of the circuit.', ['breaker', 'breaker rating', 'breaker size', 'mcb', 'cb', 'ocpd', 'trip', 'breaker trip', 'protective device rating', 'breaker amps', 'mcb rating', 'brk', 'ocpd rating', 'cb rating', 'mcb size']),
  typed('protection', 'Protection', 'text', 'circuit', null, null, 'Ground-fault or residual-current device: Class A GFCI, RCD 30 mA, none.', ['protection', 'rcd', 'gfci', 'earth leakage', 'ground fault', 'residual current device', 'rcd gfci', 'rcbo', 'ground fault protection', 'earth fault protection', 'leakage protection', 'rcd protection', 'gfci protection', 'gfci type', 'rcd type']),
  typed('line', 'Line', 'text', 'run', null, null, 'Cable system the run is built from; from the lines table.', ['line', 'cable system', 'line type', 'cable line', 'line system']),
  typed('conductor', 'Conductor', 'text', 'run', null, null, 'Conductor size, where the run differs from its line.', ['conductor', 'wire', 'wire size', 'cable size', 'conductor size', 'csa', 'awg', 'cable', 'gauge', 'mm2', 'mm²']),
  typed('universe', 'Universe', 'integer', 'fixture', null, 0, 'DMX512 universe, counted from 1.', ['universe', 'univ', 'uni', 'dmx universe', 'universe no', 'u']),
  typed('address', 'Start address', 'integer', 'fixture', null, 0, 'First slot of the fixture, 1 to 512.', ['start address', 'address', 'addr', 'start', 'dmx start', 'dmx address', 'dmx addr', 'start channel', 'dmx start address', 'first channel', 'start ch', 'start addr', 'first slot', 'first address', 'start slot', 'universe address', 'univ addr', 'uni addr', 'univ start', 'dmx patch', 'patch', 'first dmx channel', 'dmx label', 'universe slot', 'univ slot', 'dmx slot']),
  typed('mode', 'Mode', 'text', 'fixture', null, null, 'DMX mode; its footprint stands with the type.', ['mode', 'dmx mode', 'control mode', 'personality', 'mode name']),
  typed('footprint', 'Footprint', 'integer', 'fixture', 'slots', 0, 'Number of DMX slots the fixture takes.', ['footprint', 'ch', 'channels', 'dmx ch', 'dmx channels', 'no of channels', 'channel count', 'slots', 'number of channels', 'dmx footprint', 'chs', 'dmx slots', 'dmx chs', 'no of slots', 'number of slots']),
  typed('unitLoad', 'Unit load', 'unitLoad', 'fixture', 'UL', 3, 'EIA-485 unit loads of the receiver; from the type unless typed.', ['unit load', 'ul', 'unit loads', 'rs485 load', 'rs 485 unit load', 'data load', 'eia 485 unit load']),
  typed('leakage', 'Leakage', 'leakage', 'fixture', 'mA', 2, 'Leakage current to earth; from the type unless typed.', ['leakage', 'leakage ma', 'earth leakage current', 'leakage current', 'touch current', 'protective conductor current']),
  typed('shareSet', 'Share set', 'text', 'fixture', null, null, 'Fixtures meant to answer to one address carry the same word here.', ['share set', 'shared address', 'share', 'shared with', 'mirror', 'address share', 'share group']),
  typed('location', 'Location', 'text', 'fixture', null, null, 'Where it stands: wall, wet; pit rim, wet.', ['location', 'environment', 'exposure', 'location type', 'loc']),
  typed('reach', 'Reach', 'text', 'fixture', null, null, 'Who can touch it: public, above 8 ft, maintenance only.', ['reach', 'access', 'accessibility', 'reachable by', 'within reach']),
  typed('area', 'Area', 'text', 'fixture', null, null, 'Part of the job.', ['area', 'zone', 'elevation', 'building part', 'facade', 'façade', 'level', 'floor', 'part']),
  typed('quantity', 'Quantity', 'integer', 'fixture', null, 0, 'How many fixtures this source row stands for.', ['quantity', 'qty', 'count', 'nos', 'no off', 'no of', 'quant', 'number of', 'pcs', 'qty of fixtures', 'number of fixtures']),
  typed('description', 'Description', 'text', 'fixture', null, null, 'Words about the fixture.', ['description', 'desc', 'fixture description', 'details', 'luminaire description']),
  typed('remarks', 'Remarks', 'text', 'fixture', null, null, 'The engineer’s own remarks.', ['remarks', 'remark', 'notes', 'note', 'comments', 'comment']),
  solved('current', 'Own current', 'current', 'A', 3, 'Solved current of this fixture at nominal supply.'),
  solved('cumulativeCurrent', 'Cumulative current', 'current', 'A', 3, 'Amps of places 1 to here, added up from the head box as phasors.'),
  solved('throughCurrent', 'Through current', 'current', 'A', 3, 'Amps in the cable that arrives here: everything from here to the terminator.'),
  solved('voltsHere', 'Volts here', 'voltage', 'V', 2, 'Solved voltage at the fixture at nominal supply.'),
  solved('voltsLow', 'Volts, low supply', 'voltage', 'V', 2, 'Solved voltage at the fixture with the supply at its low end.'),
  solved('voltsHigh', 'Volts, high supply', 'voltage', 'V', 2, 'Solved voltage at the fixture with the supply at its high end.'),
  solved('drop', 'Drop', 'percent', '%', 2, 'Voltage drop from the panel, home run included, in percent of the supply.'),
  solved('cableSoFar', 'Cable so far', 'length', 'length', 2, 'Installed length from the head box to here.'),
  solved('lastAddress', 'Last address', 'integer', null, 0, 'Last DMX slot the fixture takes.'),
  solved('findings', 'Findings', 'findings', null, null, 'Limits broken, near or not checked at this fixture.'),
  bookkeeping('rowId', 'Runledger id', 'Keeps a row itself when the marked-up schedule comes back.'),
  bookkeeping('locks', 'Locks', 'Decisions the engineer has taken; nothing automatic changes them.'),
];

const byId = new Map<string, Column>(columns.map((column) => [column.id, column]));

/** The column with this id. Throws on an id that is not in the table: a fault of ours. */
export function columnById(id: ColumnId): Column {
  const column = byId.get(id);
  if (column === undefined) throw new Error(`no column ${id}`);
  return column;
}

export function isSourceColumnId(text: string): text is SourceColumnId {
  return (sourceColumnIds as readonly string[]).includes(text);
}
