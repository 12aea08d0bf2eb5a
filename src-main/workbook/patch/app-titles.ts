/** The list of sheets in the properties of the file, kept true. */
import type { PackageEdit } from './package-edit.ts';
import { localName, type OpenTag, scanXml } from './xml-scan.ts';
import { elementText, type Splice, splice, withAttribute } from './xml-write.ts';

interface Item {
  readonly start: number;
  readonly end: number;
  readonly content: { readonly start: number; readonly end: number };
  readonly text: string;
  readonly name: string;
}

/**
 * Writes the names of the worksheets into the list of parts, where there is one and it lists just the
 * sheets there were. Any other list stays as it is.
 */
export function retitle(
  edit: PackageEdit,
  before: readonly string[],
  after: readonly string[],
): void {
  const part = edit.links('').find(({ kind }) => kind === 'extended-properties')?.target;
  const text = part === undefined ? undefined : edit.text(part);
  if (part === undefined || text === undefined) return;
  const titles: Item[] = [];
  const counts: Item[] = [];
  let vector: { tag: OpenTag } | undefined;
  let titlesVector: OpenTag | undefined;
  let section = '';
  let item: { tag: OpenTag; text: string } | undefined;
  scanXml(text, edit.where(part), {
    open(tag) {
      const name = localName(tag.name);
      if (tag.depth === 2) section = name;
      if (name === 'vector') vector = { tag };
      if (name === 'vector' && section === 'TitlesOfParts') titlesVector = tag;
      if (name === 'lpstr' || name === 'i4') item = { tag, text: '' };
    },
    text(piece) {
      if (item !== undefined) item.text += piece;
    },
    close(whole, start, end) {
      const name = localName(whole);
      if ((name !== 'lpstr' && name !== 'i4') || item === undefined || vector === undefined) return;
      const { tag, text: said } = item;
      const found = {
        start: tag.start,
        end,
        content: { start: tag.end, end: start },
        text: said,
        name: tag.name,
      };
      if (section === 'TitlesOfParts' && name === 'lpstr') titles.push(found);
      if (section === 'HeadingPairs' && name === 'i4') counts.push(found);
      item = undefined;
    },
  });
  const [count] = counts;
  const listed = titles.slice(0, before.length).map((title) => title.text);
  const isPlain =
    count !== undefined &&
    Number(count.text) === before.length &&
    listed.length === before.length &&
    listed.every((name, i) => name === before[i]);
  const [first] = titles;
  const last = titles[before.length - 1];
  if (!isPlain || first === undefined || last === undefined || titlesVector === undefined) return;
  const names = after.map((name) => `<${first.name}>${elementText(name)}</${first.name}>`).join('');
  const size = titles.length - before.length + after.length;
  const tag = text.slice(titlesVector.start, titlesVector.end);
  const splices: Splice[] = [
    { ...count.content, text: String(after.length) },
    {
      start: titlesVector.start,
      end: titlesVector.end,
      text: withAttribute(tag, 'size', String(size)),
    },
    { start: first.start, end: last.end, text: names },
  ];
  edit.put(part, splice(text, splices));
}
