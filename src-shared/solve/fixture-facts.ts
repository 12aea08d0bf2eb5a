import type { ColumnId } from '../columns/column-table.ts';
import type { Fixture, FixtureType } from '../document/project.ts';

/** Look-up of types by name, blind to case and outer blanks. */
export type TypeIndex = ReadonlyMap<string, FixtureType>;

export function nameKey(name: string): string {
  return name.trim().toLowerCase();
}

export function indexTypes(types: readonly FixtureType[]): TypeIndex {
  return new Map(types.map((type) => [nameKey(type.name), type]));
}

/** How a footprint was found, or why there is none. */
export type FootprintSource =
  | 'typed'
  | 'mode'
  | 'only-mode'
  | 'mode-name'
  | 'mode-not-of-type'
  | 'unknown';

interface KnownFootprint {
  readonly footprint: number | null;
  readonly source: FootprintSource;
}

/** What a type says of every fixture that names it with one mode. */
interface KnownUse extends KnownFootprint {
  readonly type: FixtureType | null;
  readonly minV: number | null;
  readonly maxV: number | null;
  readonly windowAssumed: boolean;
}

const slotsInName = /^(\d{1,3})\s*-?\s*(?:ch|chs|channels?|slots?)$/i;

function footprintOfMode(mode: string | null, type: FixtureType | null): KnownFootprint {
  const modes = type?.modes ?? [];
  if (mode === null) {
    const only = modes.length === 1 ? modes[0] : undefined;
    return only === undefined
      ? { footprint: null, source: 'unknown' }
      : { footprint: only.footprint, source: 'only-mode' };
  }
  const wanted = nameKey(mode);
  const known = modes.find((m) => nameKey(m.name) === wanted);
  if (known !== undefined) return { footprint: known.footprint, source: 'mode' };
  if (modes.length > 0) return { footprint: null, source: 'mode-not-of-type' };
  const slots = slotsInName.exec(wanted)?.[1];
  return slots === undefined
    ? { footprint: null, source: 'unknown' }
    : { footprint: Number(slots), source: 'mode-name' };
}

/** Printed window widened by 10 % both ways when no absolute one is known: an assumption, marked. */
function useOf(type: FixtureType | null, mode: string | null): KnownUse {
  const { printedMinV = null, printedMaxV = null } = type ?? {};
  const { absoluteMinV = null, absoluteMaxV = null } = type ?? {};
  const minV = absoluteMinV ?? (printedMinV === null ? null : printedMinV * 0.9);
  const maxV = absoluteMaxV ?? (printedMaxV === null ? null : printedMaxV * 1.1);
  const windowAssumed =
    (absoluteMinV === null && minV !== null) || (absoluteMaxV === null && maxV !== null);
  return { type, minV, maxV, windowAssumed, ...footprintOfMode(mode, type) };
}

/** The types of a project as its fixtures name them; each type with a mode is worked out once. */
export class TypeBook {
  readonly #types: TypeIndex;
  /** By type and mode as written: a schedule spells each a few ways at most. */
  readonly #uses = new Map<string | null, Map<string | null, KnownUse>>();

  constructor(types: readonly FixtureType[]) {
    this.#types = indexTypes(types);
  }

  /** What is known of a type by these names, as written; an unknown name has a type of `null`. */
  of(typeName: string | null, mode: string | null): KnownUse {
    const uses = this.#uses.get(typeName) ?? new Map<string | null, KnownUse>();
    if (uses.size === 0) this.#uses.set(typeName, uses);
    let use = uses.get(mode);
    if (use === undefined) {
      const type = typeName === null ? null : (this.#types.get(nameKey(typeName)) ?? null);
      use = useOf(type, mode);
      uses.set(mode, use);
    }
    return use;
  }
}

/**
 * A fixture with its type applied: what the engine works with, `null` where nothing is known. The
 * row's own values win over the type's. Never changed: a fixture that changes gets facts anew.
 */
export class FixtureFacts {
  readonly fixture: Fixture;
  private readonly known: KnownUse;

  constructor(fixture: Fixture, types: TypeBook) {
    this.fixture = fixture;
    this.known = types.of(fixture.type, fixture.mode);
  }

  get type(): FixtureType | null {
    return this.known.type;
  }

  /** The row says something here that could not be read: then the type's value is no answer. */
  isUnread(column: ColumnId): boolean {
    const { unread } = this.fixture;
    return unread.length > 0 && unread.includes(column);
  }

  get loadW(): number | null {
    return this.fixture.loadW ?? (this.isUnread('load') ? null : (this.known.type?.loadW ?? null));
  }

  get powerFactor(): number | null {
    const own = this.fixture.powerFactor;
    return own ?? (this.isUnread('powerFactor') ? null : (this.known.type?.powerFactor ?? null));
  }

  get footprint(): number | null {
    return this.fixture.footprint ?? (this.modeUnread ? null : this.known.footprint);
  }

  get footprintSource(): FootprintSource {
    if (this.fixture.footprint !== null) return 'typed';
    return this.modeUnread ? 'unknown' : this.known.source;
  }

  private get modeUnread(): boolean {
    return this.isUnread('footprint') || this.isUnread('mode');
  }

  get unitLoad(): number | null {
    const own = this.fixture.unitLoad;
    return own ?? (this.isUnread('unitLoad') ? null : (this.known.type?.unitLoad ?? null));
  }

  get leakageMa(): number | null {
    const own = this.fixture.leakageMa;
    return own ?? (this.isUnread('leakage') ? null : (this.known.type?.leakageMa ?? null));
  }

  /** Absolute input window of the ordered option; from the printed one ±10 % where only that is known. */
  get minV(): number | null {
    return this.known.minV;
  }

  get maxV(): number | null {
    return this.known.maxV;
  }

  get windowAssumed(): boolean {
    return this.known.windowAssumed;
  }

  /** What the address plan reads of a fixture. */
  get id(): string {
    return this.fixture.id;
  }

  get run(): string | null {
    return this.fixture.run;
  }

  get universe(): number | null {
    return this.fixture.universe;
  }

  get address(): number | null {
    return this.fixture.address;
  }

  get addressUnread(): boolean {
    return this.isUnread('address') || this.isUnread('universe');
  }
}
