"""Job 4, openpyxl (rich strings put in by hand): a schedule revised in place, in feet and inches."""

import datetime as dt
import io

from openpyxl import Workbook
from openpyxl.chart import LineChart, Reference
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import ColorScaleRule, FormulaRule
from openpyxl.styles import Border, Font, NamedStyle, PatternFill, Side
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation

from kit import HERE, NBSP, M, Truth, arch, ft, png, raw_of, rewrite, save_openpyxl, style_of, write_json

NAME = "selkie-forecourt-rev-c"
SHEET = "Rev C"
HEAD = 7
COLUMNS = [
    ("A", "Tag", "tag", "tag"),
    ("B", "Type", "type", "type"),
    ("C", "Location", "location", "location"),
    ("D", "Run", "run", "run"),
    ("E", "Pos.", "place", "place"),
    ("F", "Spacing", "spanM", "span"),
    ("G", "Home run", "homeRunM", "homeRun"),
    ("H", "Load", "loadW", "load"),
    ("I", "PF", "powerFactor", "powerFactor"),
    ("J", "Supply", "supplyV", "supply"),
    ("K", "Panel", "panel", "panel"),
    ("L", "Circuit", "circuit", "circuit"),
    ("M", "Breaker", "breakerA", "breaker"),
    ("N", "Mode", "mode", "mode"),
    ("O", "DMX ch", "footprint", "footprint"),
    ("P", "Universe", "universe", "universe"),
    ("Q", "DMX start", "address", "address"),
    ("R", "Remarks", "remarks", "remarks"),
    ("S", "Concrete pour", None, None),
]
TYPES = {"SP1": (87, 0.95, "5ch", 5), "SP2": (42, 0.94, "4ch", 4), "SP3": (28, 0.92, "4ch", 4), "SP4": (61, None, "6ch", 6)}
FEET = {  # the same 12 ft 6 in, and others, in the spellings that arrive
    "a": [("12'-6\"", ft(12, 6)), ("12.5'", ft(12.5)), ("12 ft 6", ft(12, 6)), ("12ft-6in", ft(12, 6)), ("12' 6\"", ft(12, 6)),
          ("12′-6″", ft(12, 6)), ("12’-6”", ft(12, 6)), ("150\"", ft(0, 150)), ("12.5 ft", ft(12.5)), ("12'6", ft(12, 6)), ("12-1/2'", ft(12.5))],
    "b": [("3.81 m", 3.81), ("3810", 3.81), ("3810 mm", 3.81), ("12'-6 1/2\"", ft(12, 12.5) - ft(6, 0) + ft(0, 0)), ("12 ft. 6 in.", ft(12, 6)), ("12-6", ft(12, 6)), ("12'-6½\"", ft(12, 6.5))],
    "c": [("8'-0\"", ft(8)), ("8'", ft(8)), ("8 ft", ft(8)), ("8' 0\"", ft(8)), ("96\"", ft(8)), ("8 feet", ft(8)), ("96 in", ft(8)), ("8'0\"", ft(8)), ("8", ft(8))],
    "d": [("5'-7 7/8\"", ft(5, "7.875")), ("5'-3/4\"", ft(5, "0.75")), ("0'-9\"", ft(0, 9)), ("9\"", ft(0, 9)), ("5.25'", ft(5.25)), (f"5'{NBSP}3\"", ft(5, 3))],
}
FEET["b"][3] = ("12'-6 1/2\"", ft(12, 6.5))
RED = "C00000"


def spacing(raw, metres):
    if raw == "3810":
        return M(raw, metres, why="a bare 3810 among feet and inches: millimetres", also=[ft(3810), None])
    if raw == "12-6":
        return M(raw, metres, why="12-6 without marks: taken as 12 ft 6 in", also=[None])
    if raw == "12 ft 6" or raw == "12'6":
        return M(raw, metres, why="the 6 has no unit: inches")
    if raw == "12-1/2'":
        return M(raw, metres, why="12-1/2 ft is twelve and a half feet", also=[None])
    if raw == "8":
        return M(8, metres, why="bare number: feet, as the rest of the column")
    return M(raw, metres)


