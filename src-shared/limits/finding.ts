import type { ProfileId } from '../document/project.ts';
import type { SupplyLevel } from '../solve/run-result.ts';
import {
  basisOf,
  type Limit,
  type LimitId,
  type Mark,
  type Outcome,
  type Severity,
  severities,
} from './limit.ts';

/** One broken, near or unchecked limit at a place, with the numbers. Plain data. */
export interface Finding {
  /** Stable while limit and place stay the same. */
  readonly id: string;
  readonly limit: LimitId;
  readonly title: string;
  /** Key of what was checked: run, circuit id, output, universe; empty for the project. */
  readonly scope: string;
  readonly severity: Severity;
  /** The run it belongs to; null where it spans several or none. */
  readonly run: string | null;
  readonly fixtureIds: readonly string[];
  readonly marks: readonly Mark[];
  readonly value: number | null;
  readonly allowed: number | null;
  readonly unit: string | null;
  readonly level: SupplyLevel | null;
  readonly message: string;
  readonly basis: string;
}

/** Makes the finding of an outcome. `scope`: key of what was checked; `shown`: its name, for the id. */
export function findingOf(
  limit: Limit,
  outcome: Outcome,
  scope: string,
  shown: string,
  run: string | null,
  profile: ProfileId,
): Finding {
  const place = [shown, outcome.part].filter((text) => text !== '').join('/');
  const suffix = outcome.severity === 'not-checked' ? '/not-checked' : '';
  return {
    id: `${limit.id}:${place}${suffix}`,
    limit: limit.id,
    title: limit.title,
    scope,
    severity: outcome.severity,
    run,
    fixtureIds: outcome.fixtureIds,
    marks: outcome.marks,
    value: outcome.value,
    allowed: outcome.allowed,
    unit: outcome.unit,
    level: outcome.level,
    message: outcome.message,
    basis: basisOf(limit, profile),
  };
}

export interface FindingCounts {
  readonly stop: number;
  readonly breach: number;
  readonly watch: number;
  readonly note: number;
  readonly notChecked: number;
}

export function countFindings(findings: readonly Pick<Finding, 'severity'>[]): FindingCounts {
  const counts = { stop: 0, breach: 0, watch: 0, note: 0, notChecked: 0 };
  for (const { severity } of findings) {
    if (severity === 'not-checked') counts.notChecked += 1;
    else counts[severity] += 1;
  }
  return counts;
}

const rankOf = new Map<Severity, number>(severities.map((severity, rank) => [severity, rank]));

/** 0 for the worst. */
export function severityRank(severity: Severity): number {
  return rankOf.get(severity) ?? severities.length;
}

/** The strongest thing the tool says when nothing is broken. */
export function summarySentence(counts: FindingCounts): string {
  if (counts.stop + counts.breach === 0) {
    return `No limit found broken with the data given; ${counts.notChecked} not checked.`;
  }
  const parts = [`${counts.stop} stop`, `${counts.breach} breach`, `${counts.watch} watch`];
  return `${parts.join(', ')}; ${counts.notChecked} not checked.`;
}

const inSentence = (title: string): string => title.charAt(0).toLowerCase() + title.slice(1);

type Titled = Pick<Finding, 'severity' | 'title'>;

/**
 * Titles in a line, each once: what was found first, then `not checked: wrong voltage, line rating`, so
 * that nobody reads a limit that was not checked as one that was found broken.
 */
export function titlesInLine(
  findings: readonly Titled[],
  found = (finding: Titled) => finding.title,
): string {
  const unchecked = findings.filter(({ severity }) => severity === 'not-checked');
  const broken = findings.filter(({ severity }) => severity !== 'not-checked');
  const parts = [...new Set(broken.map(found))];
  if (unchecked.length > 0) {
    const titles = [...new Set(unchecked.map(({ title }) => inSentence(title)))];
    parts.push(`not checked: ${titles.join(', ')}`);
  }
  return parts.join(', ');
}
