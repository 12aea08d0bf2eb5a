/** The source workbooks of a job, as the host holds them. */
import type { SourceFile } from '../projects/project-parts.ts';
import { answered, type Refused, refused } from './reasons.ts';
import type { ServiceParts } from './service-parts.ts';

export type FoundSources = { readonly ok: true; readonly value: readonly SourceFile[] } | Refused;

/** All of them, in order. A lost one is a reason, never left out silently. */
export function findSources({ store }: ServiceParts, ids: readonly string[]): FoundSources {
  const sources: SourceFile[] = [];
  for (const id of ids) {
    const source = store.get(id);
    if (source === null) {
      return refused(
        'source-gone',
        'Not saved. A source workbook is not held any more.',
        'source workbook',
        'Open the source workbook again, then save.',
      );
    }
    sources.push(source);
  }
  return answered(sources);
}

/** Those that come before the first lost one: places in the document's list stay true. */
export function sourcesAsFarAsHeld(
  { store }: ServiceParts,
  ids: readonly string[],
): readonly SourceFile[] {
  const sources: SourceFile[] = [];
  for (const id of ids) {
    const source = store.get(id);
    if (source === null) break;
    sources.push(source);
  }
  return sources;
}
