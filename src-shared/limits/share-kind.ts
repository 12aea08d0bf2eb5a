import { type FixtureFacts, nameKey } from '../solve/fixture-facts.ts';

/** Type and mode of a fixture, for share sets: members must agree. A type's only mode counts as written. */
export function shareKind({ fixture, type, footprint, footprintSource }: FixtureFacts): string {
  const mode = footprintSource === 'only-mode' ? (type?.modes[0]?.name ?? '') : fixture.mode;
  return [nameKey(fixture.type ?? ''), nameKey(mode ?? ''), footprint ?? ''].join('\u0000');
}
