"""Job 5, two workbooks to be merged by tag: a programmer's patch (hand-written package) and a contractor's sheet (openpyxl)."""

import io
from xml.sax.saxutils import escape

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import Font, NamedStyle, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.filters import FilterColumn, Filters
from openpyxl.worksheet.table import Table, TableStyleInfo

from kit import HERE, M, Truth, arch, ft, pack, png, raw_of, save_openpyxl, value_of, write_json

PATCH, INSTALL, MERGED = "tarnmoor-patch", "tarnmoor-install", "tarnmoor-merged"
MODES = {"TK1": ("Basic", 12, 74, 0.95), "TK2": ("Extended", 14, 118, 0.96), "TK3": ("Basic", 9, 52, None)}
# run: type, fixtures, universe from 0, first slot, panel, circuit, home run ft, area
RUNS = [
    ("Q1", "TK1", 9, 0, 1, "LP-3", "10,12", 95, "West ramp"),
    ("Q2", "TK1", 9, 2, 77, "LP-3", "14,16", 120, "West ramp"),
    ("Q3", "TK2", 9, 1, 2, "LP-3", "18,20", 140, "Bridge landing"),
    ("Q4", "TK3", 8, 2, 1, "LP-4", "2,4", None, "East ramp"),
    ("Q5", "TK2", 9, 3, 1, "LP-4", "6,8", 60, "East ramp"),
]
PATCH_COLUMNS = [
    ("A", "Fixture", "tag", "tag"), ("B", "Fixture type", "type", "type"), ("C", "Mode", "mode", "mode"),
    ("D", "Patch", "address", "address"), ("E", "Layer", None, None), ("F", "ID", None, None), ("G", "Note", "remarks", "remarks"),
]
INSTALL_COLUMNS = [
    ("A", "Tag", "tag", "tag"), ("B", "Type", "type", "type"), ("C", "Run", "run", "run"), ("D", "Pos", "place", "place"),
    ("E", "Panel/Circuit", "circuit", "circuit"), ("F", "Breaker", "breakerA", "breaker"), ("G", "Supply", "supplyV", "supply"),
    ("H", "Load (W)", "loadW", "load"), ("I", "PF", "powerFactor", "powerFactor"), ("J", "Lead length as ordered", "installedM", "installed"),
    ("K", "Home run", "homeRunM", "homeRun"), ("L", "Conductor", "conductor", "conductor"), ("M", "DMX label", "address", "address"),
    ("N", "Area", "area", "area"), ("O", "Leads so far", None, None), ("P", "Crate", None, None), ("Q", "Remarks", "remarks", "remarks"),
]
HEAD, HELD = 5, (42, 43)


def fixtures():
    number = 0
    for run, kind, count, universe, slot, panel, circuit, home, area in RUNS:
        for place in range(1, count + 1):
            number += 1
            yield {"n": number, "type": kind, "run": run, "place": place, "universe": universe, "slot": slot + MODES[kind][1] * (place - 1),
                   "panel": panel, "circuit": circuit, "home": home, "area": area}


def patch_rows():
    for f in list(fixtures()) + [{"n": 45, "type": "TK1", "universe": 3, "slot": 201, "run": None}]:
        text = f"{f['universe']}.{f['slot']}"
        cell = M(text, f["slot"])
        universe = f["universe"] + 1
        if f["n"] == 21:
            cell = M(1.3, None, why="a number, not text: 1.3 may have been 1.3, 1.30 or 1.300", also=[3, 30, 300])
        if text in ("2.1", "2.10"):
            cell = M(text, f["slot"], why=f"{text} is universe 2, slot {f['slot']}: 2.1 and 2.10 differ")
        yield [M(f"F_{f['n']:04d}", f"F_{f['n']:04d}"), f["type"], MODES[f["type"]][0], cell, "front" if f["n"] % 2 else "back", 100 + f["n"],
               "spare head in store" if f["n"] == 45 else None], universe, MODES[f["type"]][1]


def cell_xml(at, value):
    if value is None:
        return ""
    if isinstance(value, (int, float)):
        return f'<c r="{at}"><v>{value}</v></c>'
    return f'<c r="{at}" t="inlineStr"><is><t xml:space="preserve">{escape(value)}</t></is></c>'


