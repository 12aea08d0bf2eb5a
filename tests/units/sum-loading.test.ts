/** mathjs costs start-up time: it must not load before the first sum. */
import { expect, it, vi } from 'vitest';

const loads = vi.hoisted(() => ({ count: 0 }));
vi.mock('mathjs', async (original) => {
  loads.count += 1;
  return await original();
});

it('loads mathjs at the first sum and not before', async () => {
  const { parseQuantityEntry } = await import('../../src-shared/units/parse-sum.ts');
  const options = { defaultUnit: 'ft', decimal: 'either' } as const;
  for (const text of ['12', '12 ft', '12\'-6"', '3,81 m', 'words', '', '12-6', '2024-01-01']) {
    await parseQuantityEntry(text, 'length', options);
  }
  expect(loads.count).toBe(0);
  expect(await parseQuantityEntry('10 ft + 5 ft', 'length', options)).toMatchObject({ ok: true });
  expect(loads.count).toBe(1);
});
