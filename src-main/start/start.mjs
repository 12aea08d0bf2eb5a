/** `npm start`: builds at need, then serves the window. */
import { runBuilt } from './ensure-built.mjs';
import { settleUserFolder } from './user-folder.mjs';

settleUserFolder();
await runBuilt('main/loopback.js');
