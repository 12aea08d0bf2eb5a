/** What a fixture is fed from follows renames, removals, moves and inserts, on the demo job. */
import { describe, expect, it } from 'vitest';
import { insertAfter, removeFixtures } from '../../src-shared/document/edit-rows.ts';
import { OpenJob, openJob } from '../demo/open-job.ts';

const demo = openJob(new URL('../../src-main/demo/foxglove-roundhouse.xlsx', import.meta.url));

const chainFindings = (job: OpenJob) =>
  job.session.findings.filter(
    (f) =>
      ['branch', 'broken-chain'].includes(f.limit) &&
      f.severity !== 'not-checked' &&
      f.run !== 'D1',
  );
const idOf = (job: OpenJob, tag: string) =>
  job.project.fixtures.find((f) => f.tag === tag)?.id ?? '';
const feederOf = (job: OpenJob, tag: string) =>
  job.project.fixtures.find((f) => f.tag === tag)?.fedFrom;

describe('fed from', () => {
  it('follows a new tag', () => {
    const job = new OpenJob(demo);
    job.edit('A-05', 'tag', 'A-05x');
    expect(feederOf(job, 'A-06')).toBe('A-05x');
    expect(chainFindings(job)).toEqual([]);
  });

  it('closes over removed fixtures', () => {
    const job = new OpenJob(demo);
    job.perform(
      removeFixtures(
        job.project,
        ['A-05', 'A-06', 'A-01'].map((t) => idOf(job, t)),
      ),
    );
    expect(feederOf(job, 'A-07')).toBe('A-04');
    expect(feederOf(job, 'A-02')).toBe('BOX');
    expect(chainFindings(job)).toEqual([]);
  });

  it('follows a fixture to the end of another run', () => {
    const job = new OpenJob(demo);
    job.edit('A-05', 'run', 'A2');
    expect(feederOf(job, 'A-06')).toBe('A-04');
    expect(feederOf(job, 'A-05')).toBe('A-27');
    job.edit('A-06', 'run', 'A9');
    expect(feederOf(job, 'A-06')).toBe('BOX');
    expect(chainFindings(job)).toEqual([]);
  });

  it('waits for the tag of an inserted fixture: not checked, then whole', () => {
    const job = new OpenJob(demo);
    const command = insertAfter(job.project, idOf(job, 'A-05'));
    if (command === null) throw new Error('no row');
    job.perform(command);
    expect(feederOf(job, 'A-06')).toBeNull();
    expect(chainFindings(job)).toEqual([]);
    const branch = job.session.findings.find((f) => f.limit === 'branch' && f.run === 'A1');
    expect(branch?.severity).toBe('not-checked');
    const fresh = job.project.fixtures.find((f) => f.run === 'A1' && f.place === 6);
    job.editId(fresh?.id ?? '', 'tag', 'A-05b');
    expect(feederOf(job, 'A-06')).toBe('A-05b');
    expect(job.session.findings.some((f) => f.limit === 'branch' && f.run === 'A1')).toBe(false);
  });

  it('never touches a locked cell', () => {
    const job = new OpenJob(demo);
    job.perform({
      label: 'lock',
      changes: [
        {
          kind: 'set',
          table: 'fixtures',
          key: idOf(job, 'A-06'),
          field: 'locks',
          value: ['fedFrom'],
        },
      ],
    });
    job.edit('A-05', 'tag', 'A-05x');
    expect(feederOf(job, 'A-06')).toBe('A-05');
  });
});
