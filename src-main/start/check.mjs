/** `npm run check -- INPUT …`: the check command straight from a checkout. */
import { runCommand } from './run-command.mjs';

await runCommand(['check', ...process.argv.slice(2)]);
