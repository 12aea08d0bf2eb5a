"""Writes thistlemere-aqueduct.xlsx and .csv beside this script.

An invented job: place, names, types and numbers are made up. The same data
feed compute.py, which works out what a check of the workbook must say.
Run: python3 make.py   (needs openpyxl)
"""
import csv
import datetime
import re
import sys
import zipfile
from pathlib import Path

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter

sys.dont_write_bytecode = True
HERE = Path(__file__).resolve().parent
NAME = "thistlemere-aqueduct"
HEADER_ROW = 7

# header -> what the column holds (a column id of the check command, or None)
COLUMNS = {
    "Run": "run", "Place": "place", "Fixture tag": "tag", "Type": "type",
    "Area": "area", "Location": "location", "Reach": "reach", "Fed from": "fedFrom",
    "Distribution board": "panel", "Cct": "circuit", "Supply": "supply", "MCB": "breaker",
    "RCD protection": "protection", "Line": "line", "Home run": "homeRun",
    "Lead-in (m)": "leadIn", "Span (m)": "span", "DMX universe": "universe",
    "DMX start": "address", "DMX mode": "mode", "Share set": "shareSet",
    "Remarks": "remarks", "Site walk": None,
}

# Type: (description, W max, pf, printed, absolute, modes, unit load, leakage mA, max per 16 A)
# as written in the sheet; the plain numbers stand in TYPE_NUMBERS.
TYPES = {
    "AS1": ("Arch soffit wash, wide", "62 W", 0.95, "100–277 V", "90–305", "4ch = 4, 8ch = 8", 1, 0.7, 24),
    "PF2": ("Pier face, narrow beam", 150, "0,96", "220–277 V", "198–305", "5ch = 5, 10ch = 10", "1/2", "0,70", 12),
    "PR3": ("Parapet rail marker", 9, 0.9, "100–277 V", "90–305", "3ch = 3", 1, 0.2, 60),
    "TH4": ("Toll house lantern", "40 W", None, "220–240 V", "198–264", "2ch = 2", "1/4", 0.5, 30),
    "TB5": ("Towpath bollard", 24, 0.92, "100–277 V", "90–305", "4ch = 4", "1/4", 0.4, 40),
    "LG6": ("Lock gate flood", 85, 0.95, "200–480 V", "170–528", "4ch = 4, 8ch = 8", "1/8", 0.5, 18),
}
# type: (W, pf or None, absolute minimum V, absolute maximum V, unit load, leakage mA, {mode: slots})
TYPE_NUMBERS = {
    "AS1": (62, 0.95, 90, 305, 1, 0.7, {"4ch": 4, "8ch": 8}),
    "PF2": (150, 0.96, 198, 305, 0.5, 0.7, {"5ch": 5, "10ch": 10}),
    "PR3": (9, 0.90, 90, 305, 1, 0.2, {"3ch": 3}),
    "TH4": (40, None, 198, 264, 0.25, 0.5, {"2ch": 2}),
    "TB5": (24, 0.92, 90, 305, 0.25, 0.4, {"4ch": 4}),
    "LG6": (85, 0.95, 170, 528, 0.125, 0.5, {"4ch": 4, "8ch": 8}),
}
SUPPLIES = [("DB-A", "400Y/230", 3, 400, 230), ("DB-T", "230 V single phase", 1, None, 230)]
LINES = [
    ("T25", "2.5 mm²", 9.55, 0.10, 10, 20, "230 V: 100 m", "1 m, 2.5 m, 5 m, 10 m", "3 m, 10 m, 20 m", "yes", "fewest joints"),
    ("T15", "1.5 mm²", 15.9, 0.11, 6, 10, "230 V: 60 m", "1 m, 3 m, 7 m, 10 m", "3 m, 10 m", "yes", "least excess"),
]
# line: (R, X ohm/km per conductor, rating A, upstream breaker max A, max length m at 230 V, jumpers m, rule)
LINE_NUMBERS = {
    "T25": (9.55, 0.10, 10, 20, 100, (1, 2.5, 5, 10), "fewest joints"),
    "T15": (15.9, 0.11, 6, 10, 60, (1, 3, 7, 10), "least excess"),
}
PROJECT = [
    ("Project", "Thistlemere Aqueduct, stage 2"), ("Revision", "B"), ("Profile", "iec"),
    ("Supply tolerance", "±10 %"), ("Line", "T25"), ("Home run conductor", "4 mm²"),
    ("Issued", "for review"),
]
# run: panel, circuit, breaker A as written, protection, line, home run m as written, home run m,
#      area, location, reach, do the run's values stand on every row?
RUNS = {
    "A1": ("DB-A", 1, "16 A", "RCBO 30 mA", "T25", "22 m", 22, "Arch soffits", "soffit, wet", "above 2.5 m", True),
    "A2": ("DB-A", 1, "16 A", "RCBO 30 mA", "T25", "26 m", 26, "Arch soffits", "soffit, wet", "above 2.5 m", True),
    "P1": ("DB-A", 2, "16 A", "RCD 30 mA", "T25", "17,5 m", 17.5, "Parapet rail", "rail, wet", "public", True),
    "F1": ("DB-A", 3, "16 A", "RCD 100 mA", "T25", "95 m", 95, "Pier faces", "pier ledge, wet", "above 2.5 m", True),
    "G1": ("DB-A", 4, "16 A", "RCD 100 mA", "T25", "30 m", 30, "Lock gates", "gate beam, wet", "maintenance only", False),
    "T1": ("DB-T", 1, "6 A", "RCD 30 mA", "T25", "9 m", 9, "Toll house", "porch, damp", "above 2.5 m", False),
    "T2": ("DB-T", 2, "16 A", "RCBO 30 mA", "T15", "12 m", 12, "Towpath", "path edge, wet", "public", False),
}


