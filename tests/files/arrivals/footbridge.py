"""Job 2, LibreOffice from a flat OpenDocument file: a legend, quantity rows and a revision list."""

import base64
import pathlib
import re
import tempfile
from xml.sax.saxutils import escape

from kit import HERE, M, NBSP, Truth, arch, png, raw_of, through_libreoffice, value_of, write_json

NAME = "osier-footbridge"
COLUMNS = [
    ("A", "Location", "location", "location"),
    ("B", "Type", "type", "type"),
    ("C", "Qty", None, "quantity"),
    ("D", "Spacing", None, "span"),
    ("E", "Tag", None, "tag"),
    ("F", "Run", "run", "run"),
    ("G", "Lead-in m", "leadInM", "leadIn"),
    ("H", "Home run m", "homeRunM", "homeRun"),
    ("I", "Panel", "panel", "panel"),
    ("J", "Circuit", "circuit", "circuit"),
    ("K", "Supply", "supplyV", "supply"),
    ("L", "DMX start", None, "address"),
    ("M", "Remarks", "remarks", "remarks"),
    ("N", "Rate ref", None, None),
]
LEGEND = [
    ["Type", "Description", "Optic", "Max W", "pf", "Voltage option", "Order code", "Mode", "Ch", "Weight kg"],
    ["F1", "handrail pier marker", "120° wash", "18 W max", 0.94, "UNV 120–277 V", "OB-18-U", "4ch", 4, 2.1],
    ["F2", "deck edge spot", "15°", 24, 0.95, "UNV 120–277 V", "OB-24-U", "4ch", 4, 2.4],
    ["F3", "cable uplight, narrow", "6°", "56 W max", 0.96, "UNV 120–277 V", "OB-56-N-U", "8ch", 8, 6.0],
    ["F3A", "cable uplight, oval", "6° × 30°", "58 W max", 0.93, "347–480 V", "OB-58-O-H", "8ch", 8, 6.3],
    ["F4", "mast head", "25°", 96, 0.97, "UNV 120–277 V", "OB-96-U", "12ch", 12, 9.8],
    ["F5", "handrail strip", "diffuse", "9,5", 0.9, "120 V", "OB-9-1", "3ch", 3, 0.7],
    ["F6", "plaque light", "diffuse", "tbc", None, "120 V", "tbc", "1ch", 1, None],
]
WATTS = {"F1": 18, "F2": 24, "F3": 56, "F3A": 58, "F4": 96, "F5": 9.5, "F6": None, "F7": None}
PF = {"F1": 0.94, "F2": 0.95, "F3": 0.96, "F3A": 0.93, "F4": 0.97, "F5": 0.9, "F6": None, "F7": None}
MODE = {"F1": ("4ch", 4), "F2": ("4ch", 4), "F3": ("8ch", 8), "F3A": ("8ch", 8), "F4": ("12ch", 12), "F5": ("3ch", 3), "F6": ("1ch", 1), "F7": (None, None)}

QTY = "quantity row: one row becomes that many fixtures"


def spaced(raw, metres, **more):
    return M(raw, metres, why="spacing of a quantity row", **more)


def unit(raw, volts, **more):
    return M(raw, volts, **more)


