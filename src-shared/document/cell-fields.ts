/** Which field of which record a column edits. */
import type { ColumnId } from '../columns/column-table.ts';
import type { Circuit, FixtureField, Run, RunField } from './project.ts';

export const fixtureFieldOf: Readonly<Partial<Record<ColumnId, FixtureField>>> = {
  tag: 'tag',
  type: 'type',
  run: 'run',
  place: 'place',
  fedFrom: 'fedFrom',
  span: 'spanM',
  installed: 'installedM',
  load: 'loadW',
  powerFactor: 'powerFactor',
  universe: 'universe',
  address: 'address',
  mode: 'mode',
  footprint: 'footprint',
  unitLoad: 'unitLoad',
  leakage: 'leakageMa',
  shareSet: 'shareSet',
  location: 'location',
  reach: 'reach',
  area: 'area',
  description: 'description',
  remarks: 'remarks',
};

export const runFieldOf: Readonly<
  Partial<Record<ColumnId, Exclude<keyof Run, 'name' | 'circuitId' | 'locks'> & RunField>>
> = {
  supply: 'supplyV',
  line: 'line',
  conductor: 'conductor',
  homeRun: 'homeRunM',
  leadIn: 'leadInM',
};

export const circuitFieldOf: Readonly<Partial<Record<ColumnId, Exclude<keyof Circuit, 'id'>>>> = {
  panel: 'panel',
  circuit: 'name',
  breaker: 'breakerA',
  protection: 'protection',
};

/** The statement a row can make about its run, by column. */
export const statementFieldOf: Readonly<Partial<Record<ColumnId, RunField>>> = {
  ...runFieldOf,
  panel: 'panel',
  circuit: 'circuit',
  breaker: 'breakerA',
  protection: 'protection',
};