def chain(run, type_, tags, first_m, spans_m, universe, starts, mode, **per_tag):
    """Fixtures of one run in order of place; per_tag holds what differs: {tag: {...}}."""
    out = []
    for i, tag in enumerate(tags):
        fed = ("Head box" if run in ("F1", "T2") else "BOX") if i == 0 else tags[i - 1]
        f = {"run": run, "place": i + 1, "tag": tag, "type": type_, "fedFrom": fed,
             "lengthM": first_m if i == 0 else spans_m[i - 1], "universe": universe,
             "start": starts[i], "mode": mode, "supply": "230 V", "share": None,
             "remarks": None, "walk": None, "written": None, "breaker": None}
        f.update(per_tag.get("extra", {}).get(tag, {}))
        out.append(f)
    return out


def tags(prefix, first, last):
    return [f"{prefix}-{n:02d}" for n in range(first, last + 1)]


FIXTURES = {
    "A1": chain("A1", "AS1", tags("A", 1, 7), 6, [7.5] * 6, 1, list(range(1, 57, 8)), "8ch", extra={
        "A-02": {"written": "7,5"}, "A-03": {"written": "7,5 m"},
        "A-05": {"mode": "16ch", "remarks": "pixel mode asked for by designer"},  # mistake: no such mode
        "A-07": {"walk": "= as stage 1"}}),
    "A2": chain("A2", "AS1", tags("A", 8, 12), 8, [7.5] * 4, 1, list(range(81, 121, 8)), "8ch",
                extra={"A-10": {"walk": "+ spare bracket here"}}),
    "P1": chain("P1", "PR3", tags("P", 1, 32), 4, [2.0] * 31, 2, list(range(418, 514, 3)), "3ch", extra={
        "P-17": {"breaker": "10 A"},  # mistake: 16 A on every other row of the run
        "P-20": {"walk": "coping stone loose"}}),
    "F1": chain("F1", "PF2", tags("F", 1, 8), 12, [4.5] * 7, 1, list(range(121, 161, 5)), "5ch", extra={
        "F-05": {"start": 114},  # mistake: 141 with two digits changed round
        "F-03": {"written": "4500 mm"}, "F-01": {"walk": "trench shared with water main?"}}),
    "G1": chain("G1", "LG6", ["G-01", "G-02", "G-04", "G-05", "G-06", "G-07"], 9, [8] * 5, 2,
                [1, 5, 13, 1, 5, 17], "4ch", extra={
        "G-01": {"share": "S1"}, "G-05": {"share": "S1"}, "G-02": {"share": "S2"}, "G-06": {"share": "S2"},
        "G-04": {"place": 4, "fedFrom": "G-03"},  # mistake: G-03 was struck out, the chain was not closed
        "G-05": {"share": "S1", "place": 5}, "G-06": {"share": "S2", "place": 6},
        "G-07": {"place": 7, "supply": "400 V"}}),  # mistake: one fixture on 400 V in a 230 V run
    "T1": chain("T1", "TH4", tags("T", 1, 4), 5, [3.0] * 3, 3, [101, 103, 105, 107], "2ch",
                extra={"T-02": {"walk": "pf to come from supplier"}}),
    "T2": chain("T2", "TB5", tags("T", 5, 9) + ["T-04"], 3, [4.2, 8, 4.2, 300, 8], 3,
                list(range(1, 25, 4)), "4ch",  # mistakes: 300 for 3.00, and T-04 where T-10 was meant
                extra={"T-06": {"written": "4,2"}, "T-08": {"written": "4,2"}}),
}
STRUCK = {"run": "G1", "place": 3, "tag": "G-03", "type": "LG6", "fedFrom": "G-02", "lengthM": 8,
          "universe": 2, "start": 9, "mode": "4ch", "supply": "230 V", "share": None,
          "remarks": "deleted rev B", "walk": None, "written": None, "breaker": None}
