import { describe, expect, test } from 'vitest';
import {
  conductorResistanceOhmPerKm,
  segmentLoopOhm,
} from '../../src-shared/electrical/conductor.ts';
import {
  AWG_STRANDED_OHM_PER_KFT,
  AWG_TABLE_TEMPERATURE_C,
  MM2_CLASS5_OHM_PER_KM_20C,
} from '../../src-shared/electrical/conductor-tables.ts';
import {
  awgAreaMm2,
  awgDiameterMm,
  awgNumber,
  copperOhmPerKm20C,
  copperTemperatureFactor,
  STRANDING_FACTOR,
} from '../../src-shared/electrical/copper.ts';
import { readReference } from '../reference/read-reference.ts';

const gaugeNumber = (gauge: string): number => {
  const n = awgNumber(gauge);
  if (n === null) throw new Error(`${gauge} is no gauge`);
  return n;
};

describe('AWG sizes: ASTM B258 and IEC 60028 (awg.csv)', () => {
  const rows = readReference('awg');

  test.each(rows.map((row) => [row.text('awg'), row] as const))('gauge %s', (gauge, row) => {
    const n = gaugeNumber(gauge);
    expect(awgDiameterMm(n)).toBeCloseTo(row.number('diameter_mm_formula'), 5);
    expect(awgAreaMm2(n)).toBeCloseTo(row.number('area_mm2_formula'), 5);
    expect(copperOhmPerKm20C(awgAreaMm2(n))).toBeCloseTo(
      row.number('R20_ohm_per_km_solid_IACS'),
      4,
    );
  });

  test('circular mils of the areas as printed in a public reference table, within 0.05 %', () => {
    const printed = rows.filter((row) => row.text('area_cmil_printed') !== '');
    expect(printed.length).toBeGreaterThan(15);
    for (const row of printed) {
      const cmil = (awgDiameterMm(gaugeNumber(row.text('awg'))) / 0.0254) ** 2;
      expect(Math.abs(cmil / row.number('area_cmil_printed') - 1)).toBeLessThan(5e-4);
    }
  });
});

describe('NEC Chapter 9 Table 8 (nec_ch9_t8.csv)', () => {
  const rows = readReference('nec_ch9_t8');
  const stranded = rows.filter((row) => row.text('stranding').startsWith('stranded'));

  test.each(rows.map((row) => [row.text('awg'), row.text('stranding'), row] as const))(
    '%s %s is the resistance from first principles within half a percent',
    (gauge, stranding, row) => {
      const solid =
        copperOhmPerKm20C(awgAreaMm2(gaugeNumber(gauge))) *
        copperTemperatureFactor(AWG_TABLE_TEMPERATURE_C);
      const ohmPerKm = solid * (stranding === 'solid' ? 1 : STRANDING_FACTOR);
      const printed = row.number('cu_uncoated_ohm_per_kft_75C') / 0.3048;
      expect(Math.abs(printed / ohmPerKm - 1)).toBeLessThanOrEqual(0.00504); // 12 AWG: 0.502 %
    },
  );

  test('every stranded row is what the program takes, ÷ 0.3048, and no other size is', () => {
    for (const row of stranded) {
      const hot = conductorResistanceOhmPerKm({ system: 'awg', gauge: row.text('awg') });
      expect(hot).toBe(row.number('cu_uncoated_ohm_per_kft_75C') / 0.3048);
    }
    expect([...AWG_STRANDED_OHM_PER_KFT.keys()]).toEqual(stranded.map((row) => row.text('awg')));
  });
});

describe('IEC 60228 class 5 plain copper (iec60228.csv)', () => {
  const rows = readReference('iec60228');

  test('every row at 70 °C, and no other size', () => {
    for (const row of rows) {
      const hot = conductorResistanceOhmPerKm({ system: 'mm2', areaMm2: row.number('mm2') });
      const cold = row.number('class5_plain_max_ohm_km_20C');
      expect(hot).toBeCloseTo(cold * 1.1965, 10); // 1 + 0.00393·50
      expect(hot).toBeCloseTo(row.number('class5_plain_at_70C_calc'), 4);
    }
    expect([...MM2_CLASS5_OHM_PER_KM_20C.keys()]).toEqual(rows.map((row) => row.number('mm2')));
  });

  test('a greatest resistance is above that of its nominal area of pure copper, by at most 16 %', () => {
    for (const [areaMm2, ohmPerKm] of MM2_CLASS5_OHM_PER_KM_20C) {
      const ratio = ohmPerKm / copperOhmPerKm20C(areaMm2);
      expect(ratio).toBeGreaterThan(1);
      expect(ratio).toBeLessThan(1.16);
    }
  });
});

describe('sizes in and out', () => {
  test.each(['0', '1/0', '00', '2/0', '000', '0000', '4/0', ' 12 '])(
    'gauge "%s" is known',
    (gauge) => {
      expect(conductorResistanceOhmPerKm({ system: 'awg', gauge })).toBeGreaterThan(0);
    },
  );

  test('"0" is 1/0 and "0000" is 4/0', () => {
    expect(conductorResistanceOhmPerKm({ system: 'awg', gauge: '0' })).toBe(0.122 / 0.3048);
    expect(conductorResistanceOhmPerKm({ system: 'awg', gauge: '0000' })).toBe(0.0608 / 0.3048);
  });

  test.each(['', '11', '5', '22', '5/0', '0/0', '00000', '-2', '12.0', 'x', '41', '1e1'])(
    'gauge "%s" is not',
    (gauge) => {
      expect(conductorResistanceOhmPerKm({ system: 'awg', gauge })).toBeNull();
    },
  );

  test.each([0, -1, 2, 2.4, Number.NaN, Infinity])('%s mm² is not', (areaMm2) => {
    expect(conductorResistanceOhmPerKm({ system: 'mm2', areaMm2 })).toBeNull();
  });

  test('a loop is both conductors and every joint in each', () => {
    // WE23 (engineeringtoolbox.com voltage-drop-d_1550): 100 ft of 1.02 ohm/kft at 10 A: 2.04 V
    expect(10 * segmentLoopOhm(100 * 0.3048, 1.02 / 0.3048)).toBeCloseTo(2.04, 12);
    // common practice, no source: a mated joint is in both conductors
    expect(segmentLoopOhm(0, 5, 3, 0.002)).toBeCloseTo(0.012, 15);
  });
});
