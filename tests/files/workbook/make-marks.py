"""Makes two workbooks with marks of revision, and beside each the marks LibreOffice finds in it.

Coloured and struck-through text, rows hidden by hand and by a filter, hidden columns. Run with a
python3 that has openpyxl and XlsxWriter, and `soffice` (LibreOffice) on the path:

    python3 tests/files/workbook/make-marks.py

Writers: openpyxl (openpyxl-marks.xlsx), XlsxWriter (xlsxwriter-marks.xlsx).
Reader for `NAME.marks.json`: LibreOffice (flat OpenDocument). All content is invented.
"""

import datetime as dt
import json
import pathlib
import subprocess
import tempfile
import xml.etree.ElementTree as ET

import openpyxl
import xlsxwriter
from openpyxl.styles import Font
from openpyxl.styles.colors import Color
from openpyxl.utils import get_column_letter

HERE = pathlib.Path(__file__).resolve().parent
FIXED = dt.datetime(2024, 1, 2, 3, 4, 5)


def with_openpyxl():
    wb = openpyxl.Workbook()
    wb.properties.created = wb.properties.modified = FIXED
    ws = wb.active
    ws.title = "Colours"
    row = 1
    for theme in range(12):
        for column, tint in enumerate([0.0, 0.4, -0.25, -0.5, 0.8], 1):
            cell = ws.cell(row, column, f"theme {theme} {tint}")
            cell.font = Font(color=Color(theme=theme, tint=tint))
        row += 1
    for index in list(range(64)) + [64]:
        cell = ws.cell(row, 1 + index % 8, f"index {index}")
        cell.font = Font(color=Color(indexed=index))
        if index % 8 == 7:
            row += 1
    row += 1
    for column, rgb in enumerate(["FFFF0000", "00C00000", "FF123456", "FF000000", "FFFFFFFF"], 1):
        ws.cell(row, column, rgb).font = Font(color=Color(rgb=rgb))
    ws.cell(row, 6, 12.5).font = Font(color="FF0070C0", strike=True)
    ws.cell(row, 7, "plain")
    wb.save(HERE / "openpyxl-marks.xlsx")


def with_xlsxwriter():
    wb = xlsxwriter.Workbook(str(HERE / "xlsxwriter-marks.xlsx"))
    wb.set_properties({"created": FIXED})
    red, blue = wb.add_format({"font_color": "#C00000"}), wb.add_format({"font_color": "#0070C0"})
    strike = wb.add_format({"font_strikeout": True})
    both = wb.add_format({"font_strikeout": True, "font_color": "#C00000"})
    bold = wb.add_format({"bold": True})
    ws = wb.add_worksheet("Revised")
    ws.write_row(0, 0, ["Tag", "Type", "Load W", "Note", "Old", "Older"])
    for row in range(1, 13):
        ws.write_row(row, 0, [f"M-{row}", "T1" if row % 3 else "T2", 10.5 + row, "", "x", "y"])
    ws.write_rich_string(1, 3, strike, "12 W ", red, "15 W")
    ws.write_rich_string(2, 3, "was ", strike, "3000 K", " now ", blue, "4000 K")
    ws.write_rich_string(3, 3, bold, "D", both, "A-1", bold, "B", strike, "-2", bold, "-7")
    ws.write_rich_string(4, 3, red, "all ", red, "red", red)
    ws.write_rich_string(5, 3, "tail ", red, "in red", strike)
    ws.write_rich_string(6, 3, strike, "wholly ", both, "gone")
    ws.write_string(7, 3, "struck cell", both)
    ws.write_number(8, 2, 99.5, red)
    ws.write_datetime(9, 3, FIXED, wb.add_format({"font_color": "#00B050", "num_format": "d mmm"}))
    ws.write_boolean(10, 3, True, red)
    ws.write_formula(11, 3, "=C2*2", red, 23)
    ws.set_column(4, 5, 9, None, {"hidden": True})
    ws.autofilter(0, 0, 9, 5)
    ws.filter_column(1, "x == T1")
    for row in (3, 6, 9):
        ws.set_row(row, None, None, {"hidden": True})
    ws.set_row(11, None, None, {"hidden": True})
    by_hand = wb.add_worksheet("By hand")
    by_hand.write_column(0, 0, ["Tag", "H-1", "H-2", "H-3"])
    by_hand.autofilter(0, 0, 3, 0)
    by_hand.set_row(2, None, None, {"hidden": True})
    tables = wb.add_worksheet("Table")
    tables.add_table(1, 1, 5, 2, {"data": [[f"B-{n}", n] for n in range(4)],
                                  "columns": [{"header": "Tag"}, {"header": "Load W"}]})
    wb.close()


