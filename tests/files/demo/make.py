"""Writes the demo workbook the app ships, from rows.csv beside this script.

Everything in it is invented. It is written by openpyxl, never by the code that reads it.
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
TARGET = HERE.parents[2] / "src-main" / "demo" / "foxglove-roundhouse.xlsx"

INK = "1B262C"
HEAD = PatternFill("solid", fgColor="E6DFCF")
BAND = {"A": "FFFFFF", "B": "F6F3EA", "C": "FFFFFF", "D": "F6F3EA"}
RULE = Side(style="thin", color="BFB8A8")
NUMBERS = {"Place", "Supply V", "Span ft", "Lead-in ft", "Home run ft", "Universe", "Start", "Breaker A"}

REMARKS = {
    "A-01": "Box on north pier, behind downpipe",
    "A-10": "Pier 10 is sandstone: no fixings below 3 ft",
    "B-11": "Programmer asked for this one twice",
    "B-19": "9-channel mode from rev B",
    "C-01": "Roof access by permit",
    "D-10": "Contractor's sketch 4",
    "D-18": "Terminator box at the turntable drain",
}

TYPES = [
    ["Type", "Description", "W max", "pf", "Printed window", "Absolute window", "Modes", "Unit load", "Leakage mA", "Max per 20 A"],
    ["RB1", "pier uplight", 87, 0.95, "100–277 V", "90–305", "5ch = 5, 9ch = 9", "1", 0.50, 40],
    ["RC2", "eave washer", 70, 0.92, "347–480 V", "312–528", "5ch = 5, 9ch = 9", "1/2", 0.60, 30],
    ["RT3", "tower narrow", 280, 0.95, "120–277 V", "108–305", "4ch = 4", "1", 0.70, 14],
    ["RP4", "pit-rim marker", 32, 0.93, "100–277 V", "90–305", "4ch = 4", "1/4", 0.45, 40],
]
SUPPLIES = [
    ["Panel", "System", "Phases", "Volts L-L", "Volts L-N"],
    ["LP-R", "208Y/120 three-phase", 3, 208, 120],
    ["LP-S", "600Y/347 three-phase", 3, 600, 347],
]
LINES = [
    ["Line", "Conductor", "Resistance ohm/kft hot", "Reactance ohm/kft", "Rating A", "Upstream breaker max A", "Max length (by supply)",
     "Jumpers", "Lead-ins", "Lead-in cut at box", "Pieces", "Listed for power and data"],
    ["H12", "12 AWG", 1.98, 0, 10, 20, "208 V: 220 ft; 347 V: 380 ft", "2 ft, 8 ft, 15 ft, 30 ft", "8 ft, 30 ft, 60 ft", "yes",
     "fewest joints", "yes"],
]
PROJECT = [
    ["Project", "Foxglove Roundhouse Museum"],
    ["Revision", "B"],
    ["Profile", "north-america"],
    ["Supply tolerance", "±5 %"],
    ["Branch drop limit", "3 %"],
    ["Branch drop binding", "yes"],
    ["Continuous factor", "80 %"],
    ["Line", "H12"],
    ["Home run conductor", "12 AWG"],
    ["Display unit", "ft"],
]


def value(header, text):
    if text == "":
        return None
    if header in NUMBERS and re.fullmatch(r"\d+(\.\d+)?", text):
        return float(text) if "." in text else int(text)
    return text


def title_block(sheet, width):
    lines = [
        ("Foxglove Roundhouse Museum: exterior lighting", Font(name="Calibri", size=16, bold=True, color=INK)),
        ("Fixture schedule, revision B, issued for coordination", Font(name="Calibri", size=11, color=INK)),
        ("Lengths in feet, along the cable. All names, places and products are invented.", Font(name="Calibri", size=10, italic=True, color="5B6770")),
    ]
    for row, (text, font) in enumerate(lines, start=1):
        sheet.cell(row, 1, text).font = font
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=width)
    sheet.row_dimensions[1].height = 24


def schedule(sheet):
    with open(HERE / "rows.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    header, body = rows[0], rows[1:]
    title_block(sheet, 8)
    top = 5
    for column, text in enumerate(header, start=1):
        cell = sheet.cell(top, column, text)
        cell.font = Font(name="Calibri", size=10, bold=True, color=INK)
        cell.fill = HEAD
        cell.alignment = Alignment(wrap_text=True, vertical="center", horizontal="center")
        cell.border = Border(bottom=Side(style="medium", color=INK))
    sheet.row_dimensions[top].height = 30
    previous_run = None
    for offset, row in enumerate(body, start=1):
        tag = row[0]
        fill = PatternFill("solid", fgColor=BAND[tag[0]])
        run = row[header.index("Run")]
        for column, (name, text) in enumerate(zip(header, row), start=1):
            if name == "Remarks":
                text = REMARKS.get(tag, text)
            cell = sheet.cell(top + offset, column, value(name, text))
            cell.font = Font(name="Calibri", size=10, color=INK, bold=column == 1)
            cell.fill = fill
            cell.border = Border(bottom=RULE, top=Side(style="medium", color="8A8373") if run != previous_run else None)
            if name in NUMBERS:
                cell.alignment = Alignment(horizontal="right")
        previous_run = run
    start = header.index("Start") + 1
    sheet.cell(top + 1, start).comment = Comment("Starts follow the cable, nearest the box first.", "Lighting desk", width=220, height=60)
    widths = {"Tag": 8, "Type": 7, "Area": 17, "Remarks": 34, "Location": 15, "Reach": 17, "Protection": 15, "Fed from": 9}
    for column, name in enumerate(header, start=1):
        sheet.column_dimensions[get_column_letter(column)].width = widths.get(name, 9.5)
    sheet.freeze_panes = sheet.cell(top + 1, 2)
    sheet.print_title_rows = f"{top}:{top}"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.auto_filter.ref = f"A{top}:{get_column_letter(len(header))}{top + len(body)}"


def table(sheet, rows, header=True):
    for r, row in enumerate(rows, start=1):
        for c, text in enumerate(row, start=1):
            cell = sheet.cell(r, c, text)
            cell.font = Font(name="Calibri", size=10, color=INK, bold=(header and r == 1) or (not header and c == 1))
            if header and r == 1:
                cell.fill = HEAD
                cell.alignment = Alignment(wrap_text=True, vertical="center")
    for c in range(1, max(len(row) for row in rows) + 1):
        longest = max(len(str(row[c - 1])) for row in rows if len(row) >= c)
        sheet.column_dimensions[get_column_letter(c)].width = min(34, max(9, longest + 2))


def repack(path):
    """Same bytes at every run: fixed times, fixed order."""
    with zipfile.ZipFile(path) as source:
        parts = [(name, source.read(name)) for name in source.namelist()]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name, data in parts:
            if name == "docProps/core.xml":
                data = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", b"2026-01-05T09:00:00Z", data)
            info = zipfile.ZipInfo(name, (2026, 1, 5, 9, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(info, data)


def main():
    book = Workbook()
    book.properties.creator = "Lighting desk"
    book.properties.created = datetime.datetime(2026, 1, 5, 9)
    sheet = book.active
    sheet.title = "Schedule"
    from openpyxl.worksheet.properties import PageSetupProperties
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    schedule(sheet)
    table(book.create_sheet("Types"), TYPES)
    table(book.create_sheet("Supplies"), SUPPLIES)
    table(book.create_sheet("Lines"), LINES)
    table(book.create_sheet("Project"), PROJECT, header=False)
    TARGET.parent.mkdir(parents=True, exist_ok=True)
    book.save(TARGET)
    repack(TARGET)


main()
