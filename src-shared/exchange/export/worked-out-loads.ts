/** Loads that the import worked out from volt-amperes or amperes: what they were worked out with. */
import type { Fixture, Project, Reading } from '../../document/project.ts';
import { type StatedIndex, statedValue } from './stated-value.ts';

/** As the import says it: `0.21 A × 277 V × power factor 0.95`, `60 VA × power factor 0.9`. */
const workedOut = /(?: A × (\S+) V| VA) × power factor ([^\s;]+)/u;

export class WorkedOutLoads {
  private readonly powerFactors: ReadonlyMap<string, number | null>;

  constructor(
    { types }: Pick<Project, 'types'>,
    private readonly index: StatedIndex,
  ) {
    this.powerFactors = new Map(types.map((type) => [type.name, type.powerFactor]));
  }

  /** The cell would be worked out with another supply or power factor now: it would mean other watts. */
  isOutdated(fixture: Fixture, readings: readonly Reading[]): boolean {
    const found = readings.map(({ note }) => workedOut.exec(note)).find((one) => one !== null);
    if (found === undefined || found === null) return false;
    const [, supply, factor] = found;
    const ofType = fixture.type === null ? null : this.powerFactors.get(fixture.type);
    if (Number(factor) !== (fixture.powerFactor ?? ofType ?? null)) return true;
    if (supply === undefined) return false;
    return Number(supply) !== statedValue(fixture, 'supply', this.index);
  }
}
