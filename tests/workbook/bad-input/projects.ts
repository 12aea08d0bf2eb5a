import { readFileSync } from 'node:fs';
import { strToU8, zipSync } from 'fflate';
import { bad, refused } from './bad-input.ts';

/** Project files of ours that are not whole, and zips that only claim to be one. */

const project = () =>
  new Uint8Array(
    readFileSync(new URL('../../files/project/0001-with-source.runledger', import.meta.url)),
  );
const named = { fileName: 'job.runledger' };
const claiming = (manifest: string) => zipSync({ 'runledger.json': strToU8(manifest) });

export const projects = [
  bad(
    'a project cut in half',
    refused('cut-off'),
    () => project().subarray(0, project().length >> 1),
    {
      ...named,
      kind: 'cut off',
    },
  ),
  bad('a zip that claims to be a project: no JSON', refused('damaged'), () => claiming('{'), {
    ...named,
    kind: 'manifest',
  }),
  bad(
    'a zip that claims to be a project: nothing in it',
    refused('damaged'),
    () => claiming('{}'),
    { ...named, kind: 'manifest' },
  ),
  bad(
    'a project of a later version',
    refused('newer-version'),
    () => claiming('{"format":"runledger-file","version":9999,"parts":[]}'),
    named,
  ),
  bad(
    'a project with a changed byte',
    refused('damaged'),
    () => {
      const bytes = project();
      const at = Buffer.from(bytes).indexOf('project.json') + 60;
      bytes[at] = (bytes[at] ?? 0) ^ 0x55;
      return bytes;
    },
    { ...named, kind: 'changed byte' },
  ),
];
