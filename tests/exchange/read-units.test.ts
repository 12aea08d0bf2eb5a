/**
 * Units, decimal marks and numbers of single cells. 1 ft = 0.3048 m and 1 in = 0.0254 m exactly
 * (NIST SP 811, Appendix B); the rules are the check command's contract, the cases invented.
 */
import { describe, expect, it } from 'vitest';
import type { ProfileId } from '../../src-shared/document/project.ts';
import { type CellInput, readingAt, readingsOf, readRowsOf } from './build-workbook.ts';

function spans(header: string, cells: readonly CellInput[], profile?: ProfileId) {
  const rows = cells.map((cell, i) => [`F${i}`, 'R', i + 1, cell]);
  const options = profile === undefined ? {} : { profile };
  const project = readRowsOf([['Tag', 'Run', 'Place', header], ...rows], {}, options);
  const confidence = cells.map(
    (_, i) => readingAt(project, `Schedule!D${i + 2}`)?.confidence ?? null,
  );
  return { project, values: project.fixtures.map((f) => f.spanM), confidence };
}

describe('lengths', () => {
  it('with a unit in the header are plain', () => {
    expect(spans('Span ft', [12, '12.5', 0])).toMatchObject({
      values: [3.6576, 3.81, 0],
      confidence: [null, null, null],
    });
  });

  it('take the unit of their cell first, told when it is another', () => {
    const { values, confidence } = spans('Span ft', ['3.81 m', '12 ft', '12\'-6"', '3810 mm']);
    expect(values).toEqual([3.81, 3.6576, 3.81, 3.81]);
    expect(confidence).toEqual(['sure', null, 'sure', 'sure']);
  });

  it('take it from a number format', () => {
    const { values, confidence } = spans('Span', [{ text: '7.5 m', value: 7.5, kind: 'number' }]);
    expect(values).toEqual([7.5]);
    expect(confidence).toEqual([null]);
  });

  it('without unit take that of the rest of the sheet, told', () => {
    const { values, confidence } = spans('Span', ['3 m', '4 m', 5]);
    expect(values).toEqual([3, 4, 5]);
    expect(confidence).toEqual([null, null, 'likely']);
  });

  it('without unit anywhere take the profile’s, as a guess', () => {
    expect(spans('Span', [10])).toMatchObject({ values: [3.048], confidence: ['guess'] });
    expect(spans('Span', [10], 'iec')).toMatchObject({ values: [10], confidence: ['guess'] });
  });

  it('take what the title block says before they guess', () => {
    const project = readRowsOf([
      ['Lengths in metres unless noted.'],
      ['Tag', 'Run', 'Place', 'Span'],
      ['A', 'R', 1, 4],
    ]);
    expect(project.fixtures[0]?.spanM).toBe(4);
    expect(readingAt(project, 'Schedule!D3')?.confidence).toBe('likely');
  });

  it('of 1000 or more, bare in a metric sheet, are mm', () => {
    const { values, confidence } = spans('Span', ['2 m', 3810, '999', '4500'], 'iec');
    expect(values).toEqual([2, 3.81, 999, 4.5]);
    expect(confidence).toEqual([null, 'guess', 'likely', 'guess']);
    expect(spans('Span mm', [3810]).values).toEqual([3.81]);
    expect(spans('Span ft', [1200]).values).toEqual([365.76]);
  });

  it('bare among mm are metres, as a guess, where they can hardly be mm', () => {
    const { values, confidence, project } = spans('Span', ['2500 mm', 2500, 2.5, '12.5', 800]);
    expect(values).toEqual([2.5, 2.5, 2.5, 12.5, 0.8]);
    expect(confidence).toEqual([null, 'likely', 'guess', 'guess', 'likely']);
    expect(readingAt(project, 'Schedule!D4')?.offer).toBe('2.5 mm');
    // Where the header says mm it holds.
    expect(spans('Span mm', [2.5]).values).toEqual([0.0025]);
  });

  it('are told without the rounding of a change of units', () => {
    const { project } = spans('Span ft', ['12.345,6']);
    expect(readingAt(project, 'Schedule!D2')?.note).toContain('12345.6 may be millimetres');
  });

  it('that are negative or no length are null and told', () => {
    const { values, confidence } = spans('Span m', [-2, '-2 m', 'EQ', 'TBC', '-', '12-6']);
    expect(values).toEqual([null, null, null, null, null, null]);
    expect(confidence).toEqual(['refused', 'refused', 'refused', 'refused', 'sure', 'refused']);
  });

  it('that are absurd stand as they are', () => {
    expect(spans('Span m', [300]).values).toEqual([300]);
  });

  it('of a formula without a stored result are null and told', () => {
    const { values, confidence } = spans('Span m', [
      { text: '', value: null, kind: 'text', formula: 'C2*2' },
      { text: '4', value: 4, kind: 'number', formula: 'C2*2' },
      { text: '#REF!', value: '#REF!', kind: 'error' },
      true,
    ]);
    expect(values).toEqual([null, 4, null, null]);
    expect(confidence).toEqual(['refused', null, 'refused', 'refused']);
  });

  it('keep a decimal comma apart from thousands, told', () => {
    const { values, confidence } = spans('Span (m)', ['7,5', '2,40 m', '1,234', 8]);
    expect(values).toEqual([7.5, 2.4, 1.234, 8]);
    expect(confidence).toEqual(['likely', 'likely', 'likely', null]);
    expect(spans('Span (m)', ['7.5', '2,5']).values).toEqual([7.5, 2.5]);
  });

  it('behind @ and with c/c', () => {
    expect(spans('Spacing', ['@ 2.5 m c/c']).values).toEqual([2.5]);
  });
});

