/** Many workbooks opened by other programs at once: each program is slow to start. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'csv-parse/sync';

/** Values of every sheet by its name. */
export type Sheets = ReadonlyMap<string, readonly (readonly string[])[]>;

/** Makes LibreOffice work out every formula anew when it opens a workbook, whatever is kept in it. */
const recalculate = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`;

/** Values, not looks; every sheet; UTF-8. */
const csvFilter = 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1';

/**
 * Opens every workbook of a folder in LibreOffice and gives the values of their sheets, by file name
 * without its ending. A workbook that does not open is missing from the result.
 */
export function openInLibreOffice(
  soffice: string,
  folder: string,
  names: readonly string[],
  recalculated: boolean,
): Map<string, Sheets> {
  const work = join(folder, recalculated ? 'recalculated' : 'kept');
  const profile = join(work, 'profile');
  mkdirSync(join(profile, 'user'), { recursive: true });
  if (recalculated) writeFileSync(join(profile, 'user', 'registrymodifications.xcu'), recalculate);
  const target = join(work, 'csv');
  const home = `-env:UserInstallation=${pathToFileURL(profile).href}`;
  const files = names.map((name) => join(folder, `${name}.xlsx`));
  const words = [home, '--headless', '--convert-to', csvFilter, '--outdir', target, ...files];
  const run = spawnSync(soffice, words, { encoding: 'utf8', timeout: 300_000 });
  if (run.status !== 0) throw new Error(`${run.stdout}${run.stderr}`);
  const books = new Map<string, Map<string, string[][]>>();
  for (const file of readdirSync(target)) {
    // The longest name that fits: `a-b` must not take the sheets of `a-b-c`.
    const name = names
      .filter((one) => file.startsWith(`${one}-`))
      .sort((a, b) => b.length - a.length)[0];
    if (name === undefined) continue;
    const rows = parse(readFileSync(join(target, file), 'utf8'), {
      relax_column_count: true,
      skip_empty_lines: false,
    }) as string[][];
    const sheets = books.get(name) ?? new Map<string, string[][]>();
    sheets.set(file.slice(name.length + 1, -'.csv'.length), rows);
    books.set(name, sheets);
  }
  return books;
}

/** What openpyxl finds in a sheet, in forms that can be compared. */
export interface FoundSheet {
  readonly cells: Readonly<Record<string, readonly unknown[]>>;
  readonly merges: readonly string[];
  readonly widths: Readonly<Record<string, number>>;
  readonly validations: readonly string[];
  readonly conditional: readonly string[];
  readonly tables: readonly string[];
  readonly charts: number;
  readonly images: number;
  readonly links: readonly string[];
  readonly notes: Readonly<Record<string, string>>;
  readonly print: readonly unknown[];
  readonly frozen: string | null;
  readonly filter: string | null;
  readonly state: string;
  readonly protected: boolean;
}

export interface FoundBook {
  readonly sheets: Readonly<Record<string, FoundSheet>>;
  readonly names: Readonly<Record<string, string>>;
}

const script = `
import json, sys, warnings, openpyxl
warnings.simplefilter("ignore")
def ink(c):
    k = c.font.color if c.font else None
    if k is None or (k.type == "theme" and k.theme == 1 and not k.tint): return None
    return k.type + str(getattr(k, k.type)) + str(k.tint or "")
def look(path):
    book = openpyxl.load_workbook(path)
    sheets = {}
    for s in book.worksheets:
        cells, notes, links = {}, {}, []
        for row in s.iter_rows():
            for c in row:
                if c.value is not None or c.has_style:
                    cells[c.coordinate] = [str(c.value) if c.value is not None else None, c.data_type,
                        c.number_format, str(c.font.__dict__.get("b")), ink(c),
                        str(c.font.strike), c.alignment.horizontal, c.fill.fill_type, str(getattr(getattr(c.fill, "fgColor", None), "rgb", None)),
                        getattr(c.border.left, "style", None), getattr(c.border.bottom, "style", None), c.protection.locked, c.style]
                if c.comment: notes[c.coordinate] = c.comment.text
                if c.hyperlink: links.append(c.coordinate + " " + str(c.hyperlink.target) + " " + str(c.hyperlink.location))
        p = s.page_setup
        sheets[s.title] = dict(cells=cells, notes=notes, links=links, merges=sorted(str(m) for m in s.merged_cells.ranges),
            widths={k: d.width for k, d in s.column_dimensions.items() if d.customWidth},
            validations=sorted(str(v.sqref) + " " + str(v.type) + " " + str(v.formula1) for v in s.data_validations.dataValidation),
            conditional=sorted(str(k.sqref) + " " + r.type + " " + str(r.formula) for k, v in s.conditional_formatting._cf_rules.items() for r in v),
            tables=sorted(t + " " + s.tables[t].ref for t in s.tables), charts=len(s._charts), images=len(s._images),
            print=[p.orientation, p.paperSize, p.scale, p.fitToWidth, p.fitToHeight, s.print_title_rows, s.oddHeader.center.text, s.oddFooter.center.text],
            frozen=s.freeze_panes, filter=s.auto_filter.ref, state=s.sheet_state, protected=bool(s.protection.sheet))
    names = {n: str(book.defined_names[n].attr_text) for n in book.defined_names}
    return dict(sheets=sheets, names=names)
out = {}
for path in sys.argv[1:]:
    try: out[path] = look(path)
    except Exception as fault: out[path] = dict(fault=type(fault).__name__ + ": " + str(fault))
json.dump(out, sys.stdout)
`;

/** Workbooks as openpyxl loads them, by path; `fault` where it does not. */
export function loadWithOpenpyxl(
  python: string,
  paths: readonly string[],
): Readonly<Record<string, FoundBook | { readonly fault: string }>> {
  const run = spawnSync(python, ['-c', script, ...paths], {
    encoding: 'utf8',
    maxBuffer: 2 ** 28,
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout);
}

const setter = `
import json, sys, warnings, openpyxl
warnings.simplefilter("ignore")
for job in json.load(sys.stdin):
    book = openpyxl.load_workbook(job["from"])
    for sheet, cell, value in job["cells"]:
        book[sheet][cell] = value
    book.save(job["to"])
`;

export interface CellsSet {
  readonly from: string;
  readonly to: string;
  /** Sheet, cell, value. */
  readonly cells: readonly (readonly [string, string, string | number | boolean | null])[];
}

/** Has openpyxl put values into copies of workbooks: what the edits alone should come to. */
export function setWithOpenpyxl(python: string, jobs: readonly CellsSet[]): void {
  const run = spawnSync(python, ['-c', setter], { encoding: 'utf8', input: JSON.stringify(jobs) });
  if (run.status !== 0) throw new Error(run.stderr);
}
