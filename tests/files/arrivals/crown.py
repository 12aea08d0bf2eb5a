"""Job 3, openpyxl and then LibreOffice (so its formulas have cached values): four floors, one schedule."""

import io
import pathlib
import tempfile

from openpyxl import Workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import CellIsRule, FormulaRule
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.pagebreak import Break

from kit import HERE, M, Truth, arch, ft, png, raw_of, save_openpyxl, through_libreoffice, value_of, write_json

NAME = "meridew-tower-crown"
FLOORS = ["L41", "L42", "L43", "L44"]
HEADER_ROW = {"L41": 4, "L42": 4, "L43": 5, "L44": 4}
DITTO = ["〃", '"', "ditto", "do."]
# type: watts as read, power factor, footprint, ways the load is written
TYPES = {
    "CR1": (46, 0.96, 8, ["46 W", 46, "46W"]),
    "CR2": (None, 0.95, 8, ["0.21 A", "0.21A"]),
    "CR3": (None, 0.93, 6, ["58 VA", "58VA"]),
    "CR4": (52, 0.97, 12, ["52 W max", "52W", 52]),
}
VOLTS = 277


def columns_of(floor):
    load = "Load (VA)" if floor == "L43" else "Load"
    heads = [("Area", "area", "area"), ("Tag", "tag", "tag"), ("Type", "type", "type"), ("Run", "run", "run"), ("Pos", "place", "place"),
             ("Spacing (ft)", "spanM", "span"), (load, "loadW", "load"), ("PF", "powerFactor", "powerFactor"), ("Volts", "supplyV", "supply"),
             ("Panel", "panel", "panel"), ("Ckt", "circuit", "circuit"), ("Home run (ft)", "homeRunM", "homeRun"),
             ("DMX addr", "address", "address"), ("Ch", "footprint", "footprint"), ("Remarks", "remarks", "remarks")]
    if floor == "L44":
        heads.insert(3, ("Access", None, None))
    heads.append(("Internal", None, None))
    return [(get_column_letter(i + 1), h, k, c) for i, (h, k, c) in enumerate(heads)]


class Floor:
    """Rows of one sheet, in order, with what each is."""

    def __init__(self, name, absolute):
        self.name, self.row, self.rows, self.merges = name, HEADER_ROW[name], [], []
        self.columns, self.absolute = columns_of(name), absolute

    def add(self, kind, cells):
        self.row += 1
        self.rows.append((self.row, kind, cells))
        return self.row


def load_watts(kind, raw, bare_unit):
    """W of a load as written: W as it stands, VA times pf, A times supply times pf."""
    watts, pf, _, _ = TYPES[kind]
    if isinstance(raw, (int, float)):
        return raw * pf if bare_unit == "VA" else raw
    if "VA" in raw:
        return 58 * pf
    return VOLTS * 0.21 * pf if "A" in raw else watts


