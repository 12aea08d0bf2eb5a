import fc from 'fast-check';
import { expect, test } from 'vitest';
import { LEAST, placeWindow, type Rectangle } from '../../src-main/shell/window-bounds.ts';

const primary = { x: 0, y: 24, width: 1920, height: 1016 };
const right = { x: 1920, y: 0, width: 1280, height: 984 };
const small = { x: -800, y: 0, width: 800, height: 440 };

test.each<[string, Rectangle | null, readonly Rectangle[], Rectangle]>([
  ['the first time: in the middle', null, [primary], { x: 280, y: 102, width: 1360, height: 860 }],
  [
    'as it stood',
    { x: 100, y: 100, width: 900, height: 600 },
    [primary, right],
    { x: 100, y: 100, width: 900, height: 600 },
  ],
  [
    'on the second display',
    { x: 2000, y: 50, width: 900, height: 600 },
    [primary, right],
    { x: 2000, y: 50, width: 900, height: 600 },
  ],
  [
    'the second display is gone: in the middle of the first',
    { x: 2000, y: 50, width: 900, height: 600 },
    [primary],
    { x: 510, y: 232, width: 900, height: 600 },
  ],
  [
    'half out: moved in',
    { x: -300, y: -200, width: 900, height: 600 },
    [primary],
    { x: 0, y: 24, width: 900, height: 600 },
  ],
  [
    'larger than any display: cut',
    { x: 0, y: 0, width: 5000, height: 3000 },
    [primary],
    { x: 0, y: 24, width: 1920, height: 1016 },
  ],
  [
    'a display smaller than the least window: the whole display',
    { x: -700, y: 10, width: 300, height: 200 },
    [primary, small],
    { x: -760, y: 0, width: 760, height: 440 },
  ],
])('%s', (_name, kept, areas, placed) => {
  expect(placeWindow(kept, areas)).toEqual(placed);
});

test('whatever was kept, the window lies whole on one display that is there', () => {
  const side = fc.integer({ min: -10_000, max: 10_000 });
  const length = fc.integer({ min: 1, max: 10_000 });
  const kept = fc.record({ x: side, y: side, width: length, height: length });
  const area = fc.record({
    x: fc.integer({ min: -4_000, max: 4_000 }),
    y: fc.integer({ min: -4_000, max: 4_000 }),
    width: fc.integer({ min: 320, max: 4_000 }),
    height: fc.integer({ min: 240, max: 4_000 }),
  });
  fc.assert(
    fc.property(kept, fc.array(area, { minLength: 1, maxLength: 4 }), (rectangle, areas) => {
      const { x, y, width, height } = placeWindow(rectangle, areas);
      const within = areas.filter(
        (a) => x >= a.x && y >= a.y && x + width <= a.x + a.width && y + height <= a.y + a.height,
      );
      expect(within.length).toBeGreaterThan(0);
      expect(width).toBeGreaterThanOrEqual(Math.min(LEAST.width, rectangle.width, 320));
    }),
    { seed: 30_401 },
  );
});