def sheet_xml(rows, extra=""):
    body = "".join(f'<row r="{n}">' + "".join(cell_xml(f"{get_column_letter(i + 1)}{n}", v) for i, v in enumerate(row)) + "</row>" for n, row in enumerate(rows, 1))
    return ('<?xml version="1.0" encoding="UTF-8"?>\n<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
            f"<sheetData>{body}</sheetData>{extra}</worksheet>").encode()


def make_patch():
    truth = Truth(file=f"{PATCH}.xlsx", writer="hand-written package: inline strings, no styles, targets that begin with /", profile="north-america", scheduleSheets=["Patch"])
    truth.sheet("Patch", [1], PATCH_COLUMNS)
    rows = [[c[1] for c in PATCH_COLUMNS]]
    for at, (cells, universe, footprint) in enumerate(patch_rows(), 2):
        rows.append([raw_of(c) for c in cells])
        truth.fixture("Patch", at, PATCH_COLUMNS, cells, universe=universe, footprint=footprint)
    truth.questions.append({"about": "universe base", "sheet": "Patch", "column": "Patch", "base": 0, "why": "universe 0 occurs", "shift": 1})
    truth.extra["typesFrom"] = {"sheet": "Modes", "headerRow": 1, "what": "channels of a type in a mode"}
    truth.extra["otherSheets"] = {"Modes": "types and modes of the schedule"}
    truth.also.append({"key": "universe", "why": "one less (0-based, as written) only if the report asks for the base"})
    truth.also.append({"key": "footprint", "why": "from sheet Modes; null where that sheet is not joined"})
    truth.also.append({"what": "columns", "header": "Layer", "values": ["area"], "why": "carried as it is, or read as area"})
    truth.also.append({"key": "run", "why": "no run in this file: not solved"})
    modes = [["Type", "Mode", "Channels"]] + [[k, m, ch] for k, (m, ch, _, _) in MODES.items()]
    main, rel = "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    head = '<?xml version="1.0" encoding="UTF-8"?>\n'
    pack(HERE / f"{PATCH}.xlsx", [
        ("[Content_Types].xml", (head + '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
         f'<Override PartName="/xl/workbook.xml" ContentType="{kind}.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="{kind}.worksheet+xml"/><Override PartName="/xl/worksheets/sheet2.xml" ContentType="{kind}.worksheet+xml"/></Types>').encode()),
        ("_rels/.rels", (head + f'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="{rel}/officeDocument" Target="/xl/workbook.xml"/></Relationships>').encode()),
        ("xl/workbook.xml", (head + f'<workbook xmlns="{main}" xmlns:r="{rel}"><sheets><sheet name="Patch" sheetId="1" r:id="rId1"/><sheet name="Modes" sheetId="2" r:id="rId2"/></sheets>'
         f'<definedNames><definedName name="_xlnm._FilterDatabase" localSheetId="0" hidden="1">Patch!$A$1:$G${len(rows)}</definedName></definedNames></workbook>').encode()),
        ("xl/_rels/workbook.xml.rels", (head + f'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="{rel}/worksheet" Target="/xl/worksheets/sheet1.xml"/><Relationship Id="rId2" Type="{rel}/worksheet" Target="/xl/worksheets/sheet2.xml"/></Relationships>').encode()),
        ("xl/worksheets/sheet1.xml", sheet_xml(rows, f'<autoFilter ref="A1:G{len(rows)}"/>')),
        ("xl/worksheets/sheet2.xml", sheet_xml(modes)),
    ])
    write_json(f"{PATCH}.truth.json", truth.data())
    return truth


def install_tag(n):
    if n == 20:
        return M("F 20", "F 20")
    if n == 24:
        return M("f-24", "f-24")
    return f"F-{n}"


