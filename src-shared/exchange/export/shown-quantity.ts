import { type LengthUnit, lengthInUnit } from '../../units/length.ts';

/** A finding's number in the unit it is shown in: lengths follow the project, all else stays SI. */
export function shownQuantity(
  value: number | null,
  unit: string | null,
  displayUnit: LengthUnit,
): { value: number | null; unit: string | null } {
  if (unit !== 'm') return { value, unit };
  return { value: lengthInUnit(value, displayUnit), unit: displayUnit };
}