HIDDEN = {"run": "A2", "place": 6, "tag": "A-13", "type": "AS1", "fedFrom": "A-12", "lengthM": 7.5,
          "universe": 1, "start": 81, "mode": "8ch", "supply": "230 V", "share": None,
          "remarks": "option, not taken", "walk": None, "written": None, "breaker": None}


def cells(f, first_of_run):
    """The cells of one schedule row, in the order of COLUMNS."""
    panel, circuit, breaker, protection, line, home, _, area, location, reach, every = RUNS[f["run"]]
    show = every or first_of_run
    default_line = line == "T25"
    length = f["written"] if f["written"] is not None else f["lengthM"]
    return [
        f["run"], f["place"], f["tag"], f["type"], area, location, reach, f["fedFrom"],
        panel if show else None, circuit if show else None,
        f["supply"] if show or f["supply"] != "230 V" else None,
        (f["breaker"] or breaker) if show else None, protection if show else None,
        line if first_of_run and not default_line else None,
        home if first_of_run or f["run"] == "F1" else None,
        length if f["place"] == 1 else None, None if f["place"] == 1 else length,
        f["universe"], f["start"], f["mode"], f["share"], f["remarks"], f["walk"],
    ]


def layout():
    """Every non-empty row below the header: (kind, payload), kind = fixture, struck, hidden, subtotal, header, note."""
    rows = []

    def run(name, backwards=False):
        order = list(reversed(FIXTURES[name])) if backwards else FIXTURES[name]
        for i, f in enumerate(order):
            if f["tag"] == "G-04":
                rows.append(("struck", (STRUCK, False)))
            rows.append(("fixture", (f, i == 0)))

    run("A1")
    run("A2")
    rows.append(("hidden", (HIDDEN, False)))
    rows.append(("subtotal", ("Subtotal arch soffits", "12 pcs", "744 W")))
    run("P1")
    rows.append(("subtotal", ("Subtotal parapet", "32 pcs", "288 W")))
    rows.append(("header", None))
    run("F1", backwards=True)
    rows.append(("subtotal", ("Subtotal piers", "8 pcs", "1200 W")))
    run("G1")
    run("T1")
    run("T2")
    rows.append(("subtotal", ("Total", "68 pcs", None)))
    rows.append(("note", "Note: lengths along the stone, slack not included. Head boxes by others."))
    rows.append(("note", "Note: G-03 deleted at rev B, see remark."))
    return rows


