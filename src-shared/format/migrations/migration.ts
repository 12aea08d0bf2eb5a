/**
 * One step from a version of the project file to the next. Pure, on raw JSON; never imports today's
 * document types, so that it keeps meaning what it meant when it was written. One file a step,
 * named `0001-to-0002.migration.ts`, listed in `migration-list.ts`.
 */
export interface Migration {
  /** Version it reads; it leaves `from + 1`. */
  readonly from: number;
  /** What the step changes, in words. */
  readonly what: string;
  /** The `project` member of the file; may throw on a file that does not hold what its version says. */
  readonly migrate: (project: unknown) => unknown;
}
