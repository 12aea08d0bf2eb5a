/** What is told of the sheets of a file and of their headers. */
import { tellLongRows } from './long-rows.ts';
import type { PlannedFile } from './planned-file.ts';
import type { ReadingLog } from './reading-log.ts';
import type { SheetPart } from './sheet-part.ts';

function headerText({ header, sheet }: SheetPart, column: number): string {
  const row = sheet.rows.find((r) => r.number === header.row);
  return row?.cells.find((cell) => cell.column === column)?.text ?? '';
}

function tellHeader(part: SheetPart): void {
  const { sheet, header, plan, log } = part;
  for (const doubt of plan.doubts) {
    const place = { sheet: sheet.name, row: header.row, column: doubt.column };
    log.add(place, doubt.header, doubt.id, null, doubt.confidence, doubt.note);
  }
  for (const column of sheet.hiddenColumns ?? []) {
    const read = plan.read.find((c) => c.column === column);
    if (read === undefined) continue;
    const place = { sheet: sheet.name, row: header.row, column };
    const note = `the column is hidden in the file; it was read as ${read.id} like the others`;
    log.add(place, headerText(part, column), read.id, null, 'likely', note);
  }
}

function tellTogether(parts: readonly SheetPart[]): void {
  const [first, ...others] = parts;
  for (const { sheet, header, log } of others) {
    const place = { sheet: sheet.name, row: header.row, column: 0 };
    const note = `read as one schedule with "${first?.sheet.name}": the columns are the same`;
    log.add(place, sheet.name, null, null, 'likely', note);
  }
  for (const { sheet, header, log, implied } of parts) {
    const [what, name] = implied.run === null ? ['area', implied.area] : ['run', implied.run];
    if (name === null) continue;
    const place = { sheet: sheet.name, row: header.row, column: 0 };
    const note = `no column says the ${what}: ${what} ${name} from the name of the sheet`;
    log.add(place, sheet.name, what, name, 'guess', note);
  }
}

function tellOtherSchedules({ chosen, parts, log }: PlannedFile): void {
  // That the sheets behind a sheet of ours are not read is told already.
  if (chosen.ownSheet !== null) return;
  const names = parts.map(({ sheet }) => `"${sheet.name}"`);
  const were = `${names.join(', ')} ${names.length === 1 ? 'was' : 'were'}`;
  for (const { sheet, headerRow, rowsBelow } of chosen.candidates) {
    if (parts.some((part) => part.sheet.name === sheet)) continue;
    const same = chosen.sameTags.has(sheet) ? ', with tags that stand there too' : '';
    const note = `this sheet looks like a schedule too (${rowsBelow} rows${same}) and was not read; ${were}`;
    log.add({ sheet, row: headerRow, column: 0 }, sheet, null, null, 'guess', note);
  }
}

function tellOwnSheet({ chosen, parts, log }: PlannedFile): void {
  const [part] = parts;
  if (chosen.ownSheet === null || part === undefined) return;
  const place = { sheet: chosen.ownSheet, row: part.header.row, column: 0 };
  const note =
    'this sheet of the marked-up schedule has a row for every fixture: it was read, and the sheets it was made of were not';
  log.add(place, chosen.ownSheet, null, null, 'sure', note);
}

/** Readings of sheets and headers: doubts, hidden columns, sheets read together or not at all. */
export function tellSheets(planned: PlannedFile): void {
  for (const part of planned.parts) tellHeader(part);
  tellTogether(planned.parts);
  tellLongRows(planned);
  tellOwnSheet(planned);
  tellOtherSchedules(planned);
  tellUnused(planned.chosen.unused, planned.log, planned.parts[0]);
}

function tellUnused(unused: readonly string[], log: ReadingLog, part: SheetPart | undefined): void {
  if (part === undefined) return;
  const place = { sheet: part.sheet.name, row: part.header.row, column: 0 };
  for (const what of unused) {
    log.add(place, '', null, null, 'guess', `an answer was not used: ${what}`);
  }
}
