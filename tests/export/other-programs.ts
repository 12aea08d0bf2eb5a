/** The written workbook as other programs read it. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'csv-parse/sync';

export interface OtherCell {
  readonly value: string | number | boolean | null;
  /** openpyxl's letter: `s` text, `n` number, `b` truth, `f` formula. */
  readonly type: string;
  readonly format: string;
  readonly quoted: boolean;
  readonly note: string | null;
  readonly fill: string | null;
  readonly border: string | null;
}

export interface OtherSheet {
  readonly name: string;
  readonly rows: readonly (readonly OtherCell[])[];
  readonly frozen: string | null;
  readonly filter: string | null;
  readonly titles: string | null;
  readonly orientation: string | null;
  readonly fitToWidth: number | null;
  readonly footer: string | null;
}

const script = `
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
out = []
for sheet in book:
    rows = []
    for row in sheet.iter_rows():
        rows.append([{
            "value": cell.value, "type": cell.data_type, "format": cell.number_format,
            "quoted": bool(cell.quotePrefix), "note": cell.comment.text if cell.comment else None,
            "fill": cell.fill.fgColor.rgb if cell.fill.fill_type else None,
            "border": cell.border.left.style,
        } for cell in row])
    out.append({"name": sheet.title, "rows": rows, "frozen": sheet.freeze_panes, "filter": sheet.auto_filter.ref,
        "titles": sheet.print_title_rows, "orientation": sheet.page_setup.orientation,
        "fitToWidth": sheet.page_setup.fitToWidth if sheet.sheet_properties.pageSetUpPr and sheet.sheet_properties.pageSetUpPr.fitToPage else None,
        "footer": sheet.oddFooter.left.text})
json.dump(out, sys.stdout)
`;

function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'runledger-export-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Every cell of every sheet, read by openpyxl. */
export function readWithOpenpyxl(python: string, bytes: Uint8Array): OtherSheet[] {
  return inFolder((folder) => {
    const file = join(folder, 'out.xlsx');
    writeFileSync(file, bytes);
    const run = spawnSync(python, ['-c', script, file], { encoding: 'utf8', maxBuffer: 2 ** 28 });
    if (run.status !== 0) throw new Error(run.stderr);
    return JSON.parse(run.stdout) as OtherSheet[];
  });
}

const recalculate = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`;

/**
 * Every sheet as LibreOffice writes it to csv, by sheet name. `shown`: cells as they look, else
 * their values. `recalculated`: every formula worked out anew before.
 */
export function sheetsOfLibreOffice(
  soffice: string,
  bytes: Uint8Array,
  { shown, recalculated }: { readonly shown: boolean; readonly recalculated: boolean },
): Map<string, string[][]> {
  return inFolder((folder) => {
    const file = join(folder, 'out.xlsx');
    writeFileSync(file, bytes);
    const profile = join(folder, 'profile');
    if (recalculated) {
      mkdirSync(join(profile, 'user'), { recursive: true });
      writeFileSync(join(profile, 'user', 'registrymodifications.xcu'), recalculate);
    }
    const filter = `csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,${shown},false,false,-1`;
    const home = `-env:UserInstallation=${pathToFileURL(profile).href}`;
    const target = join(folder, 'csv');
    const args = [home, '--headless', '--convert-to', filter, '--outdir', target, file];
    const run = spawnSync(soffice, args, { encoding: 'utf8', timeout: 110_000 });
    if (run.status !== 0) throw new Error(`${run.stdout}${run.stderr}`);
    const sheets = new Map<string, string[][]>();
    for (const name of readdirSync(target)) {
      const text = readFileSync(join(target, name), 'utf8');
      const rows = parse(text, { relax_column_count: true, skip_empty_lines: false });
      sheets.set(name.replace(/^out-|\.csv$/gu, ''), rows as string[][]);
    }
    return sheets;
  });
}
