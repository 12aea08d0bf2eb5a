import { describe, expect, test } from 'vitest';
import { ownFindings, updateRows } from '../../src-renderer/state/row-model.ts';
import { insertAfter } from '../../src-shared/document/edit-rows.ts';
import { demoJob, rowOf, rowsOf } from './demo-rows.ts';

describe('rows of the schedule', () => {
  test('a head row a run, then its fixtures in order of place', () => {
    const rows = rowsOf(demoJob());
    expect(rows.length).toBe(96);
    expect(rows.filter((row) => row.kind === 'head').map((row) => row.id)).toEqual(
      ['A1', 'A2', 'A3', 'B1', 'C1', 'D1'].map((run) => `head:${run}`),
    );
    expect(rows[0]?.kind).toBe('head');
    expect(rowOf(rows, 'A-01').index).toBe(0);
    expect(rows.indexOf(rowOf(rows, 'A-18'))).toBe(18);
  });

  test('a value edit writes into the rows that are there', () => {
    const job = demoJob();
    const rows = rowsOf(job);
    const before = rowOf(rows, 'A-03').run;
    const elsewhere = rowOf(rows, 'C-03').run;
    job.edit('A-03', 'span', 6.096);
    const after = updateRows(rows, job.session);
    expect(after.moved).toBe(false);
    expect(after.rows).toBe(rows);
    expect(rowOf(rows, 'A-03').facts.fixture.spanM).toBe(6.096);
    expect(rowOf(rows, 'A-03').run).not.toBe(before);
    expect(rowOf(rows, 'C-03').run).toBe(elsewhere);
  });

  test('a new fixture moves rows but keeps the objects of those that stay', () => {
    const job = demoJob();
    const rows = rowsOf(job);
    const kept = rowOf(rows, 'D-01');
    const model = rowOf(rows, 'A-05');
    const command = insertAfter(job.project, model.id);
    if (command === null) throw new Error('no command');
    job.perform(command);
    const after = updateRows(rows, job.session);
    expect(after.moved).toBe(true);
    expect(after.rows.length).toBe(97);
    expect(rowOf(after.rows, 'D-01')).toBe(kept);
    expect(after.rows[6]?.kind === 'fixture' && after.rows[6].facts.fixture.tag).toBe(null);
  });

  test('a fixture taken off its run stands last, under a head of its own', () => {
    const job = demoJob();
    job.edit('B-10', 'run', null);
    const rows = rowsOf(job);
    expect(rows.at(-2)?.id).toBe('head:');
    const last = rows.at(-1);
    expect(last?.kind === 'fixture' && last.facts.fixture.tag).toBe('B-10');
    expect(last?.kind === 'fixture' && last.run).toBe(null);
  });

  test('a circuit over its load is no mark on every fixture of it', () => {
    const rows = rowsOf(demoJob());
    const titles = (tag: string) => ownFindings(rowOf(rows, tag)).map((f) => f.limit);
    expect(titles('A-20')).toEqual([]);
    expect(titles('A-14')).toEqual(['branch-drop']);
    expect(titles('A-18')).toEqual(['run-length', 'branch-drop']);
    expect(titles('C-02')).toContain('wrong-voltage');
    // It stands in the run's head row instead.
    const head = rows.find((row) => row.id === 'head:A2');
    expect(head?.findings.map((f) => f.limit)).toContain('circuit-load');
  });
});
