/** What a fixture is fed from, in the tags of the first file. */

import { looseKey } from '../schedule/cell-text.ts';
import type { FixtureDraft } from '../schedule/expand-row.ts';
import { giverOf } from '../schedule/row-draft.ts';
import { tellRow } from '../schedule/tell-row.ts';

/** Tags of a further file → the tags their fixtures have. Tags that are the same are not in it. */
export function otherTags(
  pairs: readonly (readonly [first: FixtureDraft, second: FixtureDraft])[],
): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const [first, second] of pairs) {
    if (first.tag === null || second.tag === null || first.tag === second.tag) continue;
    names.set(looseKey(second.tag), first.tag);
  }
  return names;
}

/** The drafts with feeders that `file` names by its own tags named by the fixtures' tags, told. */
export function withFeederTags(
  drafts: readonly FixtureDraft[],
  names: ReadonlyMap<string, string>,
  file: number,
): readonly FixtureDraft[] {
  if (names.size === 0) return drafts;
  return drafts.map((draft) => {
    const { row } = draft;
    const { fedFrom } = row.text;
    if (fedFrom === undefined || giverOf(row, 'fedFrom').part.file !== file) return draft;
    const tag = names.get(looseKey(fedFrom));
    if (tag === undefined) return draft;
    tellRow(row, 'fedFrom', { value: tag, confidence: 'likely', note: `${fedFrom} is ${tag}` });
    return { ...draft, row: { ...row, text: { ...row.text, fedFrom: tag } } };
  });
}
