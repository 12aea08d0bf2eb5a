"""XlsxWriter: every kind of chart, conditional format, validation, sparkline and print setting it has."""

import datetime as dt
import io

import xlsxwriter

from kit import FIXED, arch, png
from schedule import HEADERS, rows, truth

NAME = "harrowgill-viaduct"
SHEET = "Fixtures"
HEAD = 6  # row of the header, from 1
RUNS = [
    ("V1", "AR1", 7, 6.5, 4.0, 46, 0.95, 230, 1, 8),
    ("V2", "AR1", 6, 3.0, 4.0, 46, 0.95, 230, 1, 8),
    ("V3", "AR2", 5, 8.25, 2.75, 31.5, 0.92, 230, 2, 4),
]


def make(folder):
    data = rows("HV-", RUNS)
    book = xlsxwriter.Workbook(str(folder / f"{NAME}.xlsx"))
    book.set_properties({"title": "Viaduct lighting", "author": "Desk", "created": FIXED})
    book.set_custom_property("Project number", 4711)
    book.set_custom_property("Issued", dt.datetime(2024, 3, 14), "date")
    book.set_custom_property("Checked", False)
    book.set_custom_property("Stage", "for review")
    book.set_size(1600, 900)
    ws = book.add_worksheet(SHEET)
    lists = book.add_worksheet("Lists")
    sums = book.add_worksheet("Sums 'n' charts")
    f = book.add_format
    last = HEAD + len(data)
    schedule(ws, f, data, last)
    headers = truth(folder, NAME, SHEET, HEAD, "m", list(enumerate(data, HEAD + 1)), [(last + 1, "subtotal"), (last + 3, "note")],
                    extra_columns=["Trend", "Done %", "Drop", "Date", "Item", "Held", "Half"], writer="XlsxWriter")
    for column, header in enumerate(headers + ["Trend", "Done %", "Drop", "Date"]):
        ws.write(HEAD - 1, column, header, f({"bold": True, "bottom": 6, "rotation": 45 if column > 8 else 0, "bg_color": "#DDE4EA"}))
    lists.write_column("A1", ["Types", "AR1", "AR2", "AR3"])
    lists.write_column("B1", ["Supplies", 230, 400])
    lists.hide()
    formats(ws, f, last)
    validations(ws, last)
    furniture(book, ws, f, last)
    summary(book, sums, last)
    names(book, last)
    board = book.add_chartsheet("Load chart")
    pie = book.add_chart({"type": "doughnut"})
    pie.add_series({"categories": f"={SHEET}!$A$7:$A$12", "values": f"={SHEET}!$F$7:$F$12", "points": [{"fill": {"color": "#6A8CAF"}}]})
    board.set_chart(pie)
    book.close()


def schedule(ws, f, data, last):
    ws.merge_range("A1:G1", "HARROWGILL VIADUCT · ARCH LIGHTING", f({"bold": True, "font_size": 16, "font_color": "#28465A"}))
    ws.write_rich_string("A2", "Revision ", f({"bold": True}), "D", " in place of ", f({"font_strikeout": True}), "C")
    ws.write("A3", "Lengths in metres", f({"italic": True}))
    number, whole = f({"num_format": '0.00" m"'}), f({"locked": False})
    for r, row in enumerate(data, HEAD):
        for c, value in enumerate(row):
            if HEADERS[c] == "Start" and row[3] > 1:
                ws.write_formula(r, c, f"=J{r}+K{r}", whole, value)
            elif HEADERS[c] == "Span":
                ws.write_number(r, c, value, number)
            else:
                ws.write(r, c, value, whole)
        ws.write_number(r, 12, (r * 37 % 100) / 100, f({"num_format": "0%"}))
        ws.write_number(r, 13, round(0.2 + r % 7 * 0.41, 2), f({"num_format": "[Red][>2]0.00;[Blue]0.00"}))
        ws.write_datetime(r, 14, dt.datetime(2024, 3, 1) + dt.timedelta(days=r), f({"num_format": "d mmm yyyy"}))
        ws.add_sparkline(r, 11, {"range": f"{SHEET}!M{r + 1}:N{r + 1}", "type": ["line", "column", "win_loss"][r % 3], "markers": True, "series_color": "#28465A"})
        ws.set_row(r, 16, None, {"level": 1 if row[3] > 1 else 0})
    ws.write(last, 0, "Total", f({"bold": True, "top": 1}))
    ws.write_formula(last, 5, f"=SUM(F{HEAD + 1}:F{last})", f({"bold": True, "top": 1}), sum(row[5] for row in data))
    ws.write_array_formula(last, 4, last, 4, f"{{=SUM(E{HEAD + 1}:E{last}*1)}}", f({"num_format": '0.00" m"'}), sum(row[4] for row in data))
    ws.write(last + 2, 0, "Note: arches are counted from the east bank.")