def main():
    wb = Workbook()
    ws = wb.active
    ws.title = "Schedule"
    thin = Side(style="thin", color="B5B9BD")
    box = Border(top=thin, bottom=thin, left=thin, right=thin)
    head_fill, sub_fill = PatternFill("solid", fgColor="D9E2EA"), PatternFill("solid", fgColor="F1EEE3")
    width = len(COLUMNS)
    title = [("THISTLEMERE AQUEDUCT, STAGE 2", 15, True), ("Exterior lighting: fixture schedule", 12, False),
             ("Job TA-207    Rev B    issued for review", 10, False),
             ("Supply 230 V 50 Hz from DB-A (400Y/230) and DB-T. Lengths in metres unless the cell says otherwise.", 10, False),
             ("Addresses: universe base 1. Struck-through rows are deleted.", 10, False)]
    for r, (text, size, bold) in enumerate(title, 1):
        ws.cell(r, 1, text).font = Font(size=size, bold=bold)
        ws.merge_cells(start_row=r, end_row=r, start_column=1, end_column=13)

    def write(r, values, font=None, fill=None, wrap=False):
        for c, v in enumerate(values, 1):
            cell = ws.cell(r, c, v)
            if isinstance(v, str) and v[:1] in "=+-@":
                cell.data_type = "s"
                cell.quotePrefix = True
            cell.border = box
            if font:
                cell.font = font
            if fill:
                cell.fill = fill
            cell.alignment = Alignment(wrap_text=wrap, vertical="center",
                                       horizontal="center" if wrap or isinstance(v, (int, float)) else None)
            if list(COLUMNS)[c - 1] in ("Lead-in (m)", "Span (m)") and isinstance(v, (int, float)):
                cell.number_format = "0.0"

    write(HEADER_ROW, list(COLUMNS), Font(bold=True), head_fill, True)
    ws.row_dimensions[HEADER_ROW].height = 32
    table = [list(COLUMNS)]
    for r, (kind, payload) in enumerate(layout(), HEADER_ROW + 1):
        if kind == "header":
            write(r, list(COLUMNS), Font(bold=True), head_fill, True)
            ws.row_dimensions[r].height = 32
        elif kind == "subtotal":
            text, pieces, watts = payload
            write(r, [text, None, None, pieces, watts] + [None] * (width - 5), Font(bold=True, italic=True), sub_fill)
        elif kind == "note":
            ws.cell(r, 1, payload).font = Font(italic=True, color="5A6066")
        else:
            values = cells(*payload)
            font = Font(strike=True, color="9A3B3B") if kind == "struck" else None
            write(r, values, font)
            if values[-1]:
                ws.cell(r, width).font = Font(color="2F5D8C", italic=True)
            if kind == "hidden":
                ws.row_dimensions[r].hidden = True
            if kind == "fixture":
                table.append(["" if v is None else v for v in values])
            if values[2] == "F-08":
                ws.cell(r, 3).comment = Comment("Position read off drawing TA-207-11.", "Desk")
    for c, w in enumerate((6, 6, 11, 7, 14, 15, 16, 10, 12, 5, 8, 7, 13, 6, 9, 9, 9, 9, 7, 7, 7, 30, 26), 1):
        ws.column_dimensions[get_column_letter(c)].width = w
    ws.freeze_panes = ws.cell(HEADER_ROW + 1, 4)
    ws.page_setup.orientation, ws.page_setup.paperSize, ws.page_setup.fitToHeight = "landscape", 8, 0
    ws.sheet_properties.pageSetUpPr.fitToPage = True
    ws.print_title_rows = f"${HEADER_ROW}:${HEADER_ROW}"

    sheets = {
        "Types": (["Type", "Description", "W max", "pf", "Printed window", "Absolute window", "Modes",
                   "Unit load", "Leakage mA", "Max per 16 A"], [(k, *v) for k, v in TYPES.items()]),
        "Supplies": (["Panel", "System", "Phases", "Volts L-L", "Volts L-N"], SUPPLIES),
        "Lines": (["Line", "Conductor", "Resistance ohm/km hot", "Reactance ohm/km", "Rating A",
                   "Upstream breaker max A", "Max length (by supply)", "Jumpers", "Lead-ins",
                   "Lead-in cut at box", "Pieces"], LINES),
        "Project": (None, PROJECT),
    }
    for name, (header, body) in sheets.items():
        sheet = wb.create_sheet(name)
        if header:
            sheet.append(header)
            for cell in sheet[1]:
                cell.font, cell.fill, cell.border = Font(bold=True), head_fill, box
        for row in body:
            sheet.append(row)
        for c in range(1, sheet.max_column + 1):
            longest = max(len(str(sheet.cell(r, c).value or "")) for r in range(1, sheet.max_row + 1))
            sheet.column_dimensions[get_column_letter(c)].width = max(9, min(34, longest + 2))

    wb.properties.creator, wb.properties.title = "Desk", "Thistlemere Aqueduct schedule"
    target = HERE / f"{NAME}.xlsx"
    wb.properties.created = datetime.datetime(2031, 3, 4, 9, 0)
    wb.save(target)
    fix_times(target)
    with open(HERE / f"{NAME}.csv", "w", newline="", encoding="utf-8") as out:
        csv.writer(out, lineterminator="\n").writerows(table)


def fix_times(path):
    """Same data, same bytes: constant zip times and last-modified stamp."""
    with zipfile.ZipFile(path) as z:
        parts = [(i.filename, z.read(i)) for i in z.infolist()]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as z:
        for name, data in parts:
            if name == "docProps/core.xml":
                data = re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>2031-03-04T09:00:00Z", data)
            info = zipfile.ZipInfo(name, (2031, 3, 4, 9, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            z.writestr(info, data)


if __name__ == "__main__":
    main()
