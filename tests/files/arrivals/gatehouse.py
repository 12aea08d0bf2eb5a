"""Job 1, XlsxWriter: tidy, but with a two-row merged header and decimal commas."""

import io

import xlsxwriter

from kit import FIXED, HERE, NBSP, M, Truth, arch, png, write_json

NAME = "wrenhallow-gatehouse"
SHEET = "Gatehouse"
COLUMNS = [
    ("A", "Tag", "tag", "tag"),
    ("B", "Type", "type", "type"),
    ("C", "Area", "area", "area"),
    ("D", "Run", "run", "run"),
    ("E", "Pos", "place", "place"),
    ("F", "Spacing m", "spanM", "span"),
    ("G", "Home run m", "homeRunM", "homeRun"),
    ("H", "Electrical / Load W", "loadW", "load"),
    ("I", "Electrical / V", "supplyV", "supply"),
    ("J", "Electrical / Ph", None, None),
    ("K", "cos φ", "powerFactor", "powerFactor"),
    ("L", "Panel", "panel", "panel"),
    ("M", "Circuit", "circuit", "circuit"),
    ("N", "MCB A", "breakerA", "breaker"),
    ("O", "Conductor mm²", "conductor", "conductor"),
    ("P", "Control / Univ", "universe", "universe"),
    ("Q", "Control / Start", "address", "address"),
    ("R", "Control / Ch", "footprint", "footprint"),
    ("S", "Remarks", "remarks", "remarks"),
    ("T", "Heritage ref", None, None),
    ("U", "Cost code", None, None),
]
TYPES = {"WA1": (18.5, 0.93, 4), "WA2": (38.5, 0.95, 8), "WA3": (12.0, 0.9, 3), "WA4": (27.0, None, 6)}
# run: type, area, home run m, circuit, breaker, spacing m, lead-in m, phase
RUNS = [
    ("G1", "WA2", "West front", 18.5, "1", 10, 2.4, 3.25, "L1"),
    ("G2", "WA2", "West front", 22.0, "2", 10, 2.4, 1.8, "L2"),
    ("G3", "WA1", "Vault", 31.75, "3", 10, 1.6, 4.1, "L3"),
    ("G4", "WA1", "Vault", 36.25, "3", 10, 1.6, 2.05, "L3"),
    ("G5", "WA3", "Stair turret", None, "4", 6, 0.95, 2.6, "L1"),
    ("G6", "WA4", "East front", 44.5, "5", 10, 2.15, 3.0, "L2"),
]
REMARKS = {3: "Fix in joints only, no drilling of stone", 11: "Bat roost above: switch off April–August",
           26: "=see elevation 2", 40: "Survey 07/03: string course 40 mm deep"}


def comma(value, places=2):
    return f"{value:.{places}f}".replace(".", ",")


def rows():
    number, universe, address = 0, 1, 1
    for index, (run, kind, area, home, circuit, breaker, spacing, lead, phase) in enumerate(RUNS):
        load, pf, ch = TYPES[kind]
        if index == 4:
            universe, address = 2, 1
        for place in range(1, 9):
            number += 1
            first = place == 1
            span = lead if first else spacing
            if number == 12:
                span_cell = M("2,400", 2.4, "2,400: comma as a decimal, as in the rest of the column, not thousands", also=[2400])
            elif number % 4 == 0:
                span_cell = span
            else:
                span_cell = M(comma(span), span)
            if number == 14:
                load_cell = M("=36+2.5", 36, "formula; the value it last had (36) is not what it gives now", also=[38.5], cached=36)
            elif number % 3 == 0:
                load_cell = M(comma(load, 1), load)
            elif number % 7 == 0:
                load_cell = M(f"{comma(load, 1)}{NBSP}W", load)
            else:
                load_cell = load
            tag = f"{number:03d}"
            tag_cell = M(number, tag, style="000") if number in (17, 18) else tag
            start = M(f"=Q{number + 5}+R{number + 5}", address, cached=address) if not first and number % 5 == 0 else address
            yield [
                tag_cell, kind, area, run, place, span_cell,
                (M(comma(home), home) if home is not None else M(None, None, unfilled="home run of G5 is not given anywhere")) if first else None,
                load_cell, M("230 V", 230) if number % 9 == 0 else M("230", 230) if number % 9 == 4 else 230, phase,
                M(comma(pf), pf) if pf and number % 2 else pf if pf else M(None, None, unfilled="no power factor for WA4 anywhere"),
                "DB-G" if first else None, circuit if first else None,
                (M(f"{breaker} A", breaker) if index == 2 else breaker) if first else None,
                (M("2,5", "2.5mm2") if first else None),
                universe, start, ch, REMARKS.get(number), f"HG/{number * 7 % 31:02d}", f"{4400 + number % 6}",
            ]
            address += ch