# location, type, qty, spacing, tag, run, lead-in, home run, panel, circuit, supply, start, remarks
ROWS = [
    ["Span 1 N", "F1", 12, spaced("@ 2.5 m c/c", 2.5), None, "R1", 3.0, 22, "LP-B", "1", unit("120V 1φ", 120), (1, 1), None],
    ["Span 1 S", "F1", M("12 No.", 12, why="a number with a word"), spaced("@ 2.5 m c/c", 2.5), None, "R2", 3.0, 24.5, "LP-B", "3", 120, (1, 49), None],
    ["Span 2 N", "F3", 14, spaced("@ 2.5 m c/c", 2.5), None, "R3", 4.2, 41, "LP-B", "5,7", unit("208/1", 208, why="208/1 is 208 V, one phase"), (1, 101), "2 off spare drivers in mast"],
    ["Span 2 N", "F2", 4, spaced("@ 2.5 m c/c", 2.5), None, "R3", None, None, None, None, unit("208/1", 208, why="208/1 is 208 V, one phase"), None, "continues run R3 past the cable anchorage"],
    ["Span 2 S", "F3", 14, spaced("@ 2500 c/c", 2.5), None, "R4", 4.2, 43, "LP-B", "9,11", unit("208V 1φ", 208), (1, 229), None],
    ["Span 3 N", "F3A", 8, spaced(f"2.5{NBSP}m centres", 2.5), None, "R5", 3.6, 66, "HP-B", "2", unit("347 V", 347), (2, 101), "changed rev 2"],
    ["Span 3 S", M("F3a", "F3A", why="no type F3a in the legend; F3A is near, and so is F3, with other optics and another voltage option", also=["F3a"]), 8, spaced("@ 2.5 m c/c", 2.5), None, "R6", 3.6, 68, "HP-B", "4", unit("347 V", 347), (2, 201), "changed rev 2"],
    ["Mast W deck", "F2", M(None, 6, why="no quantity; the range of tags gives 6"), M("EQ", None, why="EQ gives no length", unfilled="EQ without an overall length"), "C-01–C-06", "R7", 1.5, 30, "LP-B", "13", 120, (3, 1), None],
    ["Mast W head", "F4", 4, M("EQ", None, why="EQ gives no length", unfilled="EQ without an overall length"), None, "R8", 6.0, 48, "LP-B", "10,12", unit("208 L-L", 208, why="208 L-L is 208 V between two phases"), (3, 101), "box at +9 m"],
    ["Handrail N", "F5", 12, spaced("@ 1,8 m c/c", 1.8), "A-01–A-12", "R9", 0.9, 12, "LP-B", "15", 120, (3, 201), None],
    ["Handrail S", "F5", 12, spaced("@ 1.8 m c/c", 1.8), None, "R10", None, 12, "LP-B", "15", 120, (3, 241), "lead-in not shown on drawing"],
    ["Abutment E", M("F7", "F7", why="no type F7 in the legend"), 3, spaced("@ 4 m c/c", 4), None, "R11", 2.0, 55, "LP-B", "17", M("UNV", None, why="UNV is an input window, not a supply voltage", unfilled="the supply of R11 is not given"), None, "see RFI 12"],
    ["Plaque", "F6", 1, None, "P-1", "R12", 1.2, 9, "LP-B", "19", 120, (3, 301), None],
]
FIRST = 6
REVS = [["Rev", "Date", "By", "What"], ["0", "2024-01-12", "QX", "First issue"], ["1", "2024-02-02", "QX", "Mast head added"],
        ["2", "2024-03-01", "VN", "Span 3 to 347 V: F3 becomes F3A"]]


def tags_of(text):
    if not text or "–" not in text:
        return [text]
    first, last = text.split("–")
    stem, low = re.fullmatch(r"(.*?)(\d+)", first).groups()
    high = re.fullmatch(r".*?(\d+)", last).group(1)
    return [f"{stem}{n:0{len(low)}d}" for n in range(int(low), int(high) + 1)]


def the_truth():
    truth = Truth(file=f"{NAME}.xlsx", writer="LibreOffice, from a flat OpenDocument file", profile="north-america", scheduleSheets=["Schedule"])
    truth.sheet("Schedule", [5], COLUMNS)
    truth.extra["otherSheets"] = {"Legend": "types of the schedule", "Revs": "not a schedule: revision list"}
    truth.extra["typesFrom"] = {"sheet": "Legend", "headerRow": 3, "unmatched": ["F7"], "nearMiss": {"F3a": "F3A"}, "distinct": ["F3", "F3A"]}
    truth.extra["tags"] = "tag null: generated, any form, all different, none of the given ones"
    places = {}
    for index, row in enumerate(ROWS):
        at = FIRST + index
        location, kind, qty, spacing, tag, run, lead, home, panel, circuit, supply, start, remarks = row
        count = value_of(qty)
        cells = [location, kind, M(raw_of(qty), count, why=getattr(qty, "why", None) or QTY) if count > 1 else qty, spacing,
                 M(tag, tag, why="a range of tags") if tag and "–" in tag else tag, run, lead, home, panel, circuit, supply,
                 M(f"{start[0]}/{start[1]}", None) if start else None, remarks, f"R-{at}"]
        truth.marks("Schedule", at, COLUMNS, cells)
        truth.rows_read += 1
        tags = tags_of(tag)
        type_id = value_of(kind)
        before = places.get(run, 0)
        for n in range(count):
            place = places[run] = before + n + 1
            if place == 1:
                span = lead
            else:
                span = value_of(spacing)
            if n == 0 and place > 1:
                truth.also.append({"sheet": "Schedule", "row": at, "place": place, "key": "spanM", "values": [None], "why": "from the last fixture of the row above to the first of this one: taken as the same spacing"})
            if place == 1 and lead is None:
                truth.also.append({"sheet": "Schedule", "row": at, "place": 1, "key": "spanM", "values": [value_of(spacing)], "why": "spacing read for the lead-in too, as a reading"})
            mode, footprint = MODE[type_id]
            fixture = {
                "sheet": "Schedule", "row": at, "ofRow": n + 1, "tag": tags[n] if n < len(tags) and tag else None, "type": type_id,
                "location": location, "run": run, "place": place, "spanM": span, "loadW": WATTS[type_id], "powerFactor": PF[type_id],
                "supplyV": value_of(supply), "homeRunM": home, "panel": panel, "circuit": circuit, "mode": mode, "footprint": footprint,
                "universe": start[0] if start else None, "address": start[1] if start and n == 0 else None, "remarks": remarks,
            }
            truth.fixtures.append(fixture)
    truth.hold_for_run()
    for f in truth.fixtures:
        if f["run"] == "R3":
            f["universe"] = 1
    truth.reading("Schedule", "L6", "1/1", {"universe": 1, "address": 1}, "universe/address in one cell (every cell of column L alike)")
    truth.also.append({"key": "address", "why": "second and later fixtures of a quantity row: null, or contiguous from the row's own start"})
    truth.also.append({"key": "universe", "why": "second and later fixtures of a quantity row and all of R3's row 9: the run's universe, or null"})
    truth.also.append({"sheet": "Schedule", "key": "place", "why": "no place column: order of rows, and then order within the row"})
    truth.skip("Schedule", FIRST + len(ROWS) + 1, "subtotal")
    truth.skip("Schedule", FIRST + len(ROWS) + 2, "note")
    truth.unfilled.append({"sheet": "Legend", "cell": "D10", "key": "loadW", "why": "tbc"})
    truth.reading("Legend", "D10", "tbc", None, "no watts for F6")
    truth.reading("Legend", "D9", "9,5", 9.5, "decimal comma")
    return truth


