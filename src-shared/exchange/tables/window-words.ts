/** Input windows as text: `100–277 V`, `90-305`, `from 100 V`. */

export interface VoltageWindow {
  readonly minV: number | null;
  readonly maxV: number | null;
}

export interface WindowRead {
  readonly value: VoltageWindow;
  readonly refusal: string | null;
  readonly note?: string;
}

const none: VoltageWindow = { minV: null, maxV: null };
const number = '(\\d+(?:[.,]\\d+)?(?:e[+-]?\\d+)?)';
const volts = '(?:v(?:ac|dc)?(?: ?[ad]c)?)?';
const pair = new RegExp(
  `^${number} ?${volts} ?(?:-|–|—|−|to|\\.{2,3}|…|/) ?${number} ?${volts}(?=$|[\\s,;(])`,
  'iu',
);
const low = new RegExp(`^(?:from|min\\.?|≥|>=?) ?${number} ?${volts}$`, 'iu');
const high = new RegExp(`^(?:up to|to|max\\.?|≤|<=?) ?${number} ?${volts}$`, 'iu');
const alone = new RegExp(`^${number} ?${volts}$`, 'iu');

const voltsOf = (text: string | undefined): number => Number((text ?? '').replace(',', '.'));

/** Reads one window. One voltage alone is both its ends, told. */
export function readWindow(text: string): WindowRead {
  const two = pair.exec(text);
  if (two !== null) {
    const [minV, maxV] = [voltsOf(two[1]), voltsOf(two[2])];
    if (minV > maxV) return { value: none, refusal: 'the window ends below where it begins' };
    const rest = text
      .slice(two[0].length)
      .replace(/^[\s,;]*(?:(?:50\/)?[56]0 ?hz|ac|dc)?[\s,;]*/iu, '');
    return rest === ''
      ? { value: { minV, maxV }, refusal: null }
      : {
          value: { minV, maxV },
          refusal: null,
          note: `read as ${minV} to ${maxV} V; "${rest}" was not read`,
        };
  }
  const least = low.exec(text);
  if (least !== null) return { value: { minV: voltsOf(least[1]), maxV: null }, refusal: null };
  const most = high.exec(text);
  if (most !== null) return { value: { minV: null, maxV: voltsOf(most[1]) }, refusal: null };
  const single = alone.exec(text);
  if (single !== null) {
    const voltageV = voltsOf(single[1]);
    const note = 'one voltage: taken as both ends of the window';
    return { value: { minV: voltageV, maxV: voltageV }, refusal: null, note };
  }
  return { value: none, refusal: 'not a window of voltages; write 100–277 V' };
}

/** A window as `readWindow` reads it; null when nothing is known. */
export function writeWindow({ minV, maxV }: VoltageWindow): string | null {
  if (minV !== null && maxV !== null) return `${minV}–${maxV} V`;
  if (minV !== null) return `from ${minV} V`;
  return maxV === null ? null : `up to ${maxV} V`;
}