NS = {
    "office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
    "style": "urn:oasis:names:tc:opendocument:xmlns:style:1.0",
    "table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
    "text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
    "fo": "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0",
}


def name(prefix, local):
    return f"{{{NS[prefix]}}}{local}"


def line_of(properties):
    """Whether the properties strike the text through; None when they do not say."""
    for word in ("style", "type"):
        line = properties.get(name("style", f"text-line-through-{word}"))
        if line is not None:
            return line != "none"
    return None


class Styles:
    def __init__(self, root):
        self.by_name = {s.get(name("style", "name")): s for s in root.iter(name("style", "style"))}

    def look(self, style_name):
        """Colour and strike of a style, own properties before those of its parents."""
        colour = struck = None
        style = self.by_name.get(style_name)
        while style is not None:
            for properties in style.findall("style:text-properties", NS):
                struck = line_of(properties) if struck is None else struck
                auto = properties.get(name("style", "use-window-font-color"))
                own = None if auto == "true" else properties.get(name("fo", "color"))
                colour = colour if colour is not None or own is None else own
            style = self.by_name.get(style.get(name("style", "parent-style-name")))
        return {"colour": (colour or "#000000")[1:].upper(), "struck": bool(struck)}


def runs_of(cell, styles):
    """Pieces of a cell's text with colour and strike."""
    base = styles.look(cell.get(name("table", "style-name")))
    runs = []
    for paragraph in cell.findall("text:p", NS):
        def walk(element, look):
            if element.text:
                runs.append({"text": element.text, **look})
            for child in element:
                if child.tag == name("text", "s"):
                    runs.append({"text": " ", **look})
                elif child.tag == name("text", "span"):
                    # Attributes of a run come on top of those of its cell.
                    style = styles.by_name.get(child.get(name("text", "style-name")))
                    own = dict(look)
                    for properties in [] if style is None else style.findall("style:text-properties", NS):
                        line = line_of(properties)
                        own["struck"] = own["struck"] if line is None else line
                        colour = properties.get(name("fo", "color"))
                        if properties.get(name("style", "use-window-font-color")) == "true":
                            own["colour"] = "000000"
                        elif colour is not None:
                            own["colour"] = colour[1:].upper()
                    walk(child, own)
                if child.tail:
                    runs.append({"text": child.tail, **look})
        walk(paragraph, base)
    return runs


def times(element, attribute):
    return int(element.get(name("table", attribute), "1"))


def marks_of(path):
    root = ET.parse(path).getroot()
    styles = Styles(root)
    sheets = []
    for table in root.iter(name("table", "table")):
        hidden, column = [], 0
        for element in table.iter(name("table", "table-column")):
            count = times(element, "number-columns-repeated")
            if element.get(name("table", "visibility")) == "collapse":
                hidden += range(column, min(column + count, 50))
            column += count
        rows, cells, row = {}, {}, 0
        for element in table.iter(name("table", "table-row")):
            count = times(element, "number-rows-repeated")
            visibility = element.get(name("table", "visibility"))
            for number in range(row + 1, min(row + count, 200) + 1):
                if visibility:
                    rows[number] = visibility
            place = 0
            for cell in element:
                runs = runs_of(cell, styles)
                if runs:
                    cells[f"{get_column_letter(place + 1)}{row + 1}"] = runs
                place += times(cell, "number-columns-repeated")
            row += count
        sheets.append({"name": table.get(name("table", "name")), "hiddenColumns": hidden,
                       "hiddenRows": rows, "cells": cells})
    return {"reader": "LibreOffice, flat OpenDocument", "sheets": sheets}


def main():
    with_openpyxl()
    with_xlsxwriter()
    with tempfile.TemporaryDirectory() as folder:
        for stem in ("openpyxl-marks", "xlsxwriter-marks"):
            subprocess.run(
                ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless",
                 "--convert-to", "fods", "--outdir", folder, str(HERE / f"{stem}.xlsx")],
                check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=120)
            marks = marks_of(pathlib.Path(folder, f"{stem}.fods"))
            text = json.dumps(marks, ensure_ascii=False, sort_keys=True)
            (HERE / f"{stem}.xlsx.marks.json").write_text(text + "\n", "utf-8")


main()