def cell_xml(value, style="cell", note=""):
    if value is None:
        return f'<table:table-cell table:style-name="{style}"/>'
    if isinstance(value, str) and value.startswith("of:"):
        return f'<table:table-cell table:style-name="{style}" table:formula="{escape(value)}"/>'
    if isinstance(value, (int, float)):
        return f'<table:table-cell table:style-name="{style}" office:value-type="float" office:value="{value}">{note}<text:p>{value}</text:p></table:table-cell>'
    return f'<table:table-cell table:style-name="{style}" office:value-type="string">{note}<text:p>{escape(value)}</text:p></table:table-cell>'


def row_xml(values, style="cell", notes=None):
    notes = notes or {}
    return "<table:table-row>" + "".join(cell_xml(v, style, notes.get(i, "")) for i, v in enumerate(values)) + "</table:table-row>"


def merged(text, columns):
    return (f'<table:table-row><table:table-cell table:style-name="title" office:value-type="string" table:number-columns-spanned="{columns}" '
            f'table:number-rows-spanned="1"><text:p>{escape(text)}</text:p></table:table-cell><table:covered-table-cell table:number-columns-repeated="{columns - 1}"/></table:table-row>')


def note_xml(text):
    return f'<office:annotation><dc:creator>Desk</dc:creator><dc:date>2024-03-14T09:30:00</dc:date><text:p>{escape(text)}</text:p></office:annotation>'


def schedule_xml():
    out = [merged("OSIER WEIR FOOTBRIDGE · LIGHTING QUANTITIES", 13), merged("Rev 2, 1 March 2024. Spacings are between centres along the deck.", 13),
           row_xml(["All types: see Legend"]), "<table:table-row><table:table-cell/></table:table-row>",
           "<table:table-header-rows>" + row_xml([c[1] for c in COLUMNS], "head") + "</table:table-header-rows>"]
    for index, row in enumerate(ROWS):
        *cells, start, remarks = [raw_of(c) for c in row[:-2]] + [row[-2], row[-1]]
        notes = {1: note_xml("F3A is the 347 V option, not an F3 with another lens")} if cells[1] == "F3A" else {}
        xml = row_xml(cells + [f"{start[0]}/{start[1]}" if start else None, remarks, f"R-{FIRST + index}"], "cell", notes)
        kind = '<table:table-cell table:style-name="cell"'
        before, _, after = xml.partition(kind)
        middle, _, rest = after.partition(kind)
        out.append(f'{before}{kind}{middle}{kind} table:content-validation-name="types"{rest}')
    last = FIRST + len(ROWS) - 1
    out.append("<table:table-row><table:table-cell/></table:table-row>")
    out.append(row_xml(["Total", None, f"of:=SUM([.C{FIRST}:.C{last}])"], "head"))
    out.append(row_xml(["Note: span numbers count from the west abutment."]))
    return "\n".join(out), last


