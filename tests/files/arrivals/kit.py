"""Shared by the makers of this folder: messy cells, the truth file, fixed dates, LibreOffice.

Nothing here reads a made workbook back: a truth file comes from the same source data as the
workbook, never from the workbook.
"""

import datetime as dt
import json
import pathlib
import re
import struct
import subprocess
import tempfile
import zipfile
import zlib
from fractions import Fraction

HERE = pathlib.Path(__file__).resolve().parent
FIXED = dt.datetime(2024, 3, 14, 9, 30, 0)
NBSP = "\u00a0"

# Values of a run may stand on its first row only (the reading rule these files are made for).
RUN_KEYS = ["homeRunM", "supplyV", "panel", "circuit", "breakerA", "line", "conductor"]


def ft(feet, inches=0):
    """Metres of feet and inches (numbers, or text such as '7/8'); 1 ft = 0.3048 m exactly."""
    total = Fraction(str(feet)) + Fraction(str(inches)) / 12
    return float(total * Fraction(381, 1250))


class M:
    """A cell whose text and reading differ.

    raw: what is written. value: what a careful engineer reads. why: set when the reading has to
    appear in the import report. also: other acceptable values. unfilled: set when nothing may be
    put in its place. style: hints for the writer (strike, rich, cached ...).
    """

    def __init__(self, raw, value=None, why=None, also=None, unfilled=None, **style):
        self.raw, self.value, self.why = raw, value, why
        self.also, self.unfilled, self.style = also, unfilled, style


def raw_of(cell):
    return cell.raw if isinstance(cell, M) else cell


def value_of(cell):
    return cell.value if isinstance(cell, M) else cell


def style_of(cell):
    return cell.style if isinstance(cell, M) else {}


class Truth:
    """Collects what a careful engineer reads from one workbook."""

    def __init__(self, **about):
        self.about = about
        self.header_row, self.header_rows = {}, {}
        self.columns, self.letters = {}, {}
        self.fixtures, self.skipped = [], []
        self.readings, self.unfilled = [], []
        self.questions, self.also, self.extra = [], [], {}
        self.rows_read = 0

    def sheet(self, name, header_rows, columns):
        """columns: (letter, header as joined, truth key or None, column id or None)."""
        self.header_row[name] = header_rows[-1]
        self.header_rows[name] = list(header_rows)
        self.columns[name] = {c[1]: c[3] for c in columns}
        self.letters[name] = {c[1]: c[0] for c in columns}

    def skip(self, sheet, row, reason):
        self.skipped.append({"sheet": sheet, "row": row, "reason": reason})

    def reading(self, sheet, cell, raw, value, why):
        self.readings.append({"sheet": sheet, "cell": cell, "raw": raw, "value": value, "why": why})

    def marks(self, sheet, row, columns, cells):
        """Readings, blanks and alternatives of the messy cells of one row."""
        for (letter, _, key, _), cell in zip(columns, cells):
            if not isinstance(cell, M):
                continue
            at = f"{letter}{row}"
            if cell.why:
                raw = cell.raw if isinstance(cell.raw, (str, int, float, type(None))) else cell.raw.date().isoformat()
                self.reading(sheet, at, raw, cell.value, cell.why)
            if cell.unfilled:
                self.unfilled.append({"sheet": sheet, "cell": at, "key": key, "why": cell.unfilled})
            if cell.also is not None:
                self.also.append({"sheet": sheet, "row": row, "cell": at, "key": key, "values": cell.also})

    def fixture(self, sheet, row, columns, cells, **more):
        found = {"sheet": sheet, "row": row}
        for (_, _, key, _), cell in zip(columns, cells):
            if key:
                found[key] = value_of(cell)
        found.update(more)
        self.marks(sheet, row, columns, cells)
        self.rows_read += 1
        self.fixtures.append(found)
        return found

    def hold_for_run(self):
        first = {}
        for f in self.fixtures:
            run = f.get("run")
            for key in RUN_KEYS:
                if run is not None and f.get(key) is not None:
                    first.setdefault((run, key), f[key])
        for f in self.fixtures:
            for key in RUN_KEYS:
                if key in f and f[key] is None:
                    f[key] = first.get((f.get("run"), key))

    def data(self):
        return {
            **self.about,
            "headerRow": self.header_row,
            "headerRows": self.header_rows,
            "columns": self.columns,
            "columnLetters": self.letters,
            "rowsRead": self.rows_read,
            "rowsSkipped": self.skipped,
            "fixtures": self.fixtures,
            "mustBeAReading": self.readings,
            "mustNotBeFilled": self.unfilled,
            "questions": self.questions,
            "also": self.also,
            **self.extra,
        }


