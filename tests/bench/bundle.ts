import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/**
 * A module and what it imports as one piece of code, as the window runs it. Code that the test
 * runner loads file by file looks up every imported name at each use and is about twice as slow.
 */
export async function bundled<T>(file: string): Promise<T> {
  const built = await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      ssr: fileURLToPath(new URL(file, import.meta.url)),
      target: 'node20',
    },
  });
  const [output] = 'output' in built ? built.output : [];
  if (output === undefined) throw new Error(`${file} was not bundled`);
  const code = `data:text/javascript;base64,${Buffer.from(output.code).toString('base64')}`;
  return (await import(/* @vite-ignore */ code)) as T;
}
