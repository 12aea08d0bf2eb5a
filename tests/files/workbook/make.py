"""Makes the workbooks and csv files of this folder, and beside each the cells another reader found.

Run with a python3 that has openpyxl and XlsxWriter, and `soffice` (LibreOffice) on the path:

    python3 tests/files/workbook/make.py

Writers: openpyxl (openpyxl-*.xlsx), XlsxWriter (xlsxwriter-*.xlsx), LibreOffice (lo-*.xlsx, .xls,
the protected one), Python's csv module (*.csv). lo.xlsx, op1904.xlsx and xw.xlsx are rich workbooks
of the same three writers, kept as they came; this script only writes their `.json`.
Readers: openpyxl for `NAME.xlsx.json`, LibreOffice (csv "as shown") for `NAME.xlsx.shown.json`,
Python's csv module for `NAME.csv.json`. All content is invented.
"""

import csv
import datetime as dt
import io
import json
import pathlib
import subprocess
import tempfile
import time

import openpyxl
import xlsxwriter
from openpyxl.comments import Comment
from openpyxl.styles import Font

HERE = pathlib.Path(__file__).resolve().parent
FIXED = dt.datetime(2024, 1, 2, 3, 4, 5)

PATTERNS = [
    "General", "0", "0.00", "#,##0", "#,##0.0", "0%", "0.0%", "0.00E+00", '0.0" ft"', '0 "W"',
    '0.00\\ "m"', '#,##0.00" m²"', "0.0;-0.0;\"none\"", "[Red]-0.0;[Blue]0.0", '_(* #,##0.00_)',
    '[<1]0.00" m";0.0" m"', "0.###", "000", "$#,##0.00", '"L="0.0',
]
NUMBERS = [0, 1, 87, 12.5, 0.25, -3.75, 1234.567, 0.1, 16.404199475]


def with_openpyxl():
    wb = openpyxl.Workbook()
    wb.properties.created = wb.properties.modified = FIXED
    ws = wb.active
    ws.title = "Run list & more"
    ws["A1"] = "Demo hall, cove lighting"
    ws.merge_cells("A1:F1")
    for column, title in enumerate(["Tag", "Watts", "Length", "Dimmed", "Due", "__proto__"], 1):
        ws.cell(3, column, title)
    for row in range(4, 40):
        ws.cell(row, 1, f"C{row:03d}")
        ws.cell(row, 2, row * 1.1)
        ws.cell(row, 3, f"{row}'-6\"").number_format = "@"
        ws.cell(row, 4, row % 2 == 0)
        ws.cell(row, 5, dt.datetime(2023, 12, 20) + dt.timedelta(days=row, hours=row % 3))
        ws.cell(row, 6, "constructor" if row % 5 == 0 else "µ Ω ° – ‘x’ 線")
    ws["G4"] = "=B4*2"
    ws["G5"] = '="a"&"b"'
    ws["H4"] = "#N/A"
    ws["H5"] = 5e-7
    ws["H6"] = 12345678901234567890
    ws["H7"] = dt.time(13, 30)
    ws["H8"] = dt.date(2024, 2, 29)
    ws["H9"] = "  spaces kept  "
    ws["H10"] = "two\nlines"
    ws["A8"].comment = Comment("Check with the architect", "Office")
    ws["A9"].font = Font(strike=True)
    ws["B9"].font = Font(strike=False, bold=True)
    ws.merge_cells("A20:A22")
    ws.row_dimensions[12].hidden = True
    ws.row_dimensions[13].hidden = True
    hidden = wb.create_sheet("constructor")
    hidden["ZZ1"] = "far right"
    hidden["A500"] = "far down"
    hidden.sheet_state = "hidden"
    wb.create_sheet("Empty")
    wb.save(HERE / "openpyxl-schedule.xlsx")


