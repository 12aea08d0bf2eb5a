import { beforeEach, describe, expect, test } from 'vitest';
import {
  counts,
  dirty,
  history,
  noFile,
  openJob,
  project,
  redoStep,
  run,
  undoStep,
} from '../../src-renderer/state/document-store.ts';
import {
  clearCell,
  insertBehind,
  removeRow,
  toggleLock,
  typeIntoCell,
} from '../../src-renderer/state/edit-schedule.ts';
import { notice } from '../../src-renderer/state/notice.ts';
import { windowTitle } from '../../src-renderer/state/start.ts';
import { markSaved } from '../../src-shared/document/history.ts';
import { writeProject } from '../../src-shared/format/project-json.ts';
import { demoJob } from './demo-rows.ts';

const start = demoJob().project;
const fixture = (id: string) => project.value?.fixtures.find((f) => f.id === id);
const text = () => (project.value === null ? '' : writeProject(project.value));

beforeEach(() => openJob(start, noFile, false));

describe('the open job', () => {
  test('undo of everything leaves the very bytes, and the job is clean again', () => {
    const bytes = text();
    typeIntoCell('f3', 'span', '15 ft');
    typeIntoCell('f4', 'load', '95 W');
    expect(insertBehind('f4')).toBe('f91');
    removeRow('f9');
    toggleLock('f12', 'address');
    expect(dirty.value).toBe(true);
    expect(windowTitle()).toBe('• unsaved: Foxglove Roundhouse Museum – Runledger');
    for (let n = 0; n < 5; n += 1) expect(undoStep()).toBe(true);
    expect(undoStep()).toBe(false);
    expect(text()).toBe(bytes);
    expect(dirty.value).toBe(false);
    for (let n = 0; n < 5; n += 1) expect(redoStep()).toBe(true);
    expect(redoStep()).toBe(false);
    expect(dirty.value).toBe(true);
  });

  test('units toggled a hundred times leave the bytes', () => {
    typeIntoCell('f3', 'span', '12.345 ft');
    const bytes = text();
    for (let n = 0; n < 100; n += 1) {
      const settings = project.value?.settings;
      if (settings === undefined) throw new Error('no job');
      const value = { ...settings, displayUnit: n % 2 === 0 ? 'm' : 'ft' } as const;
      run({ label: 'unit', changes: [{ kind: 'part', part: 'settings', value }] });
    }
    expect(text()).toBe(bytes);
  });

  test('a saved job is clean, undo behind it is not', () => {
    typeIntoCell('f3', 'span', '15 ft');
    if (history.value !== null) history.value = markSaved(history.value);
    expect(dirty.value).toBe(false);
    undoStep();
    expect(dirty.value).toBe(true);
    redoStep();
    expect(dirty.value).toBe(false);
  });

  test('recovered work counts as unsaved at once', () => {
    openJob(start, noFile, true);
    expect(dirty.value).toBe(true);
  });

  test('a refused entry keeps the old value, takes no step and says why', () => {
    const before = history.value?.past.length;
    typeIntoCell('f3', 'span', 'abc');
    expect(fixture('f3')?.spanM).toBeCloseTo(3.6576, 12);
    expect(history.value?.past.length).toBe(before);
    expect(notice.value).toMatchObject({ tone: 'alert', text: expect.stringContaining('Span') });
    typeIntoCell('f3', 'address', '513');
    expect(notice.value).toMatchObject({ tone: 'alert', text: 'Start address is 1 to 512.' });
  });

  test('a locked cell refuses typing and clearing; its row is not removed', () => {
    toggleLock('f3', 'span');
    typeIntoCell('f3', 'span', '20 ft');
    expect(notice.value).toMatchObject({ tone: 'alert', text: 'Span of A-03 is locked.' });
    clearCell('f3', 'span');
    expect(fixture('f3')?.spanM).toBeCloseTo(3.6576, 12);
    removeRow('f3');
    expect(fixture('f3')).toBeDefined();
    toggleLock('f3', 'span');
    removeRow('f3');
    expect(fixture('f3')).toBeUndefined();
  });

  test('a solved column takes no lock', () => {
    toggleLock('f3', 'drop');
    expect(notice.value?.tone).toBe('alert');
    expect(fixture('f3')?.locks).toEqual([]);
  });

  // The edit the demo's own text proposes: D-14 on 163 meets.
  test('findings follow the entry', () => {
    const before = counts.value.breach;
    const d14 = start.fixtures.find((f) => f.tag === 'D-14')?.id ?? '';
    typeIntoCell(d14, 'address', '163');
    expect(counts.value.breach).toBe(before + 1);
    undoStep();
    expect(counts.value.breach).toBe(before);
  });
});