def install_rows():
    for f in list(fixtures()) + [{"n": 46, "type": "TK2", "run": "Q5", "place": 10, "universe": 3, "slot": 400, "panel": None, "circuit": None, "home": None, "area": "East ramp"}]:
        n, first = f["n"], f["place"] == 1
        _, _, watts, pf = MODES[f["type"]]
        label = f"{f['universe'] + 1}/{f['slot']}" if n % 3 == 0 and n < 45 else None
        universe, slot = (f["universe"] + 1, f["slot"]) if label else (None, None)
        kind = "TK2" if n == 7 else f["type"]
        if n == 19:
            label, universe, slot = "2/20", 2, 20
        if n == 31:
            label, universe, slot = "4/28", 4, 28
        lead = [("15'", ft(15)), ("15 ft", ft(15)), ("15'-0\"", ft(15)), (15, ft(15))][n % 4]
        lead_cell = M(*lead, why="bare number: feet, as the rest of the column" if lead[0] == 15 else None)
        if n == 8:
            lead_cell = M("2 x 8'", ft(16), why="two pieces of 8 ft", also=[None])
        if n == 17:
            lead_cell = M("8'+15'", ft(23), why="two pieces, 8 ft and 15 ft", also=[None])
        circuit = f"{f['panel']}/{f['circuit']}"
        pf_cell = pf if pf else M(None, None, unfilled="power factor of TK3 is not given anywhere")
        home = M(f"{f['home']}'", ft(f["home"])) if f["home"] else M(None, None, unfilled=None if n == 46 else "home run of Q4 is not given anywhere")
        yield n, [
            install_tag(n), kind, f["run"], f["place"], (M(circuit, f["circuit"], why="panel and both poles in one cell: two-pole circuit") if first else None),
            M("20A-2P", 20, why="20 A, two poles") if first else None, M("208 V", 208) if first else None, watts, pf_cell, lead_cell, home if first else None,
            M("#12", "12AWG", why="#12 is 12 AWG") if first else None, M(label, slot) if label else None, f["area"],
            M(f"=J{HEAD + n}", None), "held" if n in HELD else f"C-{n % 7:02d}", "not patched yet" if n == 46 else None,
        ], {"universe": universe, "panel": f["panel"] if first else None}


def make_install():
    truth = Truth(file=f"{INSTALL}.xlsx", writer="openpyxl", profile="north-america", scheduleSheets=["Install"])
    truth.sheet("Install", [HEAD], INSTALL_COLUMNS)
    book = Workbook()
    ws = book.active
    ws.title = "Install"
    ws["A1"], ws["A2"], ws["A3"] = "TARNMOOR STADIUM · APPROACH LIGHTING", "Contractor's install sheet, leads as ordered 2 March 2024", "DMX label = universe/slot, universes from 1"
    ws["A1"].font = Font(bold=True, size=14)
    book.add_named_style(NamedStyle("Ordered", fill=PatternFill("solid", fgColor="E4EEDF"), number_format="@"))
    for letter, header, _, _ in INSTALL_COLUMNS:
        ws[f"{letter}{HEAD}"] = header
    hidden, unread = [], []
    at = HEAD
    for n, cells, more in install_rows():
        at += 1
        for (letter, _, key, _), cell in zip(INSTALL_COLUMNS, cells):
            ws[f"{letter}{at}"] = raw_of(cell)
            if key == "installedM":
                ws[f"{letter}{at}"].style = "Ordered"
        if n in HELD:
            ws.row_dimensions[at].hidden = True
            truth.skip("Install", at, "hidden")
            hidden.append(at)
            unread.append({"sheet": "Install", "row": at} | {c[2]: value_of(v) for c, v in zip(INSTALL_COLUMNS, cells) if c[2]} | more)
        else:
            truth.fixture("Install", at, INSTALL_COLUMNS, cells, **more)
    furnish(book, ws, at, hidden)
    save_openpyxl(book, HERE / f"{INSTALL}.xlsx")
    shown = len(truth.fixtures)
    truth.fixtures += unread
    truth.hold_for_run()
    truth.extra["fixturesIfHiddenRead"] = truth.fixtures[shown:]
    truth.fixtures = truth.fixtures[:shown]
    truth.questions.append({"about": "hidden rows", "sheet": "Install", "rows": hidden, "untilAnswered": "skipped", "why": "hidden by the table's filter on Crate (held), not by hand"})
    truth.questions.append({"about": "universe base", "sheet": "Install", "column": "DMX label", "base": 1, "why": "the title says universes from 1"})
    truth.also.append({"what": "columns", "header": "Panel/Circuit", "values": ["panel"], "why": "holds panel and circuit"})
    truth.also.append({"what": "columns", "header": "Lead length as ordered", "values": ["span"], "why": "stock leads as ordered are installed lengths, not drawn spans; span only if a reading says so"})
    write_json(f"{INSTALL}.truth.json", truth.data())
    return truth


