import type { Project } from '../../src-shared/document/project.ts';
import type { LimitId, Severity } from '../../src-shared/limits/limit.ts';

/** The three cases of a limit, the same job before and after one input was corrected, and what is expected. */
export interface LimitCase {
  readonly id: LimitId;
  readonly passing: Project;
  readonly failing: Project;
  /** The failing job with the one wrong input corrected. */
  readonly corrected: Project;
  /** The passing job without one input that the limit needs. */
  readonly notChecked: Project;
  readonly expects: {
    readonly severity: Severity;
    /** To nine decimals. */
    readonly value?: number;
    readonly allowed?: number;
    readonly unit?: string;
    readonly run: string | null;
    readonly tags: readonly string[];
    /** Limits that the missing input turns to not checked; this one among them. */
    readonly notCheckedLimits: readonly LimitId[];
  };
}