def flat():
    rows, last = schedule_xml()
    legend = "\n".join([merged("LEGEND OF TYPES", 10), "<table:table-row><table:table-cell/></table:table-row>", row_xml(LEGEND[0], "head")] + [row_xml(r) for r in LEGEND[1:]])
    revs = "\n".join([row_xml(REVS[0], "head")] + [row_xml(r) for r in REVS[1:]])
    picture = base64.b64encode(png(48, 40, arch)).decode()
    columns = '<table:table-column table:style-name="wide"/><table:table-column table:number-columns-repeated="11"/><table:table-column table:style-name="wide"/><table:table-column table:visibility="collapse"/>'
    return f'''<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:draw="urn:oasis:names:tc:opendocument:xmlns:drawing:1.0" xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0" xmlns:svg="urn:oasis:names:tc:opendocument:xmlns:svg-compatible:1.0" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:meta="urn:oasis:names:tc:opendocument:xmlns:meta:1.0" xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0" office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet">
<office:meta><dc:title>Osier Weir footbridge</dc:title><meta:creation-date>2024-03-14T09:30:00</meta:creation-date><dc:date>2024-03-14T09:30:00</dc:date></office:meta>
<office:styles>
<style:style style:name="Default" style:family="table-cell"><style:text-properties fo:font-size="10pt"/></style:style>
<style:style style:name="Near" style:family="table-cell" style:parent-style-name="Default"><style:table-cell-properties fo:background-color="#ffe3b3"/></style:style>
</office:styles>
<office:automatic-styles>
<style:style style:name="wide" style:family="table-column"><style:table-column-properties style:column-width="42mm"/></style:style>
<style:style style:name="cell" style:family="table-cell" style:parent-style-name="Default"><style:table-cell-properties fo:border="0.5pt solid #999999"/></style:style>
<style:style style:name="head" style:family="table-cell" style:parent-style-name="Default"><style:table-cell-properties fo:background-color="#d5dfe6" fo:border="0.5pt solid #333333"/><style:text-properties fo:font-weight="bold"/></style:style>
<style:style style:name="title" style:family="table-cell" style:parent-style-name="Default"><style:text-properties fo:font-weight="bold" fo:font-size="14pt"/></style:style>
<style:page-layout style:name="page"><style:page-layout-properties fo:page-width="420mm" fo:page-height="297mm" style:print-orientation="landscape"/></style:page-layout>
</office:automatic-styles>
<office:master-styles><style:master-page style:name="Default" style:page-layout-name="page"/></office:master-styles>
<office:body><office:spreadsheet>
<table:content-validations>
<table:content-validation table:name="types" table:condition="of:cell-content-is-in-list([$Legend.$A$4:.$A$10])" table:allow-empty-cell="true" table:base-cell-address="Schedule.B6"><table:error-message table:display="true" table:message-type="warning"/></table:content-validation>
</table:content-validations>
<table:table table:name="Legend"><table:table-column table:style-name="wide" table:number-columns-repeated="3"/><table:table-column table:number-columns-repeated="7"/>
{legend}
</table:table>
<table:table table:name="Schedule" table:print-ranges="Schedule.A1:Schedule.M{last + 3}">
<table:shapes><draw:frame svg:x="300mm" svg:y="1mm" svg:width="12mm" svg:height="10mm" draw:name="Stamp"><draw:image><office:binary-data>{picture}</office:binary-data></draw:image></draw:frame></table:shapes>
{columns}
{rows}
<calcext:conditional-formats><calcext:conditional-format calcext:target-range-address="Schedule.B{FIRST}:Schedule.B{last}"><calcext:condition calcext:apply-style-name="Near" calcext:value="formula-is(COUNTIF([$Legend.$A$4:.$A$10];[.B{FIRST}])=0)" calcext:base-cell-address="Schedule.B{FIRST}"/></calcext:conditional-format></calcext:conditional-formats>
</table:table>
<table:table table:name="Revs">
{revs}
</table:table>
<table:named-expressions><table:named-range table:name="TypeIds" table:base-cell-address="$Legend.$A$1" table:cell-range-address="$Legend.$A$4:.$A$10"/><table:named-expression table:name="SpareShare" table:base-cell-address="$Legend.$A$1" table:expression="of:=0.05"/></table:named-expressions>
<table:database-ranges><table:database-range table:name="__Anonymous_Sheet_DB__1" table:target-range-address="Schedule.A5:Schedule.N{last}" table:display-filter-buttons="true"/></table:database-ranges>
</office:spreadsheet></office:body></office:document>
'''


def make():
    with tempfile.TemporaryDirectory() as tmp:
        source = pathlib.Path(tmp) / f"{NAME}.fods"
        source.write_text(flat(), encoding="utf-8")
        through_libreoffice(source, HERE / f"{NAME}.xlsx")
    write_json(f"{NAME}.truth.json", the_truth().data())
