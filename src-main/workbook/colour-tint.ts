/** Lightening and darkening of theme colours: ECMA-376 part 1, 18.3.1.15 (`tint` of a colour). */

const channels = (rgb: string): [number, number, number] => [
  Number.parseInt(rgb.slice(0, 2), 16) / 255,
  Number.parseInt(rgb.slice(2, 4), 16) / 255,
  Number.parseInt(rgb.slice(4, 6), 16) / 255,
];

/** Hue 0 … 6, luminance and saturation 0 … 1. */
function toHls([r, g, b]: readonly [number, number, number]): [number, number, number] {
  const most = Math.max(r, g, b);
  const least = Math.min(r, g, b);
  const spread = most - least;
  const luminance = (most + least) / 2;
  if (spread === 0) return [0, luminance, 0];
  const saturation = spread / (luminance > 0.5 ? 2 - most - least : most + least);
  let hue = 4 + (r - g) / spread;
  if (most === r) hue = ((g - b) / spread + 6) % 6;
  else if (most === g) hue = 2 + (b - r) / spread;
  return [hue, luminance, saturation];
}

function fromHls(hue: number, luminance: number, saturation: number): string {
  const chroma = (1 - Math.abs(2 * luminance - 1)) * saturation;
  const second = chroma * (1 - Math.abs((hue % 2) - 1));
  const least = luminance - chroma / 2;
  const sector = Math.floor(hue) % 6;
  const orders = ['CX0', 'XC0', '0CX', '0XC', 'X0C', 'C0X'] as const;
  const shares = { C: chroma, X: second, '0': 0 } as const;
  const bytes = [...(orders[sector] ?? 'CX0')].map((sign) => {
    const share = shares[sign as keyof typeof shares] + least;
    return Math.min(255, Math.max(0, Math.round(share * 255)));
  });
  return bytes
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('')
    .toUpperCase();
}

/**
 * A colour made lighter (tint above 0) or darker (below 0).
 * @param rgb `RRGGBB`
 * @param tint from −1 (black) to 1 (white); anything else counts as 0
 */
export function tinted(rgb: string, tint: number): string {
  if (!(tint >= -1 && tint <= 1) || tint === 0) return rgb.toUpperCase();
  const [hue, luminance, saturation] = toHls(channels(rgb));
  const moved = tint < 0 ? luminance * (1 + tint) : luminance * (1 - tint) + tint;
  return fromHls(hue, moved, saturation);
}