def fixture_cells(floor, area, first_of_area, run, index, place, kind, above, number):
    """Cells of one fixture in the order of the plain columns; above: those of the row above, if they count."""
    watts, pf, ch, ways = TYPES[kind]
    bare = "VA" if floor.name == "L43" else "W"
    mark = DITTO[(number + index) % 4]
    same = above and above["_kind"] == kind and place > 1

    def ditto(key, what):
        value = value_of(above[key])
        empty = "nothing known in the row above" if value is None else None
        also = above[key].also if empty and isinstance(above[key], M) else None
        return M(mark, value, why=f"ditto: {what} of the row above", unfilled=empty, also=also)

    raw = ways[place % len(ways)]
    if bare == "VA" and isinstance(raw, int):
        raw = f"{raw} W" if place % 2 else raw
    value = load_watts(kind, raw, bare)
    if same and place % 4 == 3:
        load = ditto("loadW", "load")
    else:
        why = None
        if isinstance(raw, (int, float)):
            why = f"bare number in a column of W, A and VA: taken as {'VA from the header' if bare == 'VA' else 'W'}"
        elif "VA" in raw:
            why = "VA: W = VA × pf"
        elif "W" not in raw:
            why = "A: W = supply × A × pf"
        load = M(raw, value, why=why, also=[None] if why and bare == "W" and isinstance(raw, int) else None)
    start, universe = floor.absolute.take(ch)
    past = start > 512
    return {
        "area": area if first_of_area else M(None, area), "tag": f"{floor.name}-{number:02d}",
        "type": ditto("type", "type") if same and place % 3 else kind,
        "run": run, "place": place, "spanM": M(18 if place == 1 else 8.5, ft(18) if place == 1 else ft(8.5)),
        "loadW": load, "powerFactor": ditto("powerFactor", "power factor") if same and place % 5 == 0 else pf,
        "supplyV": VOLTS if place == 1 else ditto("supplyV", "supply") if place < 5 else None,
        "panel": "HLP-9" if place == 1 else None, "circuit": f"{index * 2 + 1}" if place == 1 else None,
        "homeRunM": M(60 + 10 * index, ft(60 + 10 * index)) if place == 1 else None,
        "address": M(start, start - 512 * (universe - 1), why=f"absolute address past 512: universe {universe}" if past else None, also=[start] if past else None),
        "footprint": ch, "remarks": None, "_universe": universe, "_kind": kind,
    }