def formats(ws, f, last):
    pink, green = f({"bg_color": "#F6D5C9", "font_color": "#7A1F10"}), f({"bg_color": "#D7EBD3"})
    area = lambda column: (HEAD, column, last - 1, column)
    for column, rule in [
        (12, {"type": "data_bar", "data_bar_2010": True, "bar_solid": True, "bar_negative_color": "#AA3333", "bar_axis_position": "middle"}),
        (12, {"type": "icon_set", "icon_style": "4_traffic_lights", "reverse_icons": True}),
        (5, {"type": "data_bar", "bar_color": "#88AACC"}),
        (13, {"type": "3_color_scale", "mid_type": "percentile", "mid_value": 40}), (4, {"type": "2_color_scale"}),
        (9, {"type": "top", "value": 3, "format": green}), (9, {"type": "bottom", "value": 10, "criteria": "%", "format": pink}),
        (5, {"type": "average", "criteria": "above", "format": green}), (0, {"type": "duplicate", "format": pink}),
        (0, {"type": "unique", "format": f({"italic": True})}), (1, {"type": "text", "criteria": "begins with", "value": "AR2", "format": green}),
        (14, {"type": "time_period", "criteria": "last 7 days", "format": green}), (6, {"type": "blanks", "format": pink}),
        (7, {"type": "errors", "format": pink}), (7, {"type": "cell", "criteria": "not between", "minimum": 200, "maximum": 240, "format": pink, "stop_if_true": True}),
        (2, {"type": "formula", "criteria": f"=$C{HEAD + 1}<>$C{HEAD}", "format": f({"top": 2})}),
    ]:
        ws.conditional_format(*area(column), rule)
    ws.conditional_format(HEAD, 10, last - 1, 10, {"type": "cell", "criteria": ">", "value": 8, "format": pink, "multi_range": f"K7:K{last} B7:B{last}"})


def validations(ws, last):
    ws.data_validation(f"B{HEAD + 1}:B1048576", {"validate": "list", "source": "=Lists!$A$2:$A$4", "input_title": "Type", "input_message": "As in Lists"})
    ws.data_validation(f"H{HEAD + 1}:H{last}", {"validate": "list", "source": "=Lists!$B$2:$B$3"})
    ws.data_validation(f"E{HEAD + 1}:E{last}", {"validate": "decimal", "criteria": "between", "minimum": 0, "maximum": 60, "error_type": "warning"})
    ws.data_validation(f"I{HEAD + 1}:I{last}", {"validate": "custom", "value": f"=AND(I{HEAD + 1}>=1,I{HEAD + 1}<=63999)"})
    ws.data_validation(f"O{HEAD + 1}:O{last}", {"validate": "date", "criteria": ">", "value": dt.date(2024, 1, 1)})
    ws.data_validation(f"A{HEAD + 1}:A{last}", {"validate": "length", "criteria": "<=", "value": 12})


