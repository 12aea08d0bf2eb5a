import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** @param {string} folder */
function isRoot(folder) {
  try {
    return realpathSync(folder) === realpathSync(root);
  } catch {
    return false;
  }
}

/**
 * Settles `INIT_CWD`, from which the program counts relative paths: where the user stood. `npm run`
 * moves to the top of the package and tells the folder before in INIT_CWD; anyone else has not
 * moved, whatever INIT_CWD an outer npm has left in the environment.
 */
export function settleUserFolder() {
  const here = process.cwd();
  process.env.INIT_CWD = isRoot(here) ? (process.env.INIT_CWD ?? here) : here;
}