def fixtures():
    """Plain rows before anything was spoilt: run, type, spellings, home run, supply, panel, circuit, breaker, universe."""
    runs = [
        ("S1", "SP1", "a", ("62'-0\"", ft(62)), ("208V 1φ", 208), "LP-F", "1,3", 20, 1, "S-"),
        ("S2", "SP2", "c", ("45 ft", ft(45)), ("120", 120), "LP-F", "5", 20, 1, "S-"),
        ("S3", "SP3", "b", ("27.4 m", 27.4), ("120V", 120), "LP-F", "7", 15, 1, "S-"),
        ("S4", "SP3", "d", (None, None), ("120 V", 120), "LP-F", "9", 15, 2, "3-"),
        ("S5", "SP4", "c", ("80'", ft(80)), ("208 L-L", 208), "LP-F", "2,4", 20, 2, "S-"),
    ]
    number, address = 0, {1: 1, 2: 1}
    for run, kind, spell, home, supply, panel, circuit, breaker, universe, stem in runs:
        watts, pf, mode, ch = TYPES[kind]
        for place, (raw, metres) in enumerate(FEET[spell], 1):
            first = place == 1
            number += 1
            tag = f"3-{place}" if stem == "3-" else f"S-{number:02d}"
            load = [f"{watts} W max", f"{watts}W", watts, f"{watts}"][place % 4]
            home_cell = (M(None, None, unfilled="home run of S4 is not given anywhere") if home[0] is None else M(home[0], home[1])) if first else None
            yield {
                "tag": tag, "type": kind, "location": ["kerb", "pool edge", "plinth", "canopy"][number % 4], "run": run, "place": place,
                "spanM": spacing(raw, metres), "homeRunM": home_cell, "loadW": M(load, watts),
                "powerFactor": pf if pf else M(None, None, unfilled="power factor of SP4 is not given anywhere"), "supplyV": M(*supply) if first else None, "panel": panel if first else None, "circuit": circuit if first else None,
                "breakerA": breaker if first else None, "mode": mode, "footprint": ch, "universe": universe, "address": address[universe], "remarks": None,
            }
            address[universe] += ch


def struck(values):
    return {key: M(raw_of(cell), None) for key, cell in values.items()}


def rows():
    """Rows as they arrive: (kind, cells by key, note for the row)."""
    out = []
    plain = list(fixtures())
    by_tag = {f["tag"]: f for f in plain}
    for f in plain:
        out.append(["fixture", f, None])
        if f["tag"] == "S-07":
            gone = dict(f, tag="S-07A", place=None)
            out.append(["struck", struck(gone), "all"])
    # Deleted in revision C: an old fixture between two places, one with a live remark in red.
    at = next(i for i, r in enumerate(out) if r[1]["tag"] == "S-16")
    out.insert(at, ["struck", struck(dict(by_tag["S-15"], tag="S-15X", place=None, remarks=None)) | {"remarks": "deleted rev C, conflicts with tree pit"}, "but remark"])
    at = next(i for i, r in enumerate(out) if r[1]["tag"] == "3-4")
    out.insert(at, ["struck", struck(dict(by_tag["3-3"], tag="3-3A", place=None)), "all"])
    # A row was copied: S-24 stands twice, at two places; the second one was S-25.
    by_tag["S-25"]["tag"] = M("S-24", "S-24", why="the same tag stands twice: a row was copied")
    by_tag["S-24"]["tag"] = M("S-24", "S-24", why="the same tag stands twice: a row was copied")
    by_tag["S-05"]["tag"] = M(f" S-05{NBSP}", "S-05")
    # Tags turned into dates.
    by_tag["3-1"]["tag"] = M(dt.datetime(2024, 3, 1), "3-1", why="a date, 1 March, where tags are 3-n", also=["1-Mar", "2024-03-01", None], date="d-mmm")
    by_tag["3-5"]["tag"] = M(dt.datetime(2024, 3, 5), "3-5", why="a date, 5 March, where tags are 3-n", also=["5-Mar", "2024-03-05", None], date="d-mmm")
    # Partly struck cells.
    by_tag["S-03"]["footprint"] = M("5 9", 9, why="5 struck through, 9 stands", rich=[("5", "strike"), (" 9", "red")])
    by_tag["S-03"]["mode"] = M("9ch", "9ch", color=RED)
    by_tag["S-14"]["spanM"] = M("8'-0\" 10'-0\"", ft(10), why="8'-0\" struck through, 10'-0\" stands", rich=[("8'-0\"", "strike"), (" 10'-0\"", "red")])
    by_tag["S-21"]["breakerA"] = None
    by_tag["S-21"]["remarks"] = "15 A device, see LP-F"
    first_s3 = next(f for f in plain if f["run"] == "S3")
    first_s3["breakerA"] = M(20, None, why="the whole cell is struck through: no breaker stands", unfilled="struck through", strike=True)
    # Comments.
    by_tag["S-09"]["mode"] = M("5ch", "9ch", why="comment on the cell: now 9-ch mode", also=["5ch"], comment="now 9-ch mode")
    by_tag["S-09"]["footprint"] = M(5, 9, why="the comment on the mode says 9 channels", also=[5])
    by_tag["S-13"]["supplyV"] = M(by_tag["S-13"]["supplyV"].raw if by_tag["S-13"]["supplyV"] else None, by_tag["S-13"]["supplyV"] and 120, comment="confirmed by site, 120")
    by_tag["S-20"]["location"] = M(by_tag["S-20"]["location"], by_tag["S-20"]["location"], comment="see elevation 3")
    # Formulas without a value.
    by_tag["S-11"]["address"] = M("=Q18+O18", None, why="formula without a value", unfilled="a formula whose value was never worked out", also=[by_tag["S-11"]["address"]])
    by_tag["S-18"]["loadW"] = M("=3.5*12", None, why="formula without a value", unfilled="a formula whose value was never worked out", also=[42])
    # Added in revision C: red text, at the end of run S5.
    last = plain[-1]
    for n in range(1, 4):
        new = dict(last, tag=f"S-C{n}", place=last["place"] + n, spanM=M("6'-3\"", ft(6, 3)), address=last["address"] + 6 * n, remarks="added rev C" if n == 1 else None,
                   homeRunM=None, supplyV=None, panel=None, circuit=None, breakerA=None)
        out.append(["added", new, None])
    return out


