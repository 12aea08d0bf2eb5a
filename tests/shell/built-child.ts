/** Runs the built shell in plain Node with the stub in Electron's place, and tells what it did. */
import { existsSync } from 'node:fs';
import { register } from 'node:module';
import { pathToFileURL } from 'node:url';

const [entry = '', stub = '', out = ''] = process.argv.slice(2);
const hook = `export function resolve(name, context, next) {
  return name === 'electron' ? { url: ${JSON.stringify(pathToFileURL(stub).href)}, shortCircuit: true } : next(name, context);
}`;
register(`data:text/javascript,${encodeURIComponent(hook)}`);
// The entry's own words stand where Electron would put them: behind the program and the entry.
process.argv.splice(1, Number.POSITIVE_INFINITY, entry, '--demo');
const electron: typeof import('./electron-stub.ts') = await import(pathToFileURL(stub).href);
await import(pathToFileURL(entry).href);

const until = async (look: () => boolean) => {
  for (let wait = 0; !look() && wait < 20_000; wait += 20) {
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};
await until(() => electron.callsOf('loadURL').length > 0);
const ask = async (name: string, question: unknown) => {
  const answer = await electron.invoke('runledger:ask', [name, question]);
  return Object(answer) as { ok: boolean; value: Record<string, unknown> };
};
const page = electron.session.fromPartition('runledger').handlers.get('protocol runledger');
const get = async (path: string) => {
  const request = new Request(`runledger://window/${path}`) as never;
  return (await page?.(request)) as Response;
};
const html = await (await get('')).text();
const script = /<script[^>]* src="\.?\/([^"]+)"/.exec(html)?.[1] ?? '';
const started = await ask('app.start', {});
const launch = Object(started.value.launchFile) as { fileId: string };
const opened = await ask('file.open', { fileId: launch.fileId });
const { webPreferences } = electron.BrowserWindow.all[0]?.options ?? {};
electron.dialogAnswers.save.push({ canceled: false, filePath: out });
const made = await ask('workbook.export', {
  projectText: process.env.SAMPLE_TEXT,
  sourceFileIds: [],
  into: null,
  suggestedName: 'x',
});
const told = {
  version: started.value.version,
  preload: existsSync(String(Reflect.get(Object(webPreferences), 'preload'))),
  script: (await get(script)).headers.get('content-type'),
  opened: opened.value?.kind,
  saved: made.value?.saved,
};
process.stdout.write(`${JSON.stringify(told)}\n`);
process.exit(0);
