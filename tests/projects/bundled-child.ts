import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** Bundles scripts of this folder as plain Node modules, since Node 20 runs no TypeScript. */
export async function bundleChildren(names: readonly string[], folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const at = (name: string) => fileURLToPath(new URL(`./${name}.ts`, import.meta.url));
  await build({
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: true,
      outDir: folder,
      target: 'node20',
      rollupOptions: { input: Object.fromEntries(names.map((name) => [name, at(name)])) },
    },
  });
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
}