NOTES = ["NOTES:", "1. Spacings are centre to centre along the kerb; leads by the contractor.", "2. Struck through = deleted in rev C, red = added in rev C.",
         "3. SP4 power factor to follow from the maker."]


def make():
    truth = Truth(file=f"{NAME}.xlsx", writer="openpyxl, with rich strings put in by hand", profile="north-america", scheduleSheets=[SHEET])
    truth.sheet(SHEET, [HEAD], COLUMNS)
    book = Workbook()
    ws = book.active
    ws.title = SHEET
    title(book, ws)
    rich, at, strike = {}, HEAD, Font(strike=True, color="7F7F7F")
    live = 0
    for kind, values, note in rows():
        if kind == "fixture" and values["run"] == "S3" and values["place"] == 1:
            at += 1
            for letter, header, _, _ in COLUMNS:
                ws[f"{letter}{at}"].value, ws[f"{letter}{at}"].style = header, "Band"
            truth.skip(SHEET, at, "repeated header")
        at += 1
        live += kind != "struck"
        cells = [values.get(c[2]) if c[2] else f"pour {at % 5}" for c in COLUMNS]
        for (letter, _, key, _), cell in zip(COLUMNS, cells):
            target, style = ws[f"{letter}{at}"], style_of(cell)
            raw = raw_of(cell)
            if "rich" in style:
                raw = f"@@{len(rich)}@@"
                rich[raw] = style["rich"]
            target.value = raw
            if isinstance(raw, str) and key in ("tag", "loadW", "spanM", "circuit"):
                target.number_format = "@"
            if "date" in style:
                target.number_format = style["date"]
            if "comment" in style:
                target.comment = Comment(style["comment"], "Desk")
                if not cell.why:
                    truth.extra.setdefault("otherComments", []).append({"sheet": SHEET, "cell": f"{letter}{at}", "text": style["comment"]})
            if kind == "struck":
                target.font = Font(color=RED) if note == "but remark" and key == "remarks" else strike
            elif style.get("strike"):
                target.font = strike
            elif kind == "added" or style.get("color"):
                target.font = Font(color=RED)
        if kind == "struck":
            truth.skip(SHEET, at, "struck through")
        else:
            truth.fixture(SHEET, at, COLUMNS, cells, **({"added": True} if kind == "added" else {}))
    at += 1
    ws[f"A{at}"] = f" {NBSP} "
    truth.skip(SHEET, at, "blank")
    truth.also.append({"sheet": SHEET, "row": at, "what": "rowsSkipped", "why": "a row of spaces only: skipped as blank, or not counted at all"})
    at += 1
    for text in NOTES:
        at += 1
        ws[f"A{at}"] = text
        truth.skip(SHEET, at, "note")
    furnish(book, ws, at)
    path = HERE / f"{NAME}.xlsx"
    save_openpyxl(book, path)
    rewrite(path, lambda name, body: with_rich(body, rich) if name == "xl/worksheets/sheet1.xml" else body)
    truth.hold_for_run()
    for f in truth.fixtures:
        if f["tag"] == "S-02":
            f["remarks"] = "tree pit detail"
        if f["run"] == "S3":
            f["breakerA"] = None
    truth.extra["revision"] = {"added": ["S-C1", "S-C2", "S-C3"], "deletedRows": [s["row"] for s in truth.skipped if s["reason"] == "struck through"]}
    truth.questions.append({"about": "duplicate tag", "sheet": SHEET, "tag": "S-24", "rows": [f["row"] for f in truth.fixtures if f["tag"] == "S-24"]})
    truth.also.append({"key": "breakerA", "why": "S3: 15 A stands only in a remark of S-21; unknown, or 15 with a reading"})
    truth.also.append({"key": "footprint", "why": "S-09: 9 as the comment says, or 5 as the cell says; either way the comment is listed"})
    write_json(f"{NAME}.truth.json", truth.data())