def with_xlsxwriter(name, options, strings_inline=False):
    settings = dict(options, constant_memory=strings_inline)
    wb = xlsxwriter.Workbook(str(HERE / name), settings)
    wb.set_properties({"created": FIXED})
    ws = wb.add_worksheet("Schedule")
    bold, strike = wb.add_format({"bold": True}), wb.add_format({"font_strikeout": True})
    day = wb.add_format({"num_format": "d mmm yyyy"})
    moment = wb.add_format({"num_format": 14})
    clock = wb.add_format({"num_format": "h:mm"})
    span = wb.add_format({"num_format": "[h]:mm"})
    feet = wb.add_format({"num_format": '0.0" ft"'})
    ws.write_row(0, 0, ["Tag", "Length", "Date", "Note"], bold)
    for row in range(1, 30):
        ws.write_string(row, 0, f"R{row}", strike if row % 7 == 0 else None)
        ws.write_number(row, 1, row * 0.3, feet)
        ws.write_datetime(row, 2, dt.datetime(1999 + row, 1 + row % 12, row % 28 + 1), day)
        if row == 3:
            ws.write_rich_string(row, 3, "plain ", strike, "gone ", bold, "bold")
        elif row == 4:
            ws.write_rich_string(row, 3, strike, "all ", strike, "gone")
        else:
            ws.write_string(row, 3, "=not a formula" if row % 2 else "shared text")
        ws.write_formula(row, 4, f"=B{row + 1}*2", None, row * 0.6)
        ws.write_formula(row, 5, f'=IF(B{row + 1}>3,"long","")', None, "long" if row > 10 else "")
        if row == 12:
            ws.set_row(row, None, None, {"hidden": True})
    ws.write_datetime(30, 0, dt.datetime(2024, 2, 29, 23, 59, 59), moment)
    ws.write_number(31, 0, 0.5625, clock)
    ws.write_number(32, 0, 1.25, span)
    ws.write_formula(33, 0, "=1/0", None, "#DIV/0!")
    ws.write_formula(34, 0, "=1=1", None, True)
    ws.write_array_formula(35, 0, 36, 0, "{=B2:B3*2}", None, 0.6)
    ws.write_number(36, 0, 1.2)
    ws.write_boolean(37, 0, False)
    ws.write_comment("B2", "Measured on site\nTuesday", {"author": "Office"})
    ws.merge_range("G2:H4", "merged", bold)
    ws.set_column(8, 9, 10, None, {"hidden": True})
    ws.write(38, 8, "in a hidden column")
    lists = wb.add_worksheet("Lists")
    lists.hide()
    lists.write(0, 0, "Type A")
    wb.close()


def with_formats():
    wb = xlsxwriter.Workbook(str(HERE / "xlsxwriter-formats.xlsx"))
    wb.set_properties({"created": FIXED})
    ws = wb.add_worksheet("Formats")
    ws.set_column(0, 40, 30)
    for column, pattern in enumerate(PATTERNS):
        shape = wb.add_format({"num_format": pattern})
        for row, number in enumerate(NUMBERS):
            ws.write_number(row, column, number, shape)
    dates = ["yyyy-mm-dd", "d-mmm-yy", "dd/mm/yyyy", "d mmm yyyy", "h:mm:ss", "yyyy-mm-dd hh:mm"]
    for column, pattern in enumerate(dates):
        shape = wb.add_format({"num_format": pattern})
        for row, serial in enumerate([61, 36526.5, 43889.5625, 45351.75]):
            ws.write_number(len(NUMBERS) + row, column, serial, shape)
    wb.close()


def soffice(profile, *arguments):
    subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{profile}", "--headless", *arguments],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=120,
    )


def with_libreoffice(profile, work):
    for source, target, kind in [
        ("openpyxl-schedule.xlsx", "lo-schedule.xlsx", "xlsx:Calc MS Excel 2007 XML"),
        ("xlsxwriter-plain.xlsx", "old-schedule.xls", "xls:MS Excel 97"),
        ("xlsxwriter-formats.xlsx", "open-document.ods", "ods:calc8"),
    ]:
        soffice(profile, "--convert-to", kind, "--outdir", str(work), str(HERE / source))
        made = work / (pathlib.Path(source).stem + "." + kind.split(":")[0])
        made.replace(HERE / target)


