/** The written workbook opened by LibreOffice. */
import { beforeAll, describe, expect, it } from 'vitest';
import { writeMarkedUpWorkbook } from '../../src-main/workbook/write-workbook.ts';
import { contentOf } from '../../src-shared/exchange/export/export-table.ts';
import { FindingMarks } from '../../src-shared/exchange/export/finding-marks.ts';
import { headerRowOf } from '../../src-shared/exchange/export/schedule-layout.ts';
import { scheduleTable } from '../../src-shared/exchange/export/schedule-table.ts';
import { EngineSession } from '../../src-shared/session/engine-session.ts';
import { findProgram } from '../house/need.ts';
import { demoJob } from './demo-job.ts';
import { hazardJob, hazards } from './hazard-job.ts';
import { sheetsOfLibreOffice } from './other-programs.ts';

const soffice = findProgram('soffice') ?? findProgram('libreoffice');

describe.skipIf(soffice === null)('needs LibreOffice: the demo', () => {
  const project = demoJob();
  const session = new EngineSession(project);
  const table = scheduleTable(project, session, new FindingMarks(session));
  const header = headerRowOf(table);
  let bytes = new Uint8Array();
  let plain = new Map<string, string[][]>();
  beforeAll(async () => {
    bytes = new Uint8Array(await writeMarkedUpWorkbook(project));
    plain = sheetsOfLibreOffice(soffice ?? '', bytes, { shown: false, recalculated: false });
  });

  it('opens with every sheet', () => {
    expect([...plain.keys()].sort()).toEqual([
      'Assumptions and cautions',
      'Circuits',
      'Findings',
      'Lines',
      'Patch',
      'Project',
      'Runs',
      'Schedule',
      'Supplies',
      'Takeoff',
      'Types',
    ]);
  });

  it('has every value of the schedule', () => {
    const rows = plain.get('Schedule') ?? [];
    expect(rows[header - 1]).toEqual(table.columns.map((c) => c.header));
    table.rows.forEach((row, r) => {
      row.forEach((cell, c) => {
        const value = contentOf(cell);
        const there = rows[header + r]?.[c] ?? '';
        // It writes up to fifteen digits.
        if (typeof value === 'number') expect(Number(there)).toBeCloseTo(value, 9);
        else expect(there).toBe(value === null ? '' : String(value));
      });
    });
  });

  it('shows the letter before a marked value', () => {
    const shown = sheetsOfLibreOffice(soffice ?? '', bytes, { shown: true, recalculated: false });
    const rows = shown.get('Schedule') ?? [];
    const at = (tag: string, title: string) =>
      rows.find((row) => row[0] === tag)?.[rows[header - 1]?.indexOf(title) ?? -1];
    expect(at('C-01', 'Supply V')).toMatch(/^S +347$/);
    expect(at('A-01', 'Circuit')).toBe('B 1,3');
    expect(at('A-18', 'Cable so far (ft)')).toMatch(/^S +267\.00$/);
    expect(at('A-18', 'Volts here (V)')).toBe('199.98');
  });

  it('is the same when everything is calculated anew', () => {
    const anew = sheetsOfLibreOffice(soffice ?? '', bytes, { shown: false, recalculated: true });
    expect(anew).toEqual(plain);
  });
});

describe.skipIf(soffice === null)('needs LibreOffice: texts that go wrong', () => {
  it('stay the text they were', async () => {
    const bytes = await writeMarkedUpWorkbook(hazardJob());
    const sheets = sheetsOfLibreOffice(soffice ?? '', bytes, { shown: false, recalculated: true });
    const rows = sheets.get('Schedule') ?? [];
    const at = rows.findIndex((row) => row[0] === 'Tag');
    // LibreOffice drops control characters when it reads and ends lines with a line feed.
    const kept = (text: string) => text.replace(/[^\P{Cc}\t\n]/gu, '');
    hazards.forEach((text, i) => {
      expect(kept(rows[at + 1 + i]?.[0] ?? '')).toBe(kept(text));
    });
  });
});
