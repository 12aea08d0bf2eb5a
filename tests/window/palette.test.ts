import { describe, expect, test } from 'vitest';
import {
  contrastPairs,
  paletteCss,
  palettes,
  tokenNames,
} from '../../src-renderer/theme/palette.ts';

/** Relative luminance of an sRGB colour: WCAG 2.2, definition of "relative luminance". */
function luminance(hex: string): number {
  const channel = (at: number) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

/** WCAG 2.2, definition of "contrast ratio". */
function contrast(a: string, b: string): number {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

test('the ratio is that of WCAG: black on white 21, equal colours 1, #767676 on white 4.54', () => {
  expect(contrast('#000000', '#FFFFFF')).toBeCloseTo(21, 6);
  expect(contrast('#1B6B73', '#1B6B73')).toBe(1);
  // The grey usually named as the lightest that passes on white (4.5:1 by the formula above).
  expect(contrast('#767676', '#FFFFFF')).toBeCloseTo(4.54, 2);
});

describe.each(['light', 'dark'] as const)('%s', (name) => {
  const palette = palettes[name];
  test.each(contrastPairs)('%s on %s at least %s to 1', (fore, ground, least) => {
    expect(contrast(palette[fore], palette[ground])).toBeGreaterThanOrEqual(least);
  });
});

test('every token is judged somewhere, but the rules between rows', () => {
  const judged = new Set(contrastPairs.flat());
  expect(tokenNames.filter((token) => !judged.has(token))).toEqual(['rule']);
});

test('the variables hold every token three times: light, dark by system, dark by choice', () => {
  const css = paletteCss();
  for (const token of tokenNames) expect(css.split(`--${token}:`).length - 1).toBe(3);
});
