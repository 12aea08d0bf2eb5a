import module from 'node:module';
import { runBuilt } from './ensure-built.mjs';
import { settleUserFolder } from './user-folder.mjs';

/**
 * Builds at need and runs the command line in this process, the quickest way to its first word.
 * @param {string[]} words command and options
 */
export async function runCommand(words) {
  // Newer Node keeps compiled code between runs.
  if ('enableCompileCache' in module) module.enableCompileCache();
  settleUserFolder();
  process.argv.splice(2, Number.POSITIVE_INFINITY, ...words);
  await runBuilt('main/command.js');
}
