import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  feetFromMetres,
  inchesFromMetres,
  lengthInUnit,
  METRES_PER_FOOT,
  METRES_PER_INCH,
  metresFromFeet,
  metresFromInches,
  metresFromUnit,
} from '../../src-shared/units/length.ts';

describe('lengths', () => {
  it('holds the exact definitions', () => {
    // International yard and pound agreement of 1959: 1 yd = 0.9144 m exactly; NIST SP 811,
    // Appendix B: foot 3.048 E-01 m, inch 2.54 E-02 m, both exact.
    expect(METRES_PER_FOOT).toBe(0.3048);
    expect(METRES_PER_INCH).toBe(0.0254);
    expect(metresFromFeet(3)).toBe(0.9144);
    expect(metresFromInches(36)).toBe(0.9144);
  });

  it('gives the double nearest to the exact length for every whole foot to 50,000', () => {
    // Oracle: the exact decimal written out in ten-thousandths of a metre, read by the platform.
    for (let feet = 0; feet <= 50_000; feet += 1) {
      const tenThousandths = String(feet * 3048).padStart(5, '0');
      const exact = Number(`${tenThousandths.slice(0, -4)}.${tenThousandths.slice(-4)}`);
      expect(metresFromFeet(feet)).toBe(exact);
    }
  });

  it('comes back from metres to within the last digits', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (length) => {
        expect(feetFromMetres(metresFromFeet(length))).toBeCloseTo(length, 8);
        expect(inchesFromMetres(metresFromInches(length))).toBeCloseTo(length, 8);
      }),
      { seed: 1959 },
    );
  });

  it('shows a length in either unit and leaves what is unknown unknown', () => {
    expect(lengthInUnit(3.81, 'ft')).toBeCloseTo(12.5, 12);
    expect(lengthInUnit(3.81, 'm')).toBe(3.81);
    expect(lengthInUnit(null, 'ft')).toBeNull();
    expect(metresFromUnit(12, 'ft')).toBe(3.6576);
    expect(metresFromUnit(12, 'm')).toBe(12);
  });
});