def with_password(profile):
    """A workbook protected with a password; needs LibreOffice's Python bridge (uno)."""
    import uno
    from com.sun.star.beans import NamedValue, PropertyValue

    pipe = f"runledger-{time.time_ns()}"
    office = subprocess.Popen(
        ["soffice", f"-env:UserInstallation=file://{profile}", "--headless", "--norestore",
         f"--accept=pipe,name={pipe};urp;"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(100):
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            break
        except Exception:
            time.sleep(0.3)
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)

    def option(name, value):
        return PropertyValue(Name=name, Value=value)

    document = desktop.loadComponentFromURL(
        (HERE / "xlsxwriter-plain.xlsx").as_uri(), "_blank", 0, (option("Hidden", True),))
    protection = uno.Any("[]com.sun.star.beans.NamedValue", (
        NamedValue("CryptoType", "Standard"), NamedValue("OOXPassword", "invented")))
    document.storeToURL(
        (HERE / "with-password.xlsx").as_uri(),
        (option("FilterName", "Calc MS Excel 2007 XML"), option("EncryptionData", protection)))
    document.close(True)
    desktop.terminate()
    office.wait(60)


def plain(value):
    """A value as JSON: numbers, text and truth values as they are, dates as ISO text."""
    if isinstance(value, dt.datetime):
        return {"date": value.isoformat()}
    if isinstance(value, (dt.date, dt.time)):
        return {"date": value.isoformat()}
    if isinstance(value, dt.timedelta):
        return {"days": value / dt.timedelta(days=1)}
    return value


def formula_text(value):
    text = getattr(value, "text", value)
    return text[1:] if isinstance(text, str) and text.startswith("=") else None


def expected_cells(path):
    values = openpyxl.load_workbook(path, data_only=True)
    formulas = openpyxl.load_workbook(path)
    sheets = []
    for ws in values.worksheets:
        other = formulas[ws.title]
        cells = {}
        for row in ws.iter_rows():
            for cell in row:
                source = other[cell.coordinate]
                is_formula = source.data_type == "f"
                if (cell.value is None and not is_formula) or cell.value == "":
                    if not is_formula:
                        continue
                entry = {"value": plain(cell.value)}
                if cell.data_type == "e":
                    entry["error"] = True
                if is_formula:
                    entry["formula"] = formula_text(source.value)
                if cell.font.strike:
                    entry["struckFont"] = True
                if cell.comment is not None:
                    entry["note"] = cell.comment.text
                cells[cell.coordinate] = entry
        sheets.append({
            "name": ws.title,
            "hidden": ws.sheet_state != "visible",
            "hiddenRows": sorted(n for n, d in ws.row_dimensions.items() if d.hidden),
            "merges": sorted(str(area) for area in ws.merged_cells.ranges),
            "cells": cells,
        })
    return {"reader": f"openpyxl {openpyxl.__version__}", "sheets": sheets}


def expected_shown(profile, work, path):
    options = "44,34,76,1,,0,false,true"
    soffice(profile, "--convert-to", f"csv:Text - txt - csv (StarCalc):{options}",
            "--outdir", str(work), str(path))
    made = work / f"{path.stem}.csv"
    rows = list(csv.reader(io.StringIO(made.read_text("utf-8"), newline="")))
    return {"reader": "LibreOffice, cell content as shown", "rows": rows}


def csv_files():
    rows = [
        ["Tag", "Length", "Watts", "Note"],
        ["A1", "12'-6\"", "87W", "two\nlines"],
        ["A2", "3,81 m", "12.5", 'says "dim"'],
        ["007", "", "-5", "; and , inside"],
        ["", "", "", ""],
        ["A3", "5 ft", "+3", "café 20 °C µ"],
    ]
    kinds = [
        ("comma-utf8.csv", ",", "utf-8", "\r\n"), ("comma-utf8-mark.csv", ",", "utf-8-sig", "\n"),
        ("semicolon-1252.csv", ";", "cp1252", "\r\n"), ("tab-utf16.csv", "\t", "utf-16", "\r\n"),
        ("comma-cr.csv", ",", "utf-8", "\r"),
    ]
    for name, separator, encoding, end in kinds:
        out = io.StringIO(newline="")
        csv.writer(out, delimiter=separator, lineterminator=end).writerows(rows)
        (HERE / name).write_bytes(out.getvalue().encode(encoding))
        text = (HERE / name).read_bytes().decode(encoding)
        read = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
        write_json(name, {"reader": "Python csv", "separator": separator, "rows": read})


def write_json(name, data):
    text = json.dumps(data, ensure_ascii=False, sort_keys=True, indent=None)
    (HERE / f"{name}.json").write_text(text + "\n", "utf-8")


def main():
    with_openpyxl()
    with_xlsxwriter("xlsxwriter-plain.xlsx", {})
    with_xlsxwriter("xlsxwriter-inline.xlsx", {}, strings_inline=True)
    with_xlsxwriter("xlsxwriter-1904.xlsx", {"date_1904": True})
    with_formats()
    csv_files()
    with tempfile.TemporaryDirectory() as folder:
        profile, work = pathlib.Path(folder, "profile"), pathlib.Path(folder, "work")
        work.mkdir()
        with_libreoffice(profile, work)
        with_password(profile)
        formats = HERE / "xlsxwriter-formats.xlsx"
        write_json("xlsxwriter-formats.xlsx.shown", expected_shown(profile, work, formats))
    for path in sorted(HERE.glob("*.xlsx")):
        if path.name != "with-password.xlsx":
            write_json(path.name, expected_cells(path))


main()
