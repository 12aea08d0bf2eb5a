import type { RunResult } from '../../solve/run-result.ts';
import type { LimitContext, Outcome, RunLimit } from '../limit.ts';
import { labelOf, marksOf, notChecked, plainOutcome } from '../outcome.ts';
import { length as wordsOf } from '../words/shared-words.ts';
import { sayNoPieces } from '../words/value-words.ts';

function isBuildable({ line, spanM, piecesM }: RunResult, most: number): boolean {
  if (line === null || line.jumperLengthsM.length === 0) return false;
  for (let i = 0; i < spanM.length; i += 1) {
    const [span, pieces] = [spanM[i] ?? null, piecesM[i] ?? null];
    if (span === null || pieces === null || pieces.length > most) return false;
    if (pieces.length === 0 && span > 0) return false;
  }
  return line.leadInLengthsM.length > 0;
}

/** Jumpers are stated but no lead-ins: then nothing says what the lead-in is cut from. */
function lacksLeadIns({ line }: RunResult): boolean {
  return line !== null && line.jumperLengthsM.length > 0 && line.leadInLengthsM.length === 0;
}

function check(run: RunResult, context: LimitContext): Outcome[] {
  if (isBuildable(run, context.numbers.maxPiecesPerSpan)) return [];
  const where = `run ${run.run.name}`;
  const title = 'Stock pieces';
  const { line, facts } = run;
  const unit = context.project.settings.displayUnit;
  const most = context.numbers.maxPiecesPerSpan;
  const outcomes: Outcome[] = [];
  const unbuilt = new Map<string, number[]>();
  const silent: string[] = [];
  const hasJumpers = (line?.jumperLengthsM.length ?? 0) > 0;
  facts.forEach((f, index) => {
    const span = run.spanM[index] ?? null;
    const pieces = run.piecesM[index] ?? null;
    if (span === null || pieces === null || (index > 0 && !hasJumpers)) silent.push(f.fixture.id);
    else if (pieces.length === 0 && span > 0)
      push(unbuilt, `${index === 0 ? 'lead' : 'none'}:${span}`, index);
    else if (pieces.length > most) push(unbuilt, `many:${span}`, index);
  });
  for (const [key, indexes] of unbuilt) {
    const kind = key.slice(0, key.indexOf(':'));
    const at = indexes.flatMap((i) => facts[i] ?? []);
    const ids = at.map((f) => f.fixture.id);
    const needM = run.spanM[indexes[0] ?? 0] ?? 0;
    const longest = Math.max(
      0,
      ...(kind === 'lead' ? (line?.leadInLengthsM ?? []) : (line?.jumperLengthsM ?? [])),
    );
    const why =
      kind === 'many'
        ? `it takes more than ${most} pieces, each with a joint`
        : kind === 'lead'
          ? `the longest lead-in of line ${line?.name ?? ''} is ${wordsOf(longest, unit)}`
          : `no stock length of line ${line?.name ?? ''} serves`;
    const buildable = kind === 'many';
    const tags = at.map(labelOf);
    const message = sayNoPieces({ run: run.run.name, tags, needM, unit, why, buildable });
    outcomes.push({
      ...plainOutcome(
        // Many pieces can be laid; where many begin is our own figure, and breaks nothing.
        buildable ? 'watch' : 'breach',
        key,
        ids,
        marksOf(ids, indexes[0] === 0 ? 'leadIn' : 'span'),
        message,
      ),
      value: needM,
      unit: 'm',
    });
  }
  const first = facts[0]?.fixture.id;
  if (lacksLeadIns(run) && first !== undefined) {
    const need = `the stock lead-ins of line ${line?.name ?? ''}`;
    outcomes.push(notChecked(title, where, need, [first], marksOf([first], 'leadIn'), 'lead-in'));
  }
  if (silent.length > 0) {
    const need = hasJumpers ? 'every span' : 'the stock lengths of the line';
    outcomes.push(
      notChecked(title, where, need, silent, hasJumpers ? marksOf(silent, 'span') : []),
    );
  }
  return outcomes;
}

function push(map: Map<string, number[]>, key: string, index: number): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [index]);
  else list.push(index);
}

/** Every span must be buildable from the line's stock lengths, the lead-in from its lead-ins. */
export const noStockPieces: RunLimit = {
  id: 'no-stock-pieces',
  title: 'Stock pieces',
  basis:
    'Stock lengths of the line; a jumper is never cut (listing). More than six pieces in a span is a watch, our own figure, no source.',
  needs: 'stock lengths of the line, every span',
  scope: 'run',
  check,
  remedies: () => [
    'Add a longer stock length to the line, or put a fixture or the head box nearer.',
  ],
};