def with_rich(body, rich):
    looks = {"strike": '<rPr><strike/><sz val="11"/><color rgb="FF7F7F7F"/><rFont val="Calibri"/></rPr>', "red": f'<rPr><sz val="11"/><color rgb="FF{RED}"/><rFont val="Calibri"/></rPr>'}
    text = body.decode()
    for mark, parts in rich.items():
        runs = "".join(f'<r>{looks[look]}<t xml:space="preserve">{t}</t></r>' for t, look in parts)
        assert text.count(f"<t>{mark}</t>") == 1, mark
        text = text.replace(f"<t>{mark}</t>", runs)
    return text.encode()


def title(book, ws):
    band = NamedStyle("Band", font=Font(bold=True, color="FFFFFF"), fill=PatternFill("solid", fgColor="2F5D62"), border=Border(bottom=Side(style="medium")))
    book.add_named_style(band)
    ws["A1"], ws["A2"] = "SELKIE AQUARIUM · FORECOURT LIGHTING", "Fixture schedule, revision C, in place of B"
    ws["A3"], ws["A4"] = "Issued 14 March 2024", "Red = added in C. Struck through = deleted in C."
    ws["A5"] = "Drawn by desk 4"
    ws["A1"].font = Font(bold=True, size=14)
    ws["A4"].font = Font(color=RED)
    ws.merge_cells("A1:I1")
    for letter, header, _, _ in COLUMNS:
        ws[f"{letter}{HEAD}"].value, ws[f"{letter}{HEAD}"].style = header, "Band"


def furnish(book, ws, last):
    ws.freeze_panes = f"B{HEAD + 1}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    ws.print_area = f"A1:S{last}"
    ws.page_setup.orientation, ws.page_setup.fitToHeight = "landscape", 0
    ws.sheet_properties.pageSetUpPr.fitToPage = True
    ws.oddHeader.center.text, ws.oddFooter.left.text = "Selkie forecourt rev C", "For review"
    ws.column_dimensions["R"].width = 36
    ws.column_dimensions["S"].hidden = True
    for letter in "KLM":
        ws.column_dimensions[letter].outlineLevel = 1
    check = DataValidation(type="list", formula1='"5ch,9ch,4ch,6ch"', allow_blank=True, showErrorMessage=True, errorTitle="Mode", error="Pick a mode")
    check.add(f"N{HEAD + 1}:N60")
    ws.add_data_validation(check)
    ws.conditional_formatting.add(f"Q{HEAD + 1}:Q60", ColorScaleRule(start_type="min", start_color="FFFFFF", end_type="max", end_color="9BC1BC"))
    ws.conditional_formatting.add(f"A{HEAD + 1}:A60", FormulaRule(formula=[f"COUNTIF($A${HEAD + 1}:$A$60,$A{HEAD + 1})>1"], font=Font(bold=True)))
    book.defined_names.append(DefinedName("RevLetter", attr_text='"C"'))
    book.defined_names.append(DefinedName("ForecourtTags", attr_text=f"'{SHEET}'!$A${HEAD + 1}:$A$50"))
    ws[f"R{HEAD + 2}"] = "tree pit detail"
    ws[f"R{HEAD + 2}"].hyperlink = f"#'{SHEET}'!A{last}"
    ws.add_image(Image(io.BytesIO(png(48, 40, arch))), "P1")
    chart = LineChart()
    chart.title = "DMX start"
    chart.add_data(Reference(ws, min_col=17, min_row=HEAD, max_row=HEAD + 11), titles_from_data=True)
    chart.height, chart.width = 6, 12
    ws.add_chart(chart, f"C{last + 3}")