class Absolute:
    """Absolute slots over all universes; no fixture straddles two, no run either."""

    def __init__(self):
        self.next = 1

    def take(self, ch):
        start = self.next
        self.next += ch
        return start, (start - 1) // 512 + 1

    def run_of(self, slots):
        if (self.next - 1) // 512 != (self.next + slots - 2) // 512:
            self.next = ((self.next - 1) // 512 + 1) * 512 + 1


def runs_of(floor_index):
    """Two runs of ten in the first area (20 merged rows), one of seven or six in the second."""
    kinds = list(TYPES)
    turn = lambda n: kinds[(floor_index + n) % 4]
    return [("North crown", [(turn(0), 10), (turn(1), 10)]), ("South crown", [(turn(2), 7 - floor_index % 2)])]


def fill(floor, floor_index, run_number):
    number, above = 0, None
    for area, runs in runs_of(floor_index):
        top = floor.row + 1
        hidden = {"L41": 2, "L43": 3}.get(floor.name, 0) if area == "North crown" else 0
        for kind, count in runs:
            run_number += 1
            floor.absolute.run_of(TYPES[kind][2] * count)
            for place in range(1, count + 1):
                number += 1
                cells = fixture_cells(floor, area, floor.row + 1 == top, f"K{run_number}", run_number, place, kind, above, number)
                spoil(floor.name, area, place, run_number, cells)
                above = cells
                floor.add("fixture", cells)
            if floor.name == "L42" and number == 10:
                floor.add("repeated header", None)
                above = None
        for n in range(hidden):
            floor.add("hidden", {"tag": f"{floor.name}-B{n + 1}", "type": "CR4", "run": f"KB{floor_index}", "place": n + 1, "spanM": 8.5,
                                 "loadW": "52 W", "powerFactor": 0.97, "supplyV": VOLTS, "remarks": "Option B, deleted"})
        if not (floor.name == "L43" and area == "South crown"):
            floor.merges.append(("A", top, floor.row))
        floor.add("subtotal", (area, top))
        floor.add("blank", None)
        above = None
    if floor.name == "L44":
        floor.add("note", "Note: crown rail to be earthed at both ends, see structural sheet 9.")
    return run_number


def spoil(name, area, place, run, cells):
    """Blanks and marks that must not be filled, one kind a floor."""
    if area == "South crown" and name == "L42" and place == 1:
        cells["loadW"] = M("〃", None, why="ditto under a subtotal: nothing above to repeat", unfilled="the row above is a subtotal")
    if area == "South crown" and name == "L43":
        cells["area"] = "South crown" if place == 1 else M(None, None, unfilled="blank outside any merge", also=["South crown"])
    if name == "L41" and area == "North crown" and place == 6 and run == 1:
        cells["loadW"] = M(None, None, unfilled="blank load of one fixture; not merged, no ditto", also=[46])
    if name == "L43" and area == "North crown" and place == 6 and cells["_kind"] == "CR3":
        cells["powerFactor"] = M(None, None, unfilled="blank power factor; not merged, no ditto", also=[0.93])
        cells["loadW"] = M("58 VA", None, why="VA without a power factor gives no W", unfilled="power factor unknown", also=[58 * 0.93])
    if name == "L43" and area == "North crown" and place == 7 and cells["_kind"] == "CR3":
        cells["loadW"] = M(cells["loadW"].raw, 58 * 0.93, why="ditto: 58 VA of the row above, with this row's own power factor", also=[None])
    if name == "L44" and area == "South crown" and place == 4:
        cells["type"] = M(None, None, unfilled="blank type; not merged, no ditto", also=["CR2"])
        cells["loadW"] = M("0.21 A", VOLTS * 0.21 * 0.95, why="A: W = supply × A × pf")
    if name == "L44" and area == "North crown" and run % 3 == 1 and place == 8:
        cells["powerFactor"] = M(None, None, unfilled="blank power factor; not merged, no ditto", also=[TYPES["CR4"][1]])


def place_row(ws, floor, at, kind, cells, truth):
    by_key = {c[2]: c for c in floor.columns if c[2]}
    if kind in ("fixture", "hidden"):
        for key, cell in cells.items():
            if key[0] != "_":
                ws[f"{by_key[key][0]}{at}"] = raw_of(cell)
        ws[f"{floor.columns[-1][0]}{at}"] = f"c{at * 3}"
        if floor.name == "L44":
            ws[f"D{at}"] = "rope" if at % 2 else "cradle"
    if kind == "fixture":
        ordered = [cells.get(c[2]) for c in floor.columns]
        truth.fixture(floor.name, at, floor.columns, ordered, universe=cells["_universe"])
    elif kind == "hidden":
        ws.row_dimensions[at].hidden = True
        truth.skip(floor.name, at, "hidden")
    elif kind == "subtotal":
        area, top = cells
        ws[f"A{at}"] = f"Subtotal {area}"
        ws[f"B{at}"] = f"=COUNTA(B{top}:B{at - 1})"
        ws[f"{by_key['footprint'][0]}{at}"] = f"=SUM({by_key['footprint'][0]}{top}:{by_key['footprint'][0]}{at - 1})"
        for c in floor.columns:
            ws[f"{c[0]}{at}"].font = Font(bold=True)
        truth.skip(floor.name, at, "subtotal")
    elif kind == "repeated header":
        for letter, header, _, _ in floor.columns:
            ws[f"{letter}{at}"] = header
            ws[f"{letter}{at}"].font = Font(bold=True, italic=True)
        truth.skip(floor.name, at, "repeated header")
    elif kind == "note":
        ws[f"A{at}"] = cells
        truth.skip(floor.name, at, "note")


def make():
    truth = Truth(file=f"{NAME}.xlsx", writer="openpyxl, then LibreOffice", profile="north-america", scheduleSheets=FLOORS)
    book = Workbook()
    index = book.active
    index.title = "Index"
    index.append(["MERIDEW TOWER · CROWN LIGHTING"])
    index.append(["Floor", "Revision"])
    floors, absolute, run_number = [], Absolute(), 0
    for i, name in enumerate(FLOORS):
        floor = Floor(name, absolute)
        run_number = fill(floor, i, run_number)
        floors.append(floor)
        index.append([name, "D"])
    for i, floor in enumerate(floors):
        ws = book.create_sheet(floor.name)
        head = HEADER_ROW[floor.name]
        ws["A1"], ws["A2"] = "MERIDEW TOWER · CROWN LIGHTING", f"Floor {floor.name}, revision D"
        ws.merge_cells("A1:H1")
        if head == 5:
            ws["A3"] = "Loads of this floor from the maker's tables, in VA"
        for letter, header, _, _ in floor.columns:
            ws[f"{letter}{head}"] = header
            ws[f"{letter}{head}"].font = Font(bold=True, color="FFFFFF")
            ws[f"{letter}{head}"].fill = PatternFill("solid", fgColor="3D4F5C")
        truth.sheet(floor.name, [head], floor.columns)
        for at, kind, cells in floor.rows:
            place_row(ws, floor, at, kind, cells, truth)
        for letter, top, bottom in floor.merges:
            ws.merge_cells(f"{letter}{top}:{letter}{bottom}")
            ws[f"{letter}{top}"].alignment = Alignment(vertical="top", wrap_text=True)
        furnish(book, ws, floor, i)
    save(book)
    truth.hold_for_run()
    finish(truth, floors)
    write_json(f"{NAME}.truth.json", truth.data())


def furnish(book, ws, floor, i):
    head, last = HEADER_ROW[floor.name], floor.row
    ws.freeze_panes = f"C{head + 1}"
    ws.column_dimensions[floor.columns[-1][0]].hidden = True
    ws.column_dimensions["A"].width = 15
    ws.print_title_rows = f"{head}:{head}"
    ws.print_area = f"A1:{floor.columns[-2][0]}{last}"
    ws.page_setup.orientation, ws.page_setup.paperSize = "landscape", 3
    ws.oddFooter.left.text, ws.oddFooter.right.text = "Crown lighting", "&P / &N"
    pf = next(c[0] for c in floor.columns if c[2] == "powerFactor")
    ws.conditional_formatting.add(f"{pf}{head + 1}:{pf}{last}", CellIsRule(operator="lessThan", formula=["0.95"], fill=PatternFill("solid", bgColor="F7E3B0")))
    ws.conditional_formatting.add(f"B{head + 1}:B{last}", FormulaRule(formula=[f"COUNTIF($B${head + 1}:$B${last},B{head + 1})>1"], font=Font(color="B03020")))
    check = DataValidation(type="list", formula1='"CR1,CR2,CR3,CR4,〃"', allow_blank=True)
    check.add(f"C{head + 1}:C{last}")
    ws.add_data_validation(check)
    if i == 0:
        ws["B6"].comment = Comment("Bracket moved 200 mm east", "Desk")
        chart = BarChart()
        chart.title = "Channels, north crown"
        chart.add_data(Reference(ws, min_col=14, min_row=head, max_row=head + 10), titles_from_data=True)
        chart.height, chart.width = 6, 12
        ws.add_chart(chart, f"R{head}")
        ws.add_image(Image(io.BytesIO(png(48, 40, arch))), "J1")
        ws["O6"].hyperlink = "https://example.org/meridew"
        ws["O6"] = "site photographs"
        book.defined_names.append(DefinedName("CrownTypes", attr_text="'L41'!$C$5:$C$24"))
    if i == 1:
        ws.row_breaks.append(Break(id=14))


def save(book):
    with tempfile.TemporaryDirectory() as tmp:
        source = pathlib.Path(tmp) / f"{NAME}.xlsx"
        save_openpyxl(book, source)
        through_libreoffice(source, HERE / f"{NAME}.xlsx")


def finish(truth, floors):
    for f in truth.fixtures:
        if f["tag"] == "L41-02":
            f["remarks"] = "site photographs"
    for name, count in (("L41", 2), ("L43", 3)):
        rows = [s["row"] for s in truth.skipped if s["sheet"] == name and s["reason"] == "hidden"]
        truth.questions.append({"about": "hidden rows", "sheet": name, "rows": rows, "untilAnswered": "skipped", "ifRead": f"{count} fixtures of a run of their own, area North crown"})
    truth.extra["otherSheets"] = {"Index": "not a schedule: list of floors"}
    truth.also.append({"key": "universe", "values": [None, 1], "why": "column DMX addr holds absolute addresses throughout; up to 512 the universe is 1, or left unknown"})
    truth.also.append({"key": "address", "why": "absolute addresses past 512 may stand as address as written, universe unknown, if a reading says so"})
    truth.also.append({"key": "supplyV", "why": "blank from the fifth place on: the run's supply from its first row"})
