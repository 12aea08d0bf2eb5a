/** Notes of a sheet: ours beside the engineer's, in the same comments part and the same drawing. */
import { columnLetters } from '../../../src-shared/document/source-workbook.ts';
import { parseAddress } from '../cell-address.ts';
import { linesOf } from '../column-fit.ts';
import { NOTE_BOX_CHARACTERS, noteAnchor } from '../note-boxes.ts';
import type { PackageEdit } from './package-edit.ts';
import { cellKey } from './sheet-map.ts';
import { localName, type OpenTag, prefixOf, scanXml, withOpenRoot } from './xml-scan.ts';
import { cellText, type Splice, splice } from './xml-write.ts';

const AUTHOR = 'Runledger';
const XML_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const NOTES_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml';
const DRAWING_TYPE = 'application/vnd.openxmlformats-officedocument.vmlDrawing';

/** How our notes begin: known again where a program has not kept who wrote them. */
const OWN_NOTE =
  /^(?:[SBWN?] (?:stop|breach|watch|note|not checked): |Not as in the source file|A row that is not in the source file)/u;

export interface NewNote {
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

interface FoundNote {
  readonly key: number;
  readonly ours: boolean;
  /** Nobody's name stands at it: a program has not kept who wrote it. */
  readonly nameless: boolean;
  readonly start: number;
  readonly end: number;
}

interface NotesPart {
  readonly prefix: string;
  readonly notes: readonly FoundNote[];
  /** Place of our name among the authors; -1: not there. */
  readonly author: number;
  readonly authors: number;
  /** Where one more author and one more note belong. */
  readonly authorsEnd: number;
  readonly listEnd: number;
  /** Behind `<comments>` and behind `</authors>`; -1: not there. */
  readonly rootTagEnd: number;
  readonly authorsTagEnd: number;
}

function readNotes(text: string, where: string): NotesPart {
  const notes: FoundNote[] = [];
  const authors: string[] = [];
  let prefix = '';
  let [authorsEnd, listEnd, rootTagEnd, authorsTagEnd] = [-1, -1, -1, -1];
  let note: { tag: OpenTag; text: string } | undefined;
  let author: string | undefined;
  scanXml(text, where, {
    open(tag) {
      const name = localName(tag.name);
      if (tag.depth === 1) [prefix, rootTagEnd] = [prefixOf(tag.name), tag.end];
      if (name === 'author') author = '';
      if (name === 'comment') note = { tag, text: '' };
    },
    text(piece) {
      if (author !== undefined) author += piece;
      else if (note !== undefined) note.text += piece;
    },
    close(whole, start, end) {
      const name = localName(whole);
      if (name === 'author' && author !== undefined) {
        authors.push(author);
        author = undefined;
      }
      if (name === 'authors') [authorsEnd, authorsTagEnd] = [start, end];
      if (name === 'commentList') listEnd = start;
      if (name !== 'comment' || note === undefined) return;
      const at = parseAddress(note.tag.attributes.ref ?? '');
      const by = authors[Number(note.tag.attributes.authorId ?? -1)];
      const ours = by === AUTHOR || OWN_NOTE.test(note.text);
      const key = at === undefined ? -1 : cellKey(at.row, at.column);
      const nameless = (by ?? '').trim() === '';
      notes.push({ key, ours, nameless, start: note.tag.start, end });
      note = undefined;
    },
  });
  const place = authors.indexOf(AUTHOR);
  const places = { authorsEnd, listEnd, rootTagEnd, authorsTagEnd };
  return { prefix, notes, author: place, authors: authors.length, ...places };
}

/** Notes of a sheet that are not ours, by cell. `dropped`: columns of ours, whose notes are ours. */
export function foreignNotes(
  edit: PackageEdit,
  sheetPart: string,
  dropped: ReadonlySet<number>,
): Set<number> {
  const part = linkedPart(edit, sheetPart, 'comments');
  const text = part === undefined ? undefined : edit.text(part);
  if (part === undefined || text === undefined) return new Set();
  const { notes } = readNotes(text, edit.where(part));
  return new Set(notes.filter((n) => !isGone(n, dropped)).map((n) => n.key));
}

/** Ours, or nobody's at a column of ours; what someone else has noted there stays. */
const isGone = ({ ours, nameless, key }: FoundNote, dropped: ReadonlySet<number>) =>
  ours || (nameless && dropped.has(key % 16_384));

function linkedPart(edit: PackageEdit, sheetPart: string, kind: string): string | undefined {
  return edit.links(sheetPart).find((link) => link.kind === kind && link.target !== '')?.target;
}

function noteXml(prefix: string, { row, column, text }: NewNote, author: number): string {
  const p = prefix;
  const look = `<${p}rPr><${p}sz val="9"/><${p}rFont val="Arial"/><${p}family val="2"/></${p}rPr>`;
  const inner = `<${p}r>${look}<${p}t xml:space="preserve">${cellText(text)}</${p}t></${p}r>`;
  return `<${p}comment ref="${columnLetters(column)}${row}" authorId="${author}"><${p}text>${inner}</${p}text></${p}comment>`;
}

/** A comments part with ours in place of our earlier ones; gives the cells of those that went. */
function notesText(
  text: string,
  where: string,
  added: readonly NewNote[],
  dropped: ReadonlySet<number>,
): { text: string; gone: Set<number> } {
  const found = readNotes(text, where);
  const gone = found.notes.filter((note) => isGone(note, dropped));
  const splices: Splice[] = gone.map(({ start, end }) => ({ start, end, text: '' }));
  const { prefix } = found;
  const author = found.author < 0 ? found.authors : found.author;
  if (added.length > 0) {
    if (found.author < 0) {
      const name = `<${prefix}author>${AUTHOR}</${prefix}author>`;
      splices.push({ start: found.authorsEnd, end: found.authorsEnd, text: name });
    }
    const notes = added.map((note) => noteXml(prefix, note, author)).join('');
    splices.push({ start: found.listEnd, end: found.listEnd, text: notes });
  }
  return { text: splice(text, splices), gone: new Set(gone.map((note) => note.key)) };
}

const VML_SPACES =
  'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel"';

const SHAPE_TYPE = `<v:shapetype ${VML_SPACES} id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>`;

function shapeXml(note: NewNote, nth: number, widths: readonly number[]): string {
  const { row, column, text } = note;
  const anchor = noteAnchor(row, column, linesOf(text, NOTE_BOX_CHARACTERS), widths);
  return `<v:shape ${VML_SPACES} id="runledger_${nth}" type="#_x0000_t202" style="position:absolute;visibility:hidden" fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/><v:shadow on="t" color="black" obscured="t"/><v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto"><div style="text-align:left"></div></v:textbox><x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>${anchor}</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>${row - 1}</x:Row><x:Column>${column}</x:Column></x:ClientData></v:shape>`;
}

/** A drawing of note boxes with ours added, and without those of cells in `gone`. */
function drawingText(
  text: string,
  where: string,
  added: readonly NewNote[],
  gone: ReadonlySet<number>,
  widths: readonly number[],
): string {
  const splices: Splice[] = [];
  let shape: OpenTag | undefined;
  let field = '';
  let place = { row: -1, column: -1, isNote: false };
  let hasType = false;
  let rootEnd = text.length;
  scanXml(text, where, {
    open(tag) {
      const name = localName(tag.name);
      if (name === 'shapetype' && tag.attributes.id === '_x0000_t202') hasType = true;
      if (name === 'shape') {
        shape = tag;
        place = { row: -1, column: -1, isNote: false };
      }
      if (name === 'ClientData') place.isNote = tag.attributes.ObjectType === 'Note';
      field = name;
    },
    text(piece) {
      if (field === 'Row') place.row = Number(piece) + 1;
      if (field === 'Column') place.column = Number(piece);
    },
    close(whole, start, end, depth) {
      field = '';
      if (depth === 1) rootEnd = start;
      if (localName(whole) !== 'shape' || shape === undefined) return;
      if (place.isNote && gone.has(cellKey(place.row, place.column))) {
        splices.push({ start: shape.start, end, text: '' });
      }
      shape = undefined;
    },
  });
  const shapes = added.map((note, nth) => shapeXml(note, nth + 1, widths)).join('');
  const type = hasType || added.length === 0 ? '' : SHAPE_TYPE;
  if (shapes !== '') splices.push({ start: rootEnd, end: rootEnd, text: type + shapes });
  return splice(text, splices);
}

/** What a sheet needs to know of its notes afterwards. */
export interface NotesWritten {
  /** Id of the link the sheet has to state as `legacyDrawing`; null: it states one already, or needs none. */
  readonly drawingLink: string | null;
}

/**
 * Puts notes on cells of a sheet and takes our earlier ones away. Cells that carry a note already
 * must not be among them.
 * @param drawingId id of the link the sheet states as `legacyDrawing`, if it does
 */
export function writeNotes(
  edit: PackageEdit,
  sheetPart: string,
  drawingId: string | undefined,
  notes: readonly NewNote[],
  options: {
    readonly dropped: ReadonlySet<number>;
    readonly widths: readonly number[];
    readonly mainSpace: string;
  },
): NotesWritten {
  const { dropped, widths, mainSpace } = options;
  let part = linkedPart(edit, sheetPart, 'comments');
  if (part === undefined && notes.length === 0) return { drawingLink: null };
  if (part === undefined) {
    part = edit.freeName('xl/comments', '.xml');
    edit.addLink(sheetPart, 'comments', part);
  }
  // A link may lead to a part that got lost on the way.
  if (!edit.has(part)) {
    if (notes.length === 0) return { drawingLink: null };
    edit.put(part, `${XML_HEAD}<comments xmlns="${mainSpace}"/>`);
    edit.addType(part, NOTES_TYPE);
  }
  const before = withLists(edit.text(part) ?? '', edit.where(part));
  const { text, gone } = notesText(before, edit.where(part), notes, dropped);
  if (gone.size > 0 || notes.length > 0) edit.put(part, text);
  const stated = edit.links(sheetPart).find((link) => link.id === drawingId);
  if (stated !== undefined) {
    if (!edit.has(stated.target)) edit.addDefaultType('vml', DRAWING_TYPE);
    const drawing = edit.text(stated.target) ?? newDrawing(notes.length);
    const where = edit.where(stated.target);
    if (gone.size > 0 || notes.length > 0) {
      edit.put(stated.target, drawingText(drawing, where, notes, gone, widths));
    }
    return { drawingLink: null };
  }
  if (notes.length === 0) return { drawingLink: null };
  const drawing = edit.freeName('xl/drawings/vmlDrawing', '.vml');
  const root = newDrawing(notes.length);
  edit.put(drawing, drawingText(root, edit.where(drawing), notes, new Set(), widths));
  edit.addDefaultType('vml', DRAWING_TYPE);
  return { drawingLink: edit.addLink(sheetPart, 'vmlDrawing', drawing) };
}

/** A drawing without boxes yet. */
function newDrawing(boxes: number): string {
  const blocks = Math.ceil((boxes + 1) / 1024);
  const ids = Array.from({ length: blocks }, (_, i) => i + 1).join(',');
  return `<xml ${VML_SPACES}><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="${ids}"/></o:shapelayout></xml>`;
}

/** A comments part that has both of its lists, each with an end tag, so that something can stand between. */
function withLists(written: string, where: string): string {
  const text = withOpenRoot(written, where).replace(
    /<((?:\w+:)?(?:authors|commentList))(\s[^>]*)?\/>/g,
    '<$1$2></$1>',
  );
  const { prefix, rootTagEnd, authorsTagEnd, listEnd } = readNotes(text, where);
  const list = (name: string) => `<${prefix}${name}></${prefix}${name}>`;
  const splices: Splice[] = [];
  const behind = authorsTagEnd < 0 ? rootTagEnd : authorsTagEnd;
  if (authorsTagEnd < 0)
    splices.push({ start: rootTagEnd, end: rootTagEnd, text: list('authors') });
  if (listEnd < 0) splices.push({ start: behind, end: behind, text: list('commentList') });
  return splice(text, splices);
}