def make():
    path = HERE / f"{NAME}.xlsx"
    book = xlsxwriter.Workbook(str(path))
    book.set_properties({"title": "Gatehouse lighting schedule", "subject": "Invented", "created": FIXED})
    ws = book.add_worksheet(SHEET)
    f = book.add_format
    title = f({"bold": True, "font_size": 14, "font_name": "Georgia", "bg_color": "#E7E0CE"})
    small, head = f({"italic": True, "font_color": "#555555"}), f({"bold": True, "border": 1, "align": "center", "valign": "vcenter", "text_wrap": True, "bg_color": "#D9E1D4"})
    cell, text, two = f({"border": 1}), f({"border": 1, "num_format": "@"}), f({"border": 1, "num_format": "0.00"})
    three, code = f({"border": 1, "num_format": "000"}), f({"border": 1, "font_color": "#999999"})
    ws.merge_range("A1:R1", "WRENHALLOW ABBEY · GATEHOUSE · EXTERNAL LIGHTING", title)
    ws.merge_range("A2:H2", "Fixture schedule, revision B, issued 14 March 2024 for co-ordination", small)
    ws.merge_range("A3:H3", "All lengths in metres along the wall; decimal comma", small)
    ws.write("A4", "Sheet 1 of 1", small)
    ws.insert_image("S1", "arch.png", {"image_data": io.BytesIO(png(48, 40, arch)), "description": "Gate arch", "object_position": 2})

    truth = Truth(file=f"{NAME}.xlsx", writer="XlsxWriter", profile="iec", scheduleSheets=[SHEET])
    truth.sheet(SHEET, [5, 6], COLUMNS)
    truth.also.append({"what": "headerRow", "values": [5], "why": "first of the two header rows"})
    truth.also.append({"what": "readings", "why": "decimal commas, '38,5 W' and numbers shown with a 000 format may be readings too"})
    for name in ("Electrical", "Control"):
        span = [c[0] for c in COLUMNS if c[1].startswith(name + " / ")]
        ws.merge_range(f"{span[0]}5:{span[-1]}5", name, head)
    for letter, header, _, _ in COLUMNS:
        if " / " in header:
            ws.write(f"{letter}6", header.split(" / ")[1], head)
        else:
            ws.merge_range(f"{letter}5:{letter}6", header, head)

    numbers = 0.0
    row = 6
    for cells in rows():
        row += 1
        truth.fixture(SHEET, row, COLUMNS, cells)
        for (letter, _, key, _), c in zip(COLUMNS, cells):
            at = f"{letter}{row}"
            raw = c.raw if isinstance(c, M) else c
            look = code if letter == "U" else two if letter == "F" else cell
            if raw is None:
                ws.write_blank(at, None, look)
            elif isinstance(c, M) and "cached" in c.style:
                ws.write_formula(at, raw, look, c.style["cached"])
                numbers += c.style["cached"] if letter == "H" else 0
            elif isinstance(raw, str):
                ws.write_string(at, raw, text if letter in "AM" else look)
            else:
                ws.write_number(at, raw, three if isinstance(c, M) and c.style.get("style") else look)
                numbers += raw if letter == "H" else 0
    last = row
    ws.write(f"A{last + 1}", "Total", head)
    ws.write_formula(f"E{last + 1}", f"=COUNTA(A7:A{last})", head, 48)
    ws.write_formula(f"H{last + 1}", f"=SUM(H7:H{last})", head, numbers)
    truth.skip(SHEET, last + 1, "subtotal")
    furnish(book, ws, last, f)
    book.close()
    truth.hold_for_run()
    write_json(f"{NAME}.truth.json", truth.data())


def furnish(book, ws, last, f):
    """What must come back untouched after an export."""
    ws.freeze_panes(6, 2)
    ws.autofilter(5, 0, last - 1, 20)
    ws.set_column("A:A", 7)
    ws.set_column("C:C", 14)
    ws.set_column("S:S", 34)
    ws.set_column("U:U", 8, None, {"hidden": True})
    ws.set_row(4, 20)
    ws.set_landscape()
    ws.set_paper(8)
    ws.fit_to_pages(1, 0)
    ws.repeat_rows(4, 5)
    ws.print_area(0, 0, last, 18)
    ws.set_margins(0.4, 0.4, 0.6, 0.6)
    ws.set_header("&L&\"Georgia,Bold\"Wrenhallow Abbey&RRev B")
    ws.set_footer("&LGatehouse schedule&RPage &P of &N")
    ws.data_validation(6, 1, last - 1, 1, {"validate": "list", "source": list(TYPES), "error_title": "Type", "error_message": "Pick a type of the list"})
    ws.data_validation(6, 4, last - 1, 4, {"validate": "integer", "criteria": "between", "minimum": 1, "maximum": 40})
    ws.conditional_format(6, 10, last - 1, 10, {"type": "blanks", "format": f({"bg_color": "#F6D5C9"})})
    ws.conditional_format(6, 17, last - 1, 17, {"type": "3_color_scale"})
    ws.conditional_format(6, 0, last - 1, 18, {"type": "formula", "criteria": '=AND($D7<>$D6,ROW()>7)', "format": f({"top": 2})})
    ws.write_comment("S9", "Mortar joints measured on site", {"author": "Desk", "x_scale": 1.2})
    ws.write_url("S2", "https://example.org/wrenhallow", string="Drawing register")
    book.define_name("GateTags", f"={SHEET}!$A$7:$A${last}")
    book.define_name("MaxDropPct", "=3")
    chart = book.add_chart({"type": "column"})
    chart.add_series({"name": "Load", "categories": f"={SHEET}!$A$7:$A$22", "values": f"={SHEET}!$H$7:$H$22"})
    chart.set_title({"name": "Load, west front"})
    ws.insert_chart(f"C{last + 4}", chart, {"x_scale": 0.9, "y_scale": 0.7})
