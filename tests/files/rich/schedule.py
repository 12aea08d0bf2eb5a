"""The small schedules of the three rich workbooks, and their truth."""

from kit import ft, write_json

HEADERS = ["Tag", "Type", "Run", "Place", "Span", "Load W", "pf", "Supply V", "Universe", "Start", "Ch"]
KEYS = ["tag", "type", "run", "place", "spanM", "loadW", "powerFactor", "supplyV", "universe", "address", "footprint"]
IDS = ["tag", "type", "run", "place", "span", "load", "powerFactor", "supply", "universe", "address", "footprint"]


def rows(stem, runs):
    """runs: (run, type, count, lead-in, span, W, pf, V, universe, footprint); lengths in the sheet's unit."""
    out, number, start = [], 0, {}
    for run, kind, count, lead, span, watts, pf, volts, universe, ch in runs:
        for place in range(1, count + 1):
            number += 1
            address = start.get(universe, 1)
            start[universe] = address + ch
            out.append([f"{stem}{number:02d}", kind, run, place, lead if place == 1 else span, watts, pf, volts, universe, address, ch])
    return out


def truth(folder, name, sheet, header_row, unit, data, skipped=(), profile="iec", extra_columns=(), writer=""):
    """unit: 'm' or 'ft'. The header of the span column is 'Span m' or 'Span ft'."""
    headers = [f"Span {unit}" if h == "Span" else h for h in HEADERS]
    fixtures = []
    for at, row in data:
        found = dict(zip(KEYS, row))
        if unit == "ft" and found["spanM"] is not None:
            found["spanM"] = ft(found["spanM"])
        fixtures.append({"sheet": sheet, "row": at} | found)
    write_json(f"{name}.truth.json", {
        "file": f"{name}.xlsx", "writer": writer, "profile": profile, "scheduleSheets": [sheet], "headerRow": {sheet: header_row},
        "columns": {sheet: dict(zip(headers, IDS)) | {h: None for h in extra_columns}},
        "rowsRead": len(fixtures), "rowsSkipped": [{"sheet": sheet, "row": r, "reason": why} for r, why in skipped], "fixtures": fixtures,
    }, folder)
    return headers