def furniture(book, ws, f, last):
    ws.set_column("A:A", 10, f({"font_name": "Consolas"}))
    ws.set_column("L:L", 14, f({"bg_color": "#F8F8F2"}))
    ws.set_column("P:P", 3, f({"bg_color": "#EEEEEE"}))
    ws.set_column("M:O", 10, None, {"level": 1})
    ws.add_table(f"Q{HEAD}:S{HEAD + 4}", {"name": "SpareStock", "total_row": True, "style": "Table Style Medium 4", "columns": [
        {"header": "Item", "total_string": "All"}, {"header": "Held", "total_function": "sum"},
        {"header": "Half", "formula": "=[@Held]/2", "total_function": "average"}],
        "data": [["jumper 2 m", 6, 3], ["jumper 5 m", 4, 2], ["terminator", 3, 1.5]]})
    ws.freeze_panes(HEAD, 2)
    ws.autofilter(HEAD - 1, 0, last - 1, 14)
    ws.filter_column_list("C", [run[0] for run in RUNS])
    ws.set_landscape()
    ws.set_paper(8)
    ws.repeat_rows(HEAD - 1)
    ws.repeat_columns("A:B")
    ws.print_area(0, 0, last + 2, 14)
    ws.set_h_pagebreaks([15, 30])
    ws.set_v_pagebreaks([11])
    ws.set_print_scale(80)
    picture = png(48, 40, arch)
    ws.set_header("&L&G&C&\"Calibri,Bold\"Harrowgill&R&D", {"image_left": "head.png", "image_data_left": io.BytesIO(picture)})
    ws.set_footer("&L&F&C&P/&N&R&G", {"image_right": "foot.png", "image_data_right": io.BytesIO(picture)})
    ws.insert_image("M1", "stamp.png", {"image_data": io.BytesIO(picture), "url": "https://example.org/harrowgill", "description": "Arch"})
    ws.write_url("I2", "internal:'Sums ''n'' charts'!A1", string="sums")
    ws.write_url("I3", "https://example.org/harrowgill?rev=D&sheet=1", string="register", tip="Drawing register")
    ws.write_url("I4", "mailto:desk@example.org", string="desk")
    ws.write_comment("A8", "Arch 1 is listed: no drilling", {"author": "Desk", "visible": True, "color": "#FFF4CC"})
    ws.write_comment("J9", "Programmer asked for 9")
    ws.insert_button("K2", {"caption": "Count", "width": 60, "height": 20})
    ws.insert_textbox(f"C{last + 5}", "Arches are counted\nfrom the east bank", {"fill": {"color": "#FFF9E0"}, "line": {"dash_type": "dash"}})
    ws.protect("", {"format_cells": True, "insert_columns": True, "autofilter": True, "objects": True})
    ws.unprotect_range("B7:B30", "TypesOpen")
    ws.ignore_errors({"number_stored_as_text": "A1:A40"})
    ws.set_tab_color("#28465A")
    ws.outline_settings(True, False, False, True)


def summary(book, sums, last):
    sums.write_row("A1", ["Run", "W", "m"])
    for r, (run, _, count, lead, span, watts, *_rest) in enumerate(RUNS, 1):
        sums.write(r, 0, run)
        sums.write_formula(r, 1, f"=SUMIF({SHEET}!$C$7:$C${last},A{r + 1},{SHEET}!$F$7:$F${last})", None, count * watts)
        sums.write_formula(r, 2, f"=SUMIF({SHEET}!$C$7:$C${last},A{r + 1},{SHEET}!$E$7:$E${last})", None, lead + (count - 1) * span)
    where = "='Sums ''n'' charts'!"
    for n, kind in enumerate(["column", "bar", "line", "pie", "scatter", "area", "radar"]):
        chart = book.add_chart({"type": kind})
        chart.add_series({"name": where + "$B$1", "categories": where + "$A$2:$A$4", "values": where + "$B$2:$B$4", "data_labels": {"value": True},
                          **({"trendline": {"type": "linear"}} if kind in ("line", "scatter") else {})})
        if kind == "column":
            second = book.add_chart({"type": "line"})
            second.add_series({"values": where + "$C$2:$C$4", "y2_axis": True})
            chart.combine(second)
        sums.insert_chart(1 + n // 3 * 12, 4 + n % 3 * 6, chart, {"x_scale": 0.7, "y_scale": 0.7, "object_position": 1 + n % 3})
    stock = book.add_chart({"type": "column", "subtype": "percent_stacked"})
    stock.add_series({"values": f"={SHEET}!$F$7:$F${last}"})
    sums.insert_chart("E38", stock, {"x_scale": 0.6, "y_scale": 0.6})


def names(book, last):
    book.define_name("Tags", f"={SHEET}!$A$7:$A${last}")
    book.define_name("DropLimit", "=3")
    book.define_name("Stage", '="for review"')
    book.define_name("LastTag", f"=INDEX({SHEET}!$A:$A,COUNTA({SHEET}!$A:$A))")
    book.define_name(f"{SHEET}!Loads", f"={SHEET}!$F$7:$F${last}")
    book.define_name("Lists!Loads", "=Lists!$B$2:$B$3")
