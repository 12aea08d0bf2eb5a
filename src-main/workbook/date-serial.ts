const DAY_MS = 86_400_000;
/** Day 0 of the 1900 system from day 61 on, as Unix time; before it the false 29 February 1900 counts. */
const EPOCH_1900_MS = Date.UTC(1899, 11, 30);
const EPOCH_1904_MS = Date.UTC(1904, 0, 1);
/** 31 December 9999 in the 1900 system (ECMA-376 part 1, 18.17.4.1). */
const LAST_SERIAL_1900 = 2_958_466;
/** Days between the two systems. */
export const DAYS_1904_TO_1900 = 1462;

const two = (value: number) => String(value).padStart(2, '0');

/** `13:30:00`, with milliseconds when there are any. */
export function clockText(ms: number): string {
  const rest = ms % 1000;
  const seconds = Math.floor(ms / 1000);
  const clock = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return clock.map(two).join(':') + (rest === 0 ? '' : `.${String(rest).padStart(3, '0')}`);
}

/**
 * A date serial as ISO 8601 text: `2020-02-28`, `2020-02-28T13:30:00`, or `13:30:00` for a time of
 * day alone. Times are taken to the millisecond. Source: ECMA-376 part 1, 18.17.4.
 * @param serial days since the start of the system
 * @param date1904 the workbook counts from 1 January 1904
 * @param timeOnly the number format shows a time and no date
 * @returns undefined when the serial is no date (negative or beyond the year 9999)
 */
export function isoFromSerial(
  serial: number,
  date1904: boolean,
  timeOnly: boolean,
): string | undefined {
  const serial1900 = date1904 ? serial + DAYS_1904_TO_1900 : serial;
  if (!(serial >= 0) || serial1900 >= LAST_SERIAL_1900) return undefined;
  const totalMs = Math.round(serial * DAY_MS);
  const clockMs = totalMs % DAY_MS;
  const days = (totalMs - clockMs) / DAY_MS;
  if (days === 0 && (timeOnly || !date1904)) return clockText(clockMs);
  const shift = !date1904 && days < 60 ? 1 : 0;
  const dayMs = (date1904 ? EPOCH_1904_MS : EPOCH_1900_MS) + (days + shift) * DAY_MS;
  const day = new Date(dayMs).toISOString().slice(0, 10);
  return clockMs === 0 ? day : `${day}T${clockText(clockMs)}`;
}

/** An ISO date as a cell of type `d` stores it, with a midnight that says nothing taken off. */
export function tidyIso(stored: string): string {
  return stored.trim().replace(/T00:00:00(\.0+)?(Z|[+-]\d\d:\d\d)?$/, '');
}

/** The serial in the 1900 system of an ISO date or date-time, or undefined; for showing it. */
export function serialFromIso(iso: string): number | undefined {
  const match = /^(\d{4})-(\d\d)-(\d\d)(?:T(\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?)?/.exec(iso);
  if (!match) return undefined;
  const [year, month, day, hours, minutes, seconds] = match
    .slice(1)
    .map((part) => Number(part ?? 0));
  const ms = Date.UTC(year ?? 0, (month ?? 1) - 1, day ?? 1);
  const days = (ms - EPOCH_1900_MS) / DAY_MS;
  if (days < 61) return undefined;
  return days + ((hours ?? 0) * 3600 + (minutes ?? 0) * 60 + (seconds ?? 0)) / 86_400;
}
