import type { Fixture, FixtureType } from '../document/project.ts';

/** How a footprint was found, or why there is none. */
export type FootprintSource =
  | 'typed'
  | 'mode'
  | 'only-mode'
  | 'mode-name'
  | 'mode-not-of-type'
  | 'unknown';

/** A fixture with its type applied: what the engine works with. `null` where nothing is known. */
export interface FixtureFacts {
  readonly fixture: Fixture;
  readonly type: FixtureType | null;
  readonly loadW: number | null;
  readonly powerFactor: number | null;
  readonly footprint: number | null;
  readonly footprintSource: FootprintSource;
  readonly unitLoad: number | null;
  readonly leakageMa: number | null;
  /** Absolute input window of the ordered option; from the printed one ±10 % where only that is known. */
  readonly minV: number | null;
  readonly maxV: number | null;
  readonly windowAssumed: boolean;
}

/** Look-up of types by name, blind to case and outer blanks. */
export type TypeIndex = ReadonlyMap<string, FixtureType>;

export function nameKey(name: string): string {
  return name.trim().toLowerCase();
}

export function indexTypes(types: readonly FixtureType[]): TypeIndex {
  return new Map(types.map((type) => [nameKey(type.name), type]));
}

const slotsInName = /^(\d{1,3})\s*-?\s*(?:ch|chs|channels?|slots?)$/i;

function footprintOf(
  fixture: Fixture,
  type: FixtureType | null,
): { footprint: number | null; source: FootprintSource } {
  if (fixture.footprint !== null) return { footprint: fixture.footprint, source: 'typed' };
  const modes = type?.modes ?? [];
  if (fixture.mode === null) {
    const only = modes.length === 1 ? modes[0] : undefined;
    return only === undefined
      ? { footprint: null, source: 'unknown' }
      : { footprint: only.footprint, source: 'only-mode' };
  }
  const wanted = nameKey(fixture.mode);
  const mode = modes.find((m) => nameKey(m.name) === wanted);
  if (mode !== undefined) return { footprint: mode.footprint, source: 'mode' };
  if (modes.length > 0) return { footprint: null, source: 'mode-not-of-type' };
  const slots = slotsInName.exec(wanted)?.[1];
  return slots === undefined
    ? { footprint: null, source: 'unknown' }
    : { footprint: Number(slots), source: 'mode-name' };
}

/** Printed window widened by 10 % both ways when no absolute one is known: an assumption, marked. */
function windowOf(type: FixtureType | null): Pick<FixtureFacts, 'minV' | 'maxV' | 'windowAssumed'> {
  if (type === null) return { minV: null, maxV: null, windowAssumed: false };
  const minV = type.absoluteMinV ?? (type.printedMinV === null ? null : type.printedMinV * 0.9);
  const maxV = type.absoluteMaxV ?? (type.printedMaxV === null ? null : type.printedMaxV * 1.1);
  const windowAssumed =
    (type.absoluteMinV === null && minV !== null) || (type.absoluteMaxV === null && maxV !== null);
  return { minV, maxV, windowAssumed };
}

/** Applies the type to a fixture. The row's own values win over the type's. */
export function factsOf(fixture: Fixture, types: TypeIndex): FixtureFacts {
  const type = fixture.type === null ? null : (types.get(nameKey(fixture.type)) ?? null);
  const { footprint, source } = footprintOf(fixture, type);
  return {
    fixture,
    type,
    loadW: fixture.loadW ?? type?.loadW ?? null,
    powerFactor: fixture.powerFactor ?? type?.powerFactor ?? null,
    footprint,
    footprintSource: source,
    unitLoad: fixture.unitLoad ?? type?.unitLoad ?? null,
    leakageMa: fixture.leakageMa ?? type?.leakageMa ?? null,
    ...windowOf(type),
  };
}
