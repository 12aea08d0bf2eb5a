import type { LimitContext, Outcome, OutputLimit, OutputResult } from '../limit.ts';
import { idsOf, marksOf, notChecked, over } from '../outcome.ts';
import { sayUnitLoads } from '../words/data-words.ts';

/** The sender on the output counts as one unit load. */
export const senderLoads = 1;

function check(output: OutputResult, context: LimitContext): Outcome[] {
  const where = output.assumed
    ? `data output of run ${output.runs[0]?.run.name ?? ''}`
    : `data output ${output.name}`;
  const lacking: string[] = [];
  let loads = 0;
  for (const { facts } of output.runs) {
    for (const f of facts) {
      if (f.unitLoad === null) lacking.push(f.id);
      loads += f.unitLoad ?? 0;
    }
  }
  const allowed = context.numbers.unitLoadsPerOutput;
  const total = loads + senderLoads;
  const broken = over(total, allowed);
  const outcomes: Outcome[] = [];
  if (broken || (lacking.length === 0 && over(total, allowed * context.numbers.watchShare))) {
    const ids = output.runs.flatMap((run) => idsOf(run.facts));
    outcomes.push({
      severity: broken ? 'breach' : 'watch',
      part: '',
      fixtureIds: ids,
      marks: marksOf(ids.slice(0, 1), 'unitLoad'),
      value: total,
      allowed,
      unit: 'unit loads',
      level: null,
      message: sayUnitLoads({
        where,
        loads,
        sender: senderLoads,
        allowed,
        count: ids.length,
        broken,
      }),
    });
  } else if (lacking.length > 0) {
    outcomes.push(
      notChecked(
        'Unit loads',
        where,
        'the unit load of the fixtures',
        lacking,
        marksOf(lacking, 'unitLoad'),
      ),
    );
  }
  return outcomes;
}

function remedies(output: OutputResult, context: LimitContext): string[] {
  const facts = output.runs.flatMap((run) => run.facts);
  const most = Math.max(0, ...facts.map((f) => f.unitLoad ?? 0));
  const room = context.numbers.unitLoadsPerOutput - senderLoads;
  const count = most === 0 ? 0 : Math.floor(room / most + 1e-9);
  return count === 0
    ? []
    : [
        `At most ${count} such fixtures on one output; feed the rest from a further output of the splitter.`,
      ];
}

/** EIA-485 unit loads on one data output, the sender included. */
export const unitLoads: OutputLimit = {
  id: 'unit-loads',
  title: 'Unit loads',
  basis:
    'EIA-485 by way of ANSI E1.11: 32 unit loads on one segment, the sender included. Verify in the adopted edition.',
  needs: 'unit load of every fixture on the output',
  scope: 'output',
  check,
  remedies,
};
