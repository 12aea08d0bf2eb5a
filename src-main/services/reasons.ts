import type { Reason } from '../../src-shared/contract/requests.ts';

/** A request that was not done, with the reason: fits every answer. */
export interface Refused {
  readonly ok: false;
  readonly reason: Reason;
}

export function refused(code: string, what: string, where: string, todo: string): Refused {
  return { ok: false, reason: { code, what, where, todo } };
}

/** A value: fits the answer whose value it is. */
export function answered<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}
