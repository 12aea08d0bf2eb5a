/** Every import of the house, read with the TypeScript compiler's own parser. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

export interface ImportEdge {
  /** File that imports, from the root of the house, with `/`. */
  readonly from: string;
  readonly line: number;
  /** As written. */
  readonly specifier: string;
  /** File of ours it leads to; null for a package or a part of Node. */
  readonly to: string | null;
  /** Gone after compilation: `import type`, `export type`, `import('…')` in a type. */
  readonly typeOnly: boolean;
}

export interface SourceFile {
  readonly path: string;
  readonly imports: readonly ImportEdge[];
  /** True for a file that only hands on what other files export. */
  readonly barrel: boolean;
}

const isSource = /\.(?:ts|tsx|mts|cts)$/;

/** Source files under a folder, paths from `root` with `/`, in order of name. */
export function listSources(root: string, folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && isSource.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter((path) => !path.includes('node_modules/'))
    .sort();
}

function resolve(from: string, specifier: string, known: ReadonlySet<string>): string | null {
  const bare = specifier.replace(/[?#].*$/, '');
  if (!bare.startsWith('.')) return null;
  const path = posix.join(posix.dirname(from), bare);
  const tries = [path, `${path}.ts`, `${path}.tsx`, `${path}/index.ts`, `${path}/index.tsx`];
  return tries.find((candidate) => known.has(candidate)) ?? path;
}

function onlyTypes(node: ts.ImportDeclaration | ts.ExportDeclaration): boolean {
  if (ts.isExportDeclaration(node)) return node.isTypeOnly;
  const clause = node.importClause;
  if (clause === undefined) return false;
  if (clause.isTypeOnly) return true;
  const named = clause.namedBindings;
  return (
    clause.name === undefined &&
    named !== undefined &&
    ts.isNamedImports(named) &&
    named.elements.length > 0 &&
    named.elements.every((element) => element.isTypeOnly)
  );
}

interface Found {
  readonly node: ts.Node;
  readonly specifier: ts.Node | undefined;
  readonly typeOnly: boolean;
}

/** `import`, `export … from`, `import x = require()`, `import()`, `require()`, `import('…').T`, `new URL('…', import.meta.url)`. */
function importOf(node: ts.Node): Found | null {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) {
    if (node.moduleSpecifier === undefined) return null;
    return { node, specifier: node.moduleSpecifier, typeOnly: onlyTypes(node) };
  }
  if (ts.isImportEqualsDeclaration(node) && ts.isExternalModuleReference(node.moduleReference)) {
    return { node, specifier: node.moduleReference.expression, typeOnly: node.isTypeOnly };
  }
  if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
    return { node, specifier: node.argument.literal, typeOnly: true };
  }
  if (ts.isCallExpression(node)) {
    const dynamic = node.expression.kind === ts.SyntaxKind.ImportKeyword;
    const required = ts.isIdentifier(node.expression) && node.expression.text === 'require';
    if (dynamic || required) return { node, specifier: node.arguments[0], typeOnly: false };
  }
  if (ts.isNewExpression(node) && ts.isIdentifier(node.expression)) {
    const [first, second] = node.arguments ?? [];
    const ours = second?.getText().replace(/\s/g, '') === 'import.meta.url';
    if (node.expression.text === 'URL' && ours && first !== undefined) {
      const leadsToCode = ts.isStringLiteralLike(first) && isSource.test(first.text);
      if (leadsToCode) return { node, specifier: first, typeOnly: false };
    }
  }
  return null;
}

/** Imports of one file's text. A specifier that is not a plain string is shown as written, led nowhere. */
export function importsOf(path: string, text: string, known: ReadonlySet<string>): SourceFile {
  const kind = path.endsWith('.tsx') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true, kind);
  const imports: ImportEdge[] = [];
  const visit = (node: ts.Node): void => {
    const found = importOf(node);
    if (found?.specifier !== undefined) {
      const plain = ts.isStringLiteralLike(found.specifier);
      const specifier = plain ? found.specifier.text : `computed: ${found.specifier.getText()}`;
      imports.push({
        from: path,
        line: source.getLineAndCharacterOfPosition(found.node.getStart()).line + 1,
        specifier,
        to: plain ? resolve(path, specifier, known) : null,
        typeOnly: found.typeOnly,
      });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return { path, imports, barrel: isBarrel(source) };
}

/** Nothing of its own: re-exports only, or names it imported and only exports again. */
function isBarrel(source: ts.SourceFile): boolean {
  const exportsOn = source.statements.some(
    (s) => ts.isExportDeclaration(s) || ts.isExportAssignment(s),
  );
  return (
    exportsOn &&
    source.statements.every(
      (s) =>
        ts.isImportDeclaration(s) ||
        ts.isExportDeclaration(s) ||
        (ts.isExportAssignment(s) && ts.isIdentifier(s.expression)),
    )
  );
}

/** All source files of these folders with their imports. */
export function readHouse(root: string, folders: readonly string[]): SourceFile[] {
  const paths = folders.flatMap((folder) => listSources(root, folder));
  const known = new Set(paths);
  return paths.map((path) => importsOf(path, readFileSync(join(root, path), 'utf8'), known));
}

/** One circle of imports, as the files it goes through; null when there is none. Types count. */
export function findCircle(files: readonly SourceFile[]): string[] | null {
  const next = new Map(files.map((file) => [file.path, file.imports.flatMap((e) => e.to ?? [])]));
  const done = new Set<string>();
  const trail: string[] = [];
  const walk = (path: string): string[] | null => {
    const at = trail.indexOf(path);
    if (at >= 0) return [...trail.slice(at), path];
    if (done.has(path)) return null;
    trail.push(path);
    for (const to of next.get(path) ?? []) {
      const circle = walk(to);
      if (circle !== null) return circle;
    }
    trail.pop();
    done.add(path);
    return null;
  };
  for (const path of next.keys()) {
    const circle = walk(path);
    if (circle !== null) return circle;
  }
  return null;
}

export const houseRoot = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
