import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

/** An absolute path of the environment; anything else counts as not set (XDG Base Directory 0.8). */
function folderOf(value: string | undefined): string | null {
  return value !== undefined && isAbsolute(value) ? value : null;
}

/**
 * The folder of this user for what must outlive the program: `RUNLEDGER_STATE_DIR`, else the
 * system's own place (XDG state folder, LOCALAPPDATA, Application Support).
 */
export function stateFolder(
  { platform, env, home }: Surroundings = {
    platform: process.platform,
    env: process.env,
    home: homedir(),
  },
): string {
  const own = folderOf(env.RUNLEDGER_STATE_DIR);
  if (own !== null) return own;
  if (platform === 'win32') {
    return join(folderOf(env.LOCALAPPDATA) ?? join(home, 'AppData', 'Local'), 'Runledger');
  }
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Runledger');
  return join(folderOf(env.XDG_STATE_HOME) ?? join(home, '.local', 'state'), 'runledger');
}
