/** What the writing library cannot say, put into the finished package. */
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { type NoteSizes, noteAnchor } from './note-boxes.ts';
import { elementText } from './patch/xml-write.ts';

export interface TouchUp {
  readonly notes: NoteSizes;
  /** Column widths by sheet id. */
  readonly widths: ReadonlyMap<number, readonly number[]>;
  /** Hidden names by which our sheets and columns are known again, with what they refer to. */
  readonly names: ReadonlyMap<string, string>;
  /** The file says when it was made; false: it does not. */
  readonly dated: boolean;
}

/** Earliest time a zip can hold, in whatever zone: the same bytes at every run. */
const zipTime = new Date(1980, 0, 1);

/** Text cells (format `@`, number 49) that begin like a formula are marked as typed with an apostrophe. */
function quoteTexts(styles: string): string {
  return styles.replace(
    /<xf numFmtId="49"(?![^>]*quotePrefix)/g,
    '<xf quotePrefix="1" numFmtId="49"',
  );
}

function sizeNotes(vml: string, sheetId: number, { notes, widths }: TouchUp): string {
  const columns = widths.get(sheetId) ?? [];
  return vml.replace(
    /<x:Anchor>[^<]*<\/x:Anchor>([\s\S]*?<x:Row>(\d+)<\/x:Row>\s*<x:Column>(\d+)<\/x:Column>)/g,
    (_, rest: string, row: string, column: string) => {
      const at = Number(column);
      const lines = notes.linesAt(sheetId, Number(row) + 1, at);
      return `<x:Anchor>${noteAnchor(Number(row) + 1, at, lines, columns)}</x:Anchor>${rest}`;
    },
  );
}

/** Every workbook of ours has print titles, so there are names to stand behind. */
function hideNames(book: string, names: TouchUp['names']): string {
  const written = [...names].map(
    ([name, refersTo]) =>
      `<definedName name="${name}" hidden="1">${elementText(refersTo)}</definedName>`,
  );
  return book.replace('</definedNames>', `${written.join('')}</definedNames>`);
}

function undate(core: string): string {
  return core.replace(/<dcterms:(created|modified)[^>]*>[^<]*<\/dcterms:\1>/g, '');
}

/**
 * Repacks a package: note boxes sized, guarded texts quoted, no time of writing anywhere but the
 * date given. Equal input gives equal bytes.
 */
export function touchUp(bytes: Uint8Array, wishes: TouchUp): Uint8Array {
  const parts = unzipSync(bytes);
  const change = (name: string, by: (text: string) => string) => {
    const part = parts[name];
    if (part !== undefined) parts[name] = strToU8(by(strFromU8(part)));
  };
  change('xl/styles.xml', quoteTexts);
  change('xl/workbook.xml', (book) => hideNames(book, wishes.names));
  if (!wishes.dated) change('docProps/core.xml', undate);
  for (const name of Object.keys(parts)) {
    const sheetId = /^xl\/drawings\/vmlDrawing(\d+)\.vml$/.exec(name)?.[1];
    if (sheetId !== undefined) change(name, (vml) => sizeNotes(vml, Number(sheetId), wishes));
  }
  return zipSync(
    Object.fromEntries(
      Object.entries(parts).map(([name, data]) => [name, [data, { mtime: zipTime, level: 6 }]]),
    ),
  );
}
