import type { ColumnId } from '../../columns/column-table.ts';
import type { RunResult } from '../../solve/run-result.ts';
import { formatLength } from '../../units/format-quantity.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { idsOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { listed } from '../words/shared-words.ts';
import { sayUnlikely } from '../words/value-words.ts';

/** Ranges outside which a value is more often a slip than a fact. Common practice, no source. */
const usual = {
  loadW: { min: 1, max: 2000 },
  powerFactor: { min: 0.4, max: 1 },
  spanM: { min: 0, max: 100 },
  homeRunM: { min: 0, max: 500 },
  supplyV: { min: 90, max: 600 },
  footprint: { min: 1, max: 128 },
};

const isOutside = (value: number | null, range: { min: number; max: number }): value is number =>
  value !== null && (value < range.min || value > range.max);

/** Whether every value is there and within its range: the words below are made for the others only. */
function isUsual(run: RunResult): boolean {
  const within = (value: number | null | undefined, range: { min: number; max: number }) =>
    value !== null && value !== undefined && !isOutside(value, range);
  if (!run.homeRunKnown || !within(run.homeRunM, usual.homeRunM)) return false;
  if (!within(run.supplyV, usual.supplyV)) return false;
  return run.facts.every(
    ({ loadW, powerFactor, footprint }, i) =>
      within(loadW, usual.loadW) &&
      within(powerFactor, usual.powerFactor) &&
      within(footprint, usual.footprint) &&
      within(run.spanM[i], usual.spanM),
  );
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  if (isUsual(run)) return [];
  const where = `run ${run.run.name}`;
  const unit = context.project.settings.displayUnit;
  const outcomes: Outcome[] = [];
  const add = (
    what: string,
    column: ColumnId,
    hits: readonly (readonly [string, number])[],
    show: (v: number) => string,
    range: string,
  ) => {
    if (hits.length === 0) return;
    const ids = hits.map(([id]) => id);
    const values = [...new Set(hits.map(([, value]) => show(value)))];
    const message = sayUnlikely({ what, where, values, usual: range });
    outcomes.push({
      ...plainOutcome('watch', what, ids, marksOf(ids, column), message),
      value: hits[0]?.[1] ?? null,
    });
  };
  const pick = (value: (index: number) => number | null, range: { min: number; max: number }) =>
    run.facts.flatMap((f, index) => {
      const v = value(index);
      return isOutside(v, range) ? [[f.fixture.id, v] as const] : [];
    });
  const first = run.facts.slice(0, 1).map((f) => f.fixture.id);
  const ofRun = (value: number | null, range: { min: number; max: number }) =>
    isOutside(value, range) ? first.map((id) => [id, value] as const) : [];
  const feet = (m: number) => formatLength(m, unit);
  const watts = (i: number) => run.facts[i]?.loadW ?? null;
  add(
    'watts',
    'load',
    pick(watts, usual.loadW),
    (v) => `${v} W`,
    `${usual.loadW.min} to ${usual.loadW.max} W`,
  );
  add(
    'power factor',
    'powerFactor',
    pick((i) => run.facts[i]?.powerFactor ?? null, usual.powerFactor),
    (v) => `${v}`,
    `${usual.powerFactor.min} to ${usual.powerFactor.max}`,
  );
  add(
    'span',
    'span',
    pick((i) => run.spanM[i] ?? null, usual.spanM),
    feet,
    `up to ${feet(usual.spanM.max)}`,
  );
  add(
    'home run',
    'homeRun',
    ofRun(run.homeRunKnown ? run.homeRunM : null, usual.homeRunM),
    feet,
    `up to ${feet(usual.homeRunM.max)}`,
  );
  add(
    'supply voltage',
    'supply',
    ofRun(run.supplyV, usual.supplyV),
    (v) => `${v} V`,
    `${usual.supplyV.min} to ${usual.supplyV.max} V`,
  );
  add(
    'footprint',
    'footprint',
    pick((i) => run.facts[i]?.footprint ?? null, usual.footprint),
    (v) => `${v} slots`,
    `${usual.footprint.min} to ${usual.footprint.max} slots`,
  );
  const missing = missingIn(run);
  if (missing.what.length > 0) {
    const need = listed(missing.what);
    outcomes.push(notChecked('Unlikely value', where, need, missing.fixtureIds, [], 'unknown'));
  }
  return outcomes;
}

/** Which of the values looked at are not there, and on which fixtures. */
function missingIn(run: RunResult): { what: string[]; fixtureIds: string[] } {
  const what: string[] = [];
  const fixtureIds = new Set<string>();
  const note = (word: string, ids: readonly string[]) => {
    if (ids.length > 0) what.push(word);
    for (const id of ids) fixtureIds.add(id);
  };
  const lacking = (value: (index: number) => number | null) =>
    idsOf(run.facts.filter((_, i) => value(i) === null));
  const first = idsOf(run.facts.slice(0, 1));
  note(
    'watts',
    lacking((i) => run.facts[i]?.loadW ?? null),
  );
  note(
    'power factor',
    lacking((i) => run.facts[i]?.powerFactor ?? null),
  );
  note(
    'span',
    lacking((i) => run.spanM[i] ?? null),
  );
  note('home run', run.homeRunKnown ? [] : first);
  note('supply voltage', run.supplyV === null ? first : []);
  note(
    'footprint',
    lacking((i) => run.facts[i]?.footprint ?? null),
  );
  return { what, fixtureIds: [...fixtureIds] };
}

/** Values that are more often a slip of unit or digits. Used as they stand. */
export const unlikelyValue: RunLimit = {
  id: 'unlikely-value',
  title: 'Unlikely value',
  basis: 'Usual ranges; common practice, no source.',
  needs: 'the values themselves',
  scope: 'run',
  check,
  remedies: () => [
    'Check the value against the drawing or the data sheet; it is used as it stands.',
  ],
};