def furnish(book, ws, last, hidden):
    table = Table(displayName="InstallList", ref=f"A{HEAD}:Q{last}")
    table.tableStyleInfo = TableStyleInfo(name="TableStyleLight9", showRowStripes=True)
    table._initialise_columns()
    for column, cell in zip(table.tableColumns, ws[HEAD]):
        column.name = cell.value
    shown = sorted({ws[f"P{r}"].value for r in range(HEAD + 1, last + 1) if r not in hidden})
    table.autoFilter.filterColumn.append(FilterColumn(colId=15, filters=Filters(filter=shown)))
    ws.add_table(table)
    ws.freeze_panes = f"B{HEAD + 1}"
    ws.print_area = f"A1:Q{last}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    ws.page_setup.orientation = "landscape"
    ws.oddFooter.center.text = "&A, &P of &N"
    ws.column_dimensions["J"].width = 22
    ws.column_dimensions["O"].hidden = True
    check = DataValidation(type="list", formula1="=$S$6:$S$8", allow_blank=True)
    check.add(f"B{HEAD + 1}:B{last}")
    ws.add_data_validation(check)
    for row, kind in enumerate(MODES, 6):
        ws[f"S{row}"] = kind
    ws.conditional_formatting.add(f"H{HEAD + 1}:H{last}", CellIsRule(operator="greaterThan", formula=["100"], font=Font(bold=True)))
    book.defined_names.append(DefinedName("Crates", attr_text=f"Install!$P${HEAD + 1}:$P${last}"))
    ws["Q1"] = "delivery notes"
    ws["Q1"].hyperlink = "https://example.org/tarnmoor/deliveries"
    ws["J6"].comment = Comment("Ordered long: box moved", "Desk")
    ws.add_image(Image(io.BytesIO(png(48, 40, arch))), "N1")


def make_merged(patch, install):
    by_number = {int(f["tag"][2:]): f for f in patch.fixtures}
    site = {int(f["tag"][2:]): f for f in install.fixtures}
    conflicts, merged = [], []
    for n in sorted(set(by_number) | set(site)):
        left, right = by_number.get(n), site.get(n)
        one = {"tag": (right or left)["tag"], "patch": left and {"tag": left["tag"], "row": left["row"]}, "install": right and {"tag": right["tag"], "row": right["row"]}}
        for key in ("type", "mode", "footprint", "universe", "address", "run", "place", "panel", "circuit", "breakerA", "supplyV", "loadW", "powerFactor", "installedM", "homeRunM", "conductor", "area"):
            a, b = (left or {}).get(key), (right or {}).get(key)
            if a is not None and b is not None and a != b:
                letters = {"type": ("B", "B"), "universe": ("D", "M"), "address": ("D", "M")}[key]
                conflicts.append({"tag": one["tag"], "key": key, "patch": {"cell": f"Patch!{letters[0]}{left['row']}", "value": a}, "install": {"cell": f"Install!{letters[1]}{right['row']}", "value": b}})
                one[key] = None
            else:
                one[key] = a if b is None else b
        merged.append(one)
    assert [c["tag"] for c in conflicts] == ["F-7", "F-19", "F-31"], conflicts
    write_json(f"{MERGED}.truth.json", {
        "files": [f"{PATCH}.xlsx", f"{INSTALL}.xlsx"],
        "tagRule": "letters, then the number without separators and leading zeros; asked before it is used",
        "questions": [{"about": "tag match", "examples": [["F_0012", "F-12"], ["F_0020", "F 20"], ["F_0024", "f-24"]]},
                      {"about": "universe base", "file": f"{PATCH}.xlsx", "base": 0, "evidence": "F_0012 2.101 against F-12 3/101"}],
        "onlyInPatch": sorted(by_number[n]["tag"] for n in set(by_number) - set(site)),
        "onlyInInstall": sorted(site[n]["tag"] for n in set(site) - set(by_number)),
        "hiddenInInstall": ["F-42", "F-43"],
        "conflicts": conflicts,
        "also": [{"what": "fixtures", "why": "a value in conflict is null here; the program may keep one side as long as both are shown"},
                 {"what": "address of F_0021", "values": [3, 30, 300], "why": "a number in the patch; its label in the install sheet says 2/30"}],
        "fixtures": merged,
    })


def make():
    make_merged(make_patch(), make_install())