describe('other quantities', () => {
  const one = (header: string, cell: CellInput) => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place', header],
      ['A', 'R', 1, cell],
    ]);
    return { project, reading: readingAt(project, 'Schedule!D2') };
  };

  it.each([
    ['Supply', '208V 1φ', 208],
    ['Supply', '208/1', 208],
    ['Supply V', 277, 277],
    ['Supply', 230, 230],
    ['Supply', 'UNV', null],
    ['Supply', '208Y/120', null],
    ['Supply', 0, null],
  ] as const)('%s %s', (header, cell, value) => {
    const { project, reading } = one(header, cell);
    expect(project.runs[0]?.supplyV).toBe(value);
    if (value === null) expect(reading?.confidence).toBe('refused');
  });

  it.each([
    ['20 A', 20],
    ['20', 20],
    [16, 16],
    ['B16', 16],
    ['-20', null],
  ] as const)('breaker %s', (cell, value) => {
    expect(one('Breaker', cell).project.circuits[0]?.breakerA).toBe(value);
  });

  it.each([
    [0.95, 0.95, null],
    ['0,95', 0.95, 'likely'],
    ['95 %', 0.95, 'sure'],
    [95, 0.95, 'guess'],
    ['0.95 lag', 0.95, null],
    [1.2, null, 'refused'],
    [0, null, 'refused'],
  ] as const)('power factor %s', (cell, value, confidence) => {
    const { project, reading } = one('pf', cell);
    expect(project.fixtures[0]?.powerFactor).toBe(value);
    expect(reading?.confidence ?? null).toBe(confidence);
  });

  it.each([
    ['1/2', 0.5],
    [1, 1],
    ['1/8 UL', 0.125],
  ] as const)('unit load %s', (cell, value) => {
    expect(one('Unit load', cell).project.fixtures[0]?.unitLoad).toBe(value);
  });

  it('leakage is in mA', () => {
    expect(one('Leakage', 0.75).project.fixtures[0]?.leakageMa).toBe(0.75);
    expect(one('Leakage mA', '0.5 mA').project.fixtures[0]?.leakageMa).toBe(0.5);
  });

  it.each([
    ['Conductor', '#12', '12 AWG', 'sure'],
    ['Conductor', '12 AWG', '12 AWG', null],
    ['Wire AWG', 12, '12 AWG', null],
    ['CSA mm2', 2.5, '2.5 mm²', null],
    ['Conductor', 12, '12 AWG', 'guess'],
    ['Conductor', 'as per spec', null, 'refused'],
  ] as const)('%s %s', (header, cell, value, confidence) => {
    const { project, reading } = one(header, cell);
    expect(project.runs[0]?.conductor).toBe(value);
    expect(reading?.confidence ?? null).toBe(confidence);
  });
});

describe('loads', () => {
  const load = (
    header: string,
    cell: CellInput,
    pf: number | null = null,
    supply: number | null = null,
  ) => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place', 'pf', 'Supply V', header],
      ['A', 'R', 1, pf, supply, cell],
    ]);
    return [project.fixtures[0]?.loadW, readingAt(project, 'Schedule!F2')?.confidence ?? null];
  };

  it.each([
    ['Load W', 87, 87, null],
    ['Watts', '87', 87, null],
    ['Load', '87W', 87, null],
    ['Load', '87 W max', 87, null],
    ['Load kW', 0.087, 87, null],
    ['Load', '0.087 kW', 87, 'sure'],
    ['Load', 87, 87, 'guess'],
    ['Load W', -5, null, 'refused'],
    ['Load W', 5000, 5000, null],
  ] as const)('%s %s', (header, cell, watts, confidence) => {
    const [value, told] = load(header, cell);
    expect(value === null || value === undefined ? value : Number(value)).toEqual(
      watts === null ? null : expect.closeTo(watts, 9),
    );
    expect(told).toBe(confidence);
  });

  it('in VA need a power factor: W = VA · pf', () => {
    expect(load('Load', '100 VA', 0.9)).toEqual([90, 'likely']);
    expect(load('VA', 100, 0.9)).toEqual([90, 'likely']);
    expect(load('Load', '100 VA')).toEqual([null, 'refused']);
  });

  it('in A need supply and power factor: W = A · V · pf', () => {
    expect(load('Load', '0.5 A', 0.9, 200)).toEqual([90, 'guess']);
    expect(load('Load A', 0.5, 0.9, 200)).toEqual([90, 'guess']);
    expect(load('Load', '0.5 A', 0.9)).toEqual([null, 'refused']);
    expect(load('Load', '0.5 A', null, 200)).toEqual([null, 'refused']);
  });

  it('take the power factor of the type and the supply of the run', () => {
    const project = readRowsOf([
      ['Tag', 'Run', 'Place', 'pf', 'Supply V', 'Load'],
      ['A', 'R', 1, null, 200, '10 W'],
      ['B', 'R', 2, 0.5, null, '1 A'],
    ]);
    expect(project.fixtures[1]?.loadW).toBe(100);
  });

  it('headed as a total are shared out', () => {
    const project = readRowsOf([
      ['Tag', 'Type', 'Qty', 'Total watts'],
      ['A', 'T', 4, 200],
      ['B', 'T', 1, 50],
    ]);
    expect(project.fixtures.map((f) => f.loadW)).toEqual([50, 50, 50, 50, 50]);
    expect(readingsOf(project).some((r) => r.note.includes('shared among 4'))).toBe(true);
  });
});
