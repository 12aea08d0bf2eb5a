/** Who may import whom. Each rule gives the sentence that says what is wrong, or null. */
import { builtinModules } from 'node:module';
import type { ImportEdge, SourceFile } from './import-graph.ts';

/** Layers of src-shared, low to high: a file imports from its own or a lower one. */
export const layers = [
  'units',
  'columns',
  'document',
  'electrical',
  'dmx',
  'takeoff',
  'solve',
  'limits',
  'session',
  'exchange',
  'format',
  'contract',
] as const;

/** Packages that src-shared may use: no Node, no DOM, no Electron in them. */
export const sharedPackages: readonly string[] = ['mathjs', 'zod'];

const builtins = new Set(builtinModules);

function areaOf(path: string): string {
  return path.split('/')[0] ?? '';
}

/** Rank of a file's layer; −1 for a file of src-shared outside every layer. */
function layerOf(path: string): number {
  return (layers as readonly string[]).indexOf(path.split('/')[1] ?? '');
}

/** `@scope/name` or `name` of what a specifier names. */
function packageOf(specifier: string): string {
  const parts = specifier.split('/');
  return specifier.startsWith('@') ? parts.slice(0, 2).join('/') : (parts[0] ?? '');
}

function isNode(specifier: string): boolean {
  return specifier.startsWith('node:') || builtins.has(packageOf(specifier));
}

function ruleOfLayers({ from, to, typeOnly }: ImportEdge): string | null {
  if (areaOf(from) !== 'src-shared' || to === null || areaOf(to) !== 'src-shared') return null;
  const [mine, theirs] = [layerOf(from), layerOf(to)];
  if (mine < 0 || theirs < 0) return `${mine < 0 ? from : to} stands in no layer of src-shared`;
  if (theirs > mine) return `imports upward: ${layers[mine]} may not import ${layers[theirs]}`;
  const documentToUnits = layers[mine] === 'document' && layers[theirs] === 'units';
  return documentToUnits && !typeOnly ? 'document imports units by type only' : null;
}

function ruleOfAreas({ from, to, specifier }: ImportEdge): string | null {
  if (to === null) return null;
  const [mine, theirs] = [areaOf(from), areaOf(to)];
  if (mine === 'tests') return null;
  if (theirs === 'tests') return 'product code imports a test';
  if (mine === theirs) return null;
  if (theirs !== 'src-shared') return `${mine} may not import ${theirs} (${specifier})`;
  return null;
}

function ruleOfPackages({ from, to, specifier }: ImportEdge): string | null {
  if (to !== null) return null;
  const mine = areaOf(from);
  if (specifier.startsWith('computed: ')) {
    return mine === 'tests' ? null : 'imports what only running tells';
  }
  const name = packageOf(specifier);
  if (mine === 'src-shared' && !sharedPackages.includes(name)) {
    return `src-shared may not use ${specifier}`;
  }
  if (mine === 'src-renderer' && (isNode(specifier) || name === 'electron')) {
    return `the window has no ${specifier}`;
  }
  const inElectron = from.startsWith('src-main/electron/');
  if (mine !== 'tests' && name === 'electron' && !inElectron) {
    return 'electron stays in src-main/electron';
  }
  const writesWorkbook = /^src-main\/workbook\/write[^/]*(?:\/|$)/.test(from);
  if (mine !== 'tests' && name === 'exceljs' && !writesWorkbook) {
    return 'exceljs stays in src-main/workbook/write…';
  }
  return null;
}

function ruleOfExtensions({ to, specifier }: ImportEdge): string | null {
  const withExtension = /\.(?:ts|tsx|mjs|css|json|svg|png)(?:[?#].*)?$/.test(specifier);
  return to !== null && !withExtension ? 'carries no extension' : null;
}

const rules = [ruleOfLayers, ruleOfAreas, ruleOfPackages, ruleOfExtensions];

/** Everything wrong with the imports of these files, one sentence each with file and line. */
export function brokenRules(files: readonly SourceFile[]): string[] {
  const edges = files.flatMap((file) => file.imports);
  const wrong = edges.flatMap((edge) =>
    rules.flatMap((rule) => {
      const reason = rule(edge);
      return reason === null ? [] : [`${edge.from}:${edge.line} ${reason}: ${edge.specifier}`];
    }),
  );
  const barrels = files.filter((file) => file.barrel).map((file) => `${file.path} only re-exports`);
  return [...wrong, ...barrels];
}