def write_json(name, data, folder=HERE):
    """One line an item, so that a change shows as one line."""
    for fixture in data["fixtures"]:
        if fixture.get("remarks", "") is None:
            del fixture["remarks"]

    def dumps(item):
        return json.dumps(item, ensure_ascii=False, separators=(",", ":"))

    parts = []
    for key, value in data.items():
        if isinstance(value, list) and value:
            lines = ",\n".join(" " + dumps(v) for v in value)
            text = f"[\n{lines}\n]"
        elif isinstance(value, dict) and any(isinstance(v, (dict, list)) for v in value.values()):
            lines = ",\n".join(
                f" {dumps(k)}: {dumps(v)}"
                for k, v in value.items()
            )
            text = f"{{\n{lines}\n}}"
        else:
            text = dumps(value)
        parts.append(f"{dumps(key)}: {text}")
    (folder / name).write_text("{\n" + ",\n".join(parts) + "\n}\n", encoding="utf-8")


def png(width, height, pixel):
    """A small RGB picture; pixel(x, y) gives (r, g, b)."""
    rows = b"".join(
        b"\0" + b"".join(bytes(pixel(x, y)) for x in range(width)) for y in range(height)
    )

    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b"")


def arch(x, y):
    """A gate arch, for a stamp in a title block."""
    inside = (x - 24) ** 2 + (y - 26) ** 2 < 15 ** 2 or (9 < x < 39 and y >= 26)
    return (246, 238, 214) if inside else (70, 84, 96)


def fix_zip_times(path):
    """Sets every entry's time to a fixed one in place: the writer's own package stays as it was."""
    data = bytearray(pathlib.Path(path).read_bytes())
    stamp = struct.pack("<HH", (9 << 11) | (30 << 5), ((2024 - 1980) << 9) | (3 << 5) | 14)
    with zipfile.ZipFile(path) as z:
        entries = [i.header_offset for i in z.infolist()]
        at = z.start_dir
    for offset in entries:
        data[offset + 10 : offset + 14] = stamp
        assert data[at : at + 4] == b"PK\1\2"
        data[at + 12 : at + 16] = stamp
        name, extra, comment = struct.unpack("<HHH", data[at + 28 : at + 34])
        at += 46 + name + extra + comment
    pathlib.Path(path).write_bytes(bytes(data))


def save_openpyxl(book, path):
    book.properties.created = book.properties.modified = FIXED
    book.save(path)
    fix_zip_times(path)


def rewrite(path, edit, add=()):
    """Passes every part through edit(name, bytes) -> bytes, adds parts, packs again with fixed times."""
    with zipfile.ZipFile(path) as z:
        parts = [(i.filename, z.read(i)) for i in z.infolist()]
    pack(path, [(name, edit(name, body)) for name, body in parts] + list(add))


def pack(path, parts):
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as z:
        for name, body in parts:
            info = zipfile.ZipInfo(name, FIXED.timetuple()[:6])
            info.compress_type = zipfile.ZIP_DEFLATED
            z.writestr(info, body)


def through_libreoffice(source, target):
    """Opens source in LibreOffice and saves it as target (.xlsx)."""
    source, target = pathlib.Path(source), pathlib.Path(target)
    with tempfile.TemporaryDirectory() as tmp:
        out = pathlib.Path(tmp) / "out"
        subprocess.run(
            ["soffice", f"-env:UserInstallation=file://{tmp}/profile", "--headless", "--convert-to",
             "xlsx:Calc MS Excel 2007 XML", "--outdir", str(out), str(source)],
            check=True, capture_output=True, timeout=120,
        )
        target.write_bytes((out / (source.stem + ".xlsx")).read_bytes())
    with zipfile.ZipFile(target) as z:
        charts = any("/charts/chart" in n for n in z.namelist())
    if charts:
        rewrite(target, lambda name, body: plain_axes(body) if "/charts/chart" in name else body)
    else:
        fix_zip_times(target)


def plain_axes(body):
    """LibreOffice numbers the axes of a chart at random; here they are 1001, 1002 ..."""
    text = body.decode()
    for n, old in enumerate(dict.fromkeys(re.findall(r'axId val="(\d+)"', text))):
        text = re.sub(rf'(axId|crossAx) val="{old}"', rf'\1 val="{1001 + n}"', text)
    return text.encode()
