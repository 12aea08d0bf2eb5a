/** Findings by what they were found in, and as one list in order: merged, not sorted again, after an edit. */
import { type Finding, severityRank } from '../limits/finding.ts';
import { limitIds } from '../limits/limit.ts';

const limitOrder = new Map<string, number>(limitIds.map((id, order) => [id, order]));
const mostRuns = 2 ** 32;
/** With more findings changed than this the list is sorted anew. */
const mostMerged = 64;

export class FindingSet {
  private readonly byScope = new Map<string, readonly Finding[]>();
  private readonly countOf = new Map<string, number>();
  /** Ids that stand more than once. */
  private repeated = 0;
  private rankOf: ReadonlyMap<string, number> | null = null;
  private sorted: Finding[] | null = null;
  private shown: readonly Finding[] | null = null;

  /** Takes what was found in a scope, in place of what was found there before. */
  put(scope: string, findings: readonly Finding[]): void {
    const before = this.byScope.get(scope) ?? none;
    if (before.length === 0 && findings.length === 0) return;
    if (findings.length === 0) this.byScope.delete(scope);
    else this.byScope.set(scope, findings);
    for (const { id } of before) this.count(id, -1);
    for (const { id } of findings) this.count(id, 1);
    this.merge(before, findings);
    this.shown = null;
  }

  /** The order of runs, or the runs themselves, are others now. */
  forgetOrder(): void {
    this.rankOf = null;
    this.sorted = null;
    this.shown = null;
  }

  /** All of them, worst first, then in the order of limits and of these runs. */
  list(runs: Iterable<string>): readonly Finding[] {
    if (this.shown === null) {
      if (this.rankOf === null) {
        this.rankOf = new Map([...runs].map((name, order) => [name, order]));
      }
      this.sorted ??= this.sortAll();
      this.shown = this.repeated === 0 ? [...this.sorted] : withOwnIds(this.sorted);
    }
    return this.shown;
  }

  private count(id: string, step: number): void {
    const before = this.countOf.get(id) ?? 0;
    const now = before + step;
    if (now === 0) this.countOf.delete(id);
    else this.countOf.set(id, now);
    this.repeated += Number(now > 1) - Number(before > 1);
  }

  private sortAll(): Finding[] {
    const all = [...this.byScope.values()].flat();
    const placed = all.map((finding) => ({ finding, order: this.orderOf(finding) }));
    placed.sort((a, b) => a.order - b.order || byIdAndScope(a.finding, b.finding));
    return placed.map(({ finding }) => finding);
  }

  private merge(before: readonly Finding[], now: readonly Finding[]): void {
    const { sorted } = this;
    if (sorted === null) return;
    if (before.length + now.length > mostMerged) {
      this.sorted = null;
      return;
    }
    const places = before.map((finding) =>
      sorted.indexOf(finding, this.firstPlace(sorted, finding)),
    );
    const alike =
      before.length === now.length &&
      before.every((finding, i) => this.compare(finding, now[i] as Finding) === 0);
    if (alike) {
      places.forEach((place, i) => {
        sorted[place] = now[i] as Finding;
      });
      return;
    }
    places.sort((a, b) => b - a);
    for (const place of places) sorted.splice(place, 1);
    for (const finding of now) {
      let place = this.firstPlace(sorted, finding);
      while (place < sorted.length && this.compare(sorted[place] as Finding, finding) === 0)
        place += 1;
      sorted.splice(place, 0, finding);
    }
  }

  /** The first place that does not come before the finding. */
  private firstPlace(sorted: readonly Finding[], finding: Finding): number {
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (this.compare(sorted[middle] as Finding, finding) < 0) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  private compare(a: Finding, b: Finding): number {
    return this.orderOf(a) - this.orderOf(b) || byIdAndScope(a, b);
  }

  /** Severity, limit and run as one number. */
  private orderOf({ severity, limit, run }: Finding): number {
    const rank = run === null ? -1 : (this.rankOf?.get(run) ?? -1);
    return (severityRank(severity) * 64 + (limitOrder.get(limit) ?? 0)) * mostRuns + rank + 1;
  }
}

const none: readonly Finding[] = [];

function byIdAndScope(a: Finding, b: Finding): number {
  return byText(a.id, b.id) || byText(a.scope, b.scope);
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Names can stand twice (two rows of one tag, odd names of runs): then the later finding gets a number. */
function withOwnIds(findings: readonly Finding[]): Finding[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const count = (seen.get(finding.id) ?? 0) + 1;
    seen.set(finding.id, count);
    return count === 1 ? finding : { ...finding, id: `${finding.id}~${count}` };
  });
}
