import fc from 'fast-check';
import { expect, test } from 'vitest';
import { safeFileName } from '../../src-main/projects/safe-name.ts';

// Signs and names refused by Windows: "Naming Files, Paths, and Namespaces", Microsoft Learn.
test.each([
  ['Larkspur Footbridge', 'Larkspur Footbridge.xlsx'],
  ['Larkspur.xlsx', 'Larkspur.xlsx'],
  ['Larkspur.XLSX', 'Larkspur.xlsx'],
  ['../../etc/passwd', 'passwd.xlsx'],
  ['C:\\temp\\job', 'job.xlsx'],
  ['a<b>c:d"e|f?g*h', 'a b c d e f g h.xlsx'],
  ['con', '_con.xlsx'],
  ['LPT1.old', '_LPT1.old.xlsx'],
  ['...', 'schedule.xlsx'],
  ['', 'schedule.xlsx'],
  ['tab\tand\nline', 'tab and line.xlsx'],
  ['turned\u202exslx', 'turned xslx.xlsx'],
  ['ends. . ', 'ends.xlsx'],
  ['Brücke 桥', 'Brücke 桥.xlsx'],
])('%j becomes %j', (name, expected) => {
  expect(safeFileName(name, '.xlsx')).toBe(expected);
});

test('whatever the name, what comes out is one a file system takes', () => {
  const name = fc.string({ unit: 'binary', maxLength: 200 });
  fc.assert(
    fc.property(name, (given) => {
      const safe = safeFileName(given, '.runledger');
      expect(safe.endsWith('.runledger')).toBe(true);
      expect([...safe].length).toBeLessThanOrEqual(122);
      expect(safe).not.toMatch(/[<>:"/\\|?*]/);
      expect(safe).not.toMatch(/^[. ]/);
      expect(safeFileName(safe, '.runledger')).toBe(safe);
    }),
    { seed: 20_131, numRuns: 1_000 },
  );
});
