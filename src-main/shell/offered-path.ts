import { dirname, isAbsolute, join } from 'node:path';

/**
 * Where a save dialog begins: beside the file opened last.
 * @param offered a bare name, or a path that stays as it is
 * @param latest absolute path of the file opened last; null: none
 */
export function offeredPath(offered: string, latest: string | null): string {
  return isAbsolute(offered) || latest === null ? offered : join(dirname(latest), offered);
}
