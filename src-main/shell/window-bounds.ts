/** Where the window stands: kept between starts, and always on a display that is there. */
import { z } from 'zod';

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const pixels = z.int().min(-1_000_000).max(1_000_000);

export const windowStateSchema = z.strictObject({
  format: z.literal('runledger-window'),
  version: z.literal(1),
  /** Of the window when it is not maximised; null: never kept. */
  bounds: z
    .strictObject({ x: pixels, y: pixels, width: pixels.min(1), height: pixels.min(1) })
    .nullable(),
  maximised: z.boolean(),
});
export type WindowState = z.infer<typeof windowStateSchema>;

export const noWindowState: WindowState = {
  format: 'runledger-window',
  version: 1,
  bounds: null,
  maximised: false,
};

/** Small enough for a laptop, large enough for the schedule and its side. */
const FIRST = { width: 1360, height: 860 };
export const LEAST = { width: 760, height: 480 };

function overlap(a: Rectangle, b: Rectangle): number {
  const width = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const height = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}

/** Between two bounds; where they cross, the lower one holds. */
const between = (low: number, value: number, high: number) => Math.max(low, Math.min(value, high));

function centred({ width, height }: { width: number; height: number }, area: Rectangle): Rectangle {
  const size = { width: Math.min(width, area.width), height: Math.min(height, area.height) };
  return {
    x: Math.round(area.x + (area.width - size.width) / 2),
    y: Math.round(area.y + (area.height - size.height) / 2),
    ...size,
  };
}

/**
 * Bounds to open with: those kept, moved and cut so that they lie whole in the work area they
 * overlap most; in the middle of the first area when they overlap none.
 * @param workAreas of all displays, the primary one first
 */
export function placeWindow(kept: Rectangle | null, workAreas: readonly Rectangle[]): Rectangle {
  const primary = workAreas[0] ?? { x: 0, y: 0, ...FIRST };
  if (kept === null) return centred(FIRST, primary);
  let best: { readonly area: Rectangle; readonly shared: number } = { area: primary, shared: 0 };
  for (const area of workAreas) {
    const shared = overlap(kept, area);
    if (shared > best.shared) best = { area, shared };
  }
  const { area, shared } = best;
  if (shared === 0) return centred(kept, area);
  const width = between(Math.min(LEAST.width, area.width), kept.width, area.width);
  const height = between(Math.min(LEAST.height, area.height), kept.height, area.height);
  return {
    x: between(area.x, kept.x, area.x + area.width - width),
    y: between(area.y, kept.y, area.y + area.height - height),
    width,
    height,
  };
}
