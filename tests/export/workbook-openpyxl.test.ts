/** The written workbook read by openpyxl, a writer and reader that shares no code with ours. */
import { beforeAll, describe, expect, it } from 'vitest';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import type { Project } from '../../src-shared/document/project.ts';
import { contentOf, isMarked } from '../../src-shared/exchange/export/export-table.ts';
import { FindingMarks } from '../../src-shared/exchange/export/finding-marks.ts';
import { planningAidSentence } from '../../src-shared/exchange/export/safety-words.ts';
import { headerRowOf } from '../../src-shared/exchange/export/schedule-layout.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { severityLetters } from '../../src-shared/exchange/export/severity-letters.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { findPythonWith } from '../house/need.ts';
import { demoJob } from './demo-job.ts';
import { hazardJob, hazards } from './hazard-job.ts';
import { type OtherCell, type OtherSheet, readWithOpenpyxl } from './other-programs.ts';

const python = findPythonWith('openpyxl');

const sheetOf = (sheets: readonly OtherSheet[], name: string): OtherSheet => {
  const sheet = sheets.find((s) => s.name === name);
  if (sheet === undefined) throw new Error(`no sheet ${name} among ${sheets.map((s) => s.name)}`);
  return sheet;
};
const read = async (project: Project) =>
  readWithOpenpyxl(python ?? '', await writeMarkedUpWorkbook(project));

describe.skipIf(python === null)('needs python3 with openpyxl: the demo', () => {
  const project = demoJob();
  const session = new EngineSession(project);
  const table = scheduleTable(project, session, new FindingMarks(session));
  const header = headerRowOf(table);
  let sheets: OtherSheet[] = [];
  beforeAll(async () => {
    sheets = await read(project);
  });

  it('has its sheets in order, the schedule under its own name', () => {
    expect(sheets.slice(0, 7).map((s) => s.name)).toEqual([
      'Schedule',
      'Findings',
      'Runs',
      'Circuits',
      'Patch',
      'Takeoff',
      'Assumptions and cautions',
    ]);
    expect(sheets.map((s) => s.name)).toEqual(
      expect.arrayContaining(['Types', 'Supplies', 'Lines', 'Project']),
    );
  });

  it('has every cell of the table: value, type, note, letter, shade, outline', () => {
    const { rows } = sheetOf(sheets, 'Schedule');
    expect(rows[header - 1]?.map((c) => c.value)).toEqual(table.columns.map((c) => c.header));
    let notes = 0;
    table.rows.forEach((row, r) => {
      row.forEach((cell, c) => {
        const there = rows[header + r]?.[c];
        const value = contentOf(cell);
        if (typeof value === 'number') expect(there?.value).toBe(value);
        else expect(there?.value ?? null).toBe(value);
        expect(there?.type).not.toBe('f');
        const mark = isMarked(cell) ? cell : null;
        expect(there?.note ?? null).toBe(mark?.note ?? null);
        if (mark?.note != null) notes += 1;
        if (mark?.severity == null) return;
        expect(there?.fill).not.toBeNull();
        const letter = severityLetters[mark.severity];
        if (value !== null && table.columns[c]?.saysLetter !== true) {
          expect(there?.format.startsWith(`"${letter} "`)).toBe(true);
        }
      });
    });
    expect(notes).toBeGreaterThan(40);
  });

  it('tells severities apart by shade', () => {
    const { rows } = sheetOf(sheets, 'Findings');
    const fills = new Map<unknown, unknown>();
    for (const row of rows.slice(4)) fills.set(row[1]?.value, row[0]?.fill);
    expect(new Set(fills.values()).size).toBe(fills.size);
    expect(fills.size).toBeGreaterThanOrEqual(4);
  });

  it('keeps header and tag in view, filters, and prints on one width with header and footer', () => {
    const schedule = sheetOf(sheets, 'Schedule');
    expect(schedule.frozen).toBe(`B${header + 1}`);
    expect(schedule.filter).toMatch(new RegExp(`^A${header}:[A-Z]+${header + 90}$`));
    expect(schedule.titles).toBe(`$${header}:$${header}`);
    for (const sheet of sheets) {
      expect(sheet.orientation).toBe('landscape');
      expect(sheet.fitToWidth).toBe(1);
      expect(sheet.footer).toContain(planningAidSentence);
    }
  });
});

describe.skipIf(python === null)('needs python3 with openpyxl: what was edited', () => {
  it('is outlined, with the old value in the note', async () => {
    const demo = demoJob();
    const fixtures = demo.fixtures.map((f) => (f.tag === 'A-04' ? { ...f, spanM: 4.2672 } : f));
    const sheets = await read({ ...demo, fixtures });
    const rows = sheetOf(sheets, 'Schedule').rows;
    const place = rows[4]?.findIndex((c) => c.value === 'Span ft') ?? -1;
    const cellOf = (tag: string): OtherCell | undefined =>
      rows.find((row) => row[0]?.value === tag)?.[place];
    expect(cellOf('A-04')).toMatchObject({ value: 14, border: 'medium' });
    expect(cellOf('A-04')?.note).toContain('had: 12');
    expect(cellOf('A-05')).toMatchObject({ value: 12, note: null });
    expect(cellOf('A-05')?.border).not.toBe('medium');
  });
});

describe.skipIf(python === null)('needs python3 with openpyxl: texts that go wrong', () => {
  // Of the escapes of ECMA-376 22.9.2.19 openpyxl knows only _x005F_, and drops "x005F_" anywhere.
  const escaped = (c: string) =>
    `_x${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}_`;
  const asOpenpyxlHasIt = (text: string) =>
    text.replaceAll('x005F_', '').replace(/[^\P{Cc}\t\n]/gu, escaped);

  it('arrive as they are, as text', async () => {
    const sheets = await read(hazardJob());
    const { rows } = sheetOf(sheets, 'Schedule');
    const at = rows.findIndex((row) => row[0]?.value === 'Tag');
    expect(rows[at]?.slice(0, 3).map((c) => c.value)).toEqual(['Tag', '__proto__', '=Remarks']);
    hazards.forEach((text, i) => {
      for (const cell of rows[at + 1 + i]?.slice(0, 3) ?? []) {
        expect(cell.value).toBe(asOpenpyxlHasIt(text));
        expect(cell.type).toBe('s');
        expect(cell.quoted).toBe(/^[=+\-@\t\r]/.test(text));
      }
    });
  });

  it('never become formulas, on any sheet', async () => {
    for (const sheet of await read(hazardJob())) {
      for (const row of sheet.rows) for (const cell of row) expect(cell.type).not.toBe('f');
    }
  });
});
