#!/usr/bin/env node
/** The package's own binary: `runledger check INPUT …`. */
import { runCommand } from './run-command.mjs';

await runCommand(process.argv.slice(2));
