"""openpyxl, then parts put in by hand: a table over the schedule, 1904 dates, threaded comments, calcChain,
shared formulas, custom XML, custom views, conditional formats and validations of the 2009 extension."""

import datetime as dt
import io
import re

from openpyxl import Workbook
from openpyxl.chart import AreaChart3D, BarChart3D, BubbleChart, PieChart3D, Reference, Series, StockChart
from openpyxl.comments import Comment
from openpyxl.drawing.image import Image
from openpyxl.formatting.rule import DataBarRule, FormulaRule, IconSetRule
from openpyxl.styles import Alignment, Border, Font, GradientFill, NamedStyle, PatternFill, Protection, Side
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.pagebreak import Break, ColBreak
from openpyxl.worksheet.table import Table, TableStyleInfo

from kit import arch, png, rewrite, save_openpyxl
from schedule import rows, truth

NAME = "lowmoor-terminal"
SHEET = "Ferry & quay"
HEAD = 4
RUNS = [
    ("T1", "FB1", 6, 12, 9.5, 58, 0.94, 208, 1, 6),
    ("T2", "FB1", 6, 20, 9.5, 58, 0.94, 208, 1, 6),
    ("T3", "FB2", 4, 7.5, 14, 102, 0.97, 277, 2, 10),
]
WHO = "{5B1A0C52-0E35-4B62-9A3F-0D2C7E1F4A01}"
THREADS = [("A6", "{0F7B2C11-3E44-4A55-8B66-1C2D3E4F5A01}", None, "Is this one still on the gangway?"),
           ("A6", "{0F7B2C11-3E44-4A55-8B66-1C2D3E4F5A02}", "{0F7B2C11-3E44-4A55-8B66-1C2D3E4F5A01}", "Yes, moved 300 mm north.")]


def make(folder):
    data = rows("Q-", RUNS)
    last = HEAD + len(data)
    headers = truth(folder, NAME, SHEET, HEAD, "ft", list(enumerate(data, HEAD + 1)), [(last + 2, "note")], profile="north-america",
                    extra_columns=["Due", "Twice W"], writer="openpyxl, parts put in by hand")
    book = Workbook()
    book.epoch = CALENDAR_MAC_1904
    ws = book.active
    ws.title = SHEET
    schedule(book, ws, headers, data, last)
    furnish(book, ws, last)
    others(book, last)
    path = folder / f"{NAME}.xlsx"
    save_openpyxl(book, path)
    extra(path, data, last)


def schedule(book, ws, headers, data, last):
    ws["A1"] = "LOWMOOR FERRY TERMINAL"
    ws["A2"] = "Revision 3"
    ws.merge_cells("A1:D1")
    ws["A1"].fill = GradientFill(degree=90, stop=("FFFFFF", "BFD4DB"))
    for c, header in enumerate(headers + ["Due"], 1):
        ws.cell(HEAD, c, header)
    for r, row in enumerate(data, HEAD + 1):
        for c, value in enumerate(row, 1):
            ws.cell(r, c, value)
        ws.cell(r, 12, dt.date(2024, 4, 1) + dt.timedelta(days=r)).number_format = "yyyy-mm-dd"
    ws.cell(last + 2, 1, "Note: quay numbers run upstream.")
    table = Table(displayName="QuayList", ref=f"A{HEAD}:L{last}", tableStyleInfo=TableStyleInfo(name="TableStyleMedium7", showRowStripes=True))
    ws.add_table(table)
    ws.cell(1, 14, "=SUM(Q5:Q12)")
    for r in range(HEAD + 1, last + 1):
        ws.cell(r, 15, f"=F{r}*2")
    ws.cell(HEAD, 15, "Twice W")


def furnish(book, ws, last):
    quay = NamedStyle("Quay", font=Font(name="Cambria", size=10), alignment=Alignment(horizontal="center"), border=Border(left=Side(style="hair")), protection=Protection(locked=False))
    book.add_named_style(quay)
    for r in range(HEAD + 1, last + 1):
        ws.cell(r, 3).style = "Quay"
    ws.conditional_formatting.add(f"F{HEAD + 1}:F{last}", DataBarRule("min", 0, "max", 0, color="638EC6"))
    ws.conditional_formatting.add(f"G{HEAD + 1}:G{last}", IconSetRule("3Arrows", "percent", [0, 33, 67]))
    ws.conditional_formatting.add(f"A{HEAD + 1}:L{last}", FormulaRule(formula=[f'$C{HEAD + 1}="T2"'], fill=PatternFill("solid", bgColor="F3F0E2"), stopIfTrue=True))
    lists = DataValidation(type="list", formula1="Lists!$A$1:$A$3", allow_blank=True)
    lists.add("B1:B1048576")
    whole = DataValidation(type="whole", operator="between", formula1="1", formula2="512", showErrorMessage=True)
    whole.add(f"J{HEAD + 1}:J{last}")
    whole.add(f"I{HEAD + 1}:I{last}")
    for check in (lists, whole):
        ws.add_data_validation(check)
    ws["A7"].comment = Comment("Bollard 3 moved", "Desk", height=60, width=160)
    ws["M2"].hyperlink = "https://example.org/lowmoor#quay"
    ws["M2"] = "register"
    ws["M3"].hyperlink = "#'Lists'!A1"
    ws["M3"] = "lists"
    ws.freeze_panes = "C5"
    ws.print_area = f"A1:L{last + 2}"
    ws.print_title_rows, ws.print_title_cols = f"{HEAD}:{HEAD}", "A:A"
    ws.page_setup.paperSize, ws.page_setup.orientation, ws.page_setup.scale = 17, "landscape", 70
    ws.print_options.horizontalCentered = ws.print_options.gridLines = True
    ws.HeaderFooter.differentFirst = ws.HeaderFooter.differentOddEven = True
    ws.firstHeader.center.text, ws.oddHeader.left.text, ws.evenHeader.right.text = "First", "&A", "&D"
    ws.oddFooter.right.text, ws.oddFooter.right.size = "Page &P of &N", 8
    ws.row_breaks.append(Break(id=12))
    ws.col_breaks = ColBreak()
    ws.col_breaks.append(Break(id=8))
    ws.row_dimensions.group(HEAD + 2, HEAD + 6, outline_level=1)
    ws.column_dimensions.group("I", "K", outline_level=1)
    ws.column_dimensions["A"].width = 11
    ws.sheet_view.zoomScale, ws.sheet_view.showGridLines = 90, False
    ws.sheet_properties.tabColor = "7FA8B0"
    ws.add_image(Image(io.BytesIO(png(48, 40, arch))), "N2")


def others(book, last):
    lists = book.create_sheet("Lists")
    for r, name in enumerate(("FB1", "FB2", "FB3"), 1):
        lists.cell(r, 1, name)
    lists.sheet_state = "hidden"
    deep = book.create_sheet("Rates")
    deep["A1"] = 12.5
    deep.sheet_state = "veryHidden"
    charts = book.create_sheet("Charts")
    ws = book[SHEET]
    values = Reference(ws, min_col=6, min_row=HEAD, max_row=last)
    labels = Reference(ws, min_col=1, min_row=HEAD + 1, max_row=last)
    for n, kind in enumerate((BarChart3D, PieChart3D, AreaChart3D)):
        chart = kind()
        chart.add_data(values, titles_from_data=True)
        chart.set_categories(labels)
        chart.title, chart.height, chart.width = kind.__name__, 6, 10
        charts.add_chart(chart, f"A{1 + n * 14}")
    bubble = BubbleChart()
    column = lambda c: Reference(ws, min_col=c, min_row=HEAD + 1, max_row=last)
    bubble.series.append(Series(values=column(6), xvalues=column(4), zvalues=column(5), title="Span"))
    charts.add_chart(bubble, "H1")
    stock = StockChart()
    for c in (5, 6, 11):
        stock.series.append(Series(column(c), title=f"c{c}"))
    charts.add_chart(stock, "H18")
    for name, text in (("Quays", f"'{SHEET}'!$A${HEAD + 1}:$A${last}"), ("MaxDrop", "0.03"), ("Terminal", '"Lowmoor"'), ("Wide", f"OFFSET('{SHEET}'!$A$5,0,0,COUNTA('{SHEET}'!$A:$A)-3,2)")):
        book.defined_names.append(DefinedName(name, attr_text=text))
    book.defined_names.append(DefinedName("Local", localSheetId=0, attr_text=f"'{SHEET}'!$F$5"))
    book.defined_names.append(DefinedName("Secret", hidden=True, attr_text="Rates!$A$1"))


def extra(path, data, last):
    """Parts openpyxl does not write, put in by hand."""
    first = HEAD + 1

    def sheet(text):
        # One shared formula over O5:Olast, with cached values; an array formula in N1.
        for r in range(first, last + 1):
            shared = f'<f t="shared" ref="O{first}:O{last}" si="0">F{r}*2</f>' if r == first else '<f t="shared" si="0"/>'
            text, n = re.subn(rf'<c r="O{r}"[^>]*><f>F{r}\*2</f><v ?/></c>|<c r="O{r}"[^>]*><f>F{r}\*2</f><v></v></c>', f'<c r="O{r}">{shared}<v>{data[r - first][5] * 2}</v></c>', text)
            assert n == 1, r
        total = sum(row[5] for row in data)
        text, n = re.subn(r'<c r="N1"[^>]*><f>SUM\(Q5:Q12\)</f><v ?/?>(</v>)?</c>', f'<c r="N1"><f t="array" ref="N1">SUM(F{first}:F{last}*1)</f><v>{total}</v></c>', text)
        assert n == 1
        views = ('<customSheetViews><customSheetView guid="{8C6E8B0E-6B51-4F0C-9C35-6D0A4E5B7A11}" scale="75" showGridLines="0" hiddenColumns="1"><selection activeCell="A5" sqref="A5"/>'
                 '<pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></customSheetView></customSheetViews>')
        at = min(i for i in (text.find("<mergeCells"), text.find("<conditionalFormatting")) if i > 0)
        text = text[:at] + f'<protectedRanges><protectedRange sqref="B{first}:B{last}" name="TypesOpen"/></protectedRanges>' + views + text[at:]
        at = text.find("<drawing ")
        text = text[:at] + f'<ignoredErrors><ignoredError sqref="A{first}:A{last}" numberStoredAsText="1"/></ignoredErrors>' + text[at:]
        x14 = ('<extLst><ext uri="{78C0D931-6437-407d-A8EE-F0AAD7539E65}" xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:conditionalFormattings>'
               '<x14:conditionalFormatting xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:cfRule type="expression" priority="9" id="{3B7A5B1C-15C9-4C3C-8F0B-6F3C0B0E7D01}"><xm:f>COUNTIF(Lists!$A$1:$A$3,$B5)=0</xm:f>'
               f'<x14:dxf><fill><patternFill><bgColor rgb="FFF6D5C9"/></patternFill></fill></x14:dxf></x14:cfRule><xm:sqref>B{first}:B{last}</xm:sqref></x14:conditionalFormatting>'
               '<x14:conditionalFormatting xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:cfRule type="iconSet" priority="10" id="{3B7A5B1C-15C9-4C3C-8F0B-6F3C0B0E7D02}"><x14:iconSet iconSet="3Stars" custom="1">'
               '<x14:cfvo type="percent"><xm:f>0</xm:f></x14:cfvo><x14:cfvo type="num"><xm:f>10</xm:f></x14:cfvo><x14:cfvo type="num"><xm:f>12</xm:f></x14:cfvo><x14:cfIcon iconSet="3Stars" iconId="0"/><x14:cfIcon iconSet="NoIcons" iconId="0"/><x14:cfIcon iconSet="3Flags" iconId="2"/>'
               f'</x14:iconSet></x14:cfRule><xm:sqref>E{first}:E{last}</xm:sqref></x14:conditionalFormatting></x14:conditionalFormattings></ext>'
               '<ext uri="{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}" xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:dataValidations count="1" xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main">'
               f'<x14:dataValidation type="list" allowBlank="1" showErrorMessage="1"><x14:formula1><xm:f>Lists!$A$1:$A$3</xm:f></x14:formula1><xm:sqref>N5:N{last}</xm:sqref></x14:dataValidation></x14:dataValidations></ext></extLst>')
        return text.replace("</worksheet>", x14 + "</worksheet>")

    def book(text):
        view = '<customWorkbookViews><customWorkbookView name="For print" guid="{8C6E8B0E-6B51-4F0C-9C35-6D0A4E5B7A11}" windowWidth="1200" windowHeight="700" activeSheetId="1"/></customWorkbookViews>'
        text, n = re.subn(r"(<calcPr[^>]*/>)", r'<calcPr calcId="191029"/>' + view, text)
        assert n == 1
        return text

    rel = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"

    def edit(name, body):
        text = body.decode() if name.endswith((".xml", ".rels")) else None
        if name == "xl/worksheets/sheet1.xml":
            text = sheet(text)
        elif name == "xl/workbook.xml":
            text = book(text)
        elif name == "xl/_rels/workbook.xml.rels":
            text = add_rels(text, [("rId901", f"{rel}/calcChain", "calcChain.xml"), ("rId902", "http://schemas.microsoft.com/office/2017/10/relationships/person", "persons/person.xml"), ("rId903", f"{rel}/customXml", "../customXml/item1.xml")])
        elif name == "_rels/.rels":
            text = add_rels(text, [("rId901", f"{rel}/custom-properties", "docProps/custom.xml")])
        elif name == "xl/worksheets/_rels/sheet1.xml.rels":
            text = add_rels(text, [("rId901", "http://schemas.microsoft.com/office/2017/10/relationships/threadedComment", "../threadedComments/threadedComment1.xml")])
        elif name == "[Content_Types].xml":
            text = text.replace("</Types>", "".join(f'<Override PartName="{p}" ContentType="{t}"/>' for p, t in (
                ("/xl/calcChain.xml", "application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml"), ("/xl/persons/person.xml", "application/vnd.ms-excel.person+xml"),
                ("/xl/threadedComments/threadedComment1.xml", "application/vnd.ms-excel.threadedcomments+xml"), ("/docProps/custom.xml", "application/vnd.openxmlformats-officedocument.custom-properties+xml"),
                ("/customXml/itemProps1.xml", "application/vnd.openxmlformats-officedocument.customXmlProperties+xml"))) + "</Types>")
        elif name == "xl/comments/comment1.xml":
            # The note an older program shows in place of the thread.
            text = text.replace("</authors>", f"<author>tc={THREADS[0][1]}</author></authors>").replace("<commentList>", f'<commentList><comment ref="A6" authorId="1" shapeId="0"><text><t>[Threaded comment] {THREADS[0][3]} Reply: {THREADS[1][3]}</t></text></comment>')
        return text.encode() if text is not None else body

    rewrite(path, edit, add=new_parts(first, last))


def add_rels(text, rels):
    return text.replace("</Relationships>", "".join(f'<Relationship Id="{i}" Type="{t}" Target="{target}"/>' for i, t, target in rels) + "</Relationships>")


def new_parts(first, last):
    head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    threads = "".join(f'<threadedComment ref="{ref}" dT="2024-03-14T09:3{n}:00.00" personId="{WHO}" id="{i}"' + (f' parentId="{parent}"' if parent else "") + f"><text>{text}</text></threadedComment>" for n, (ref, i, parent, text) in enumerate(THREADS))
    tc = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"
    return [(name, (head + text).encode()) for name, text in [
        ("xl/calcChain.xml", f'<calcChain xmlns="{main}"><c r="N1" i="1" a="1"/>' + "".join(f'<c r="O{r}" i="1"/>' for r in range(first, last + 1)) + "</calcChain>"),
        ("xl/persons/person.xml", f'<personList xmlns="{tc}"><person displayName="Desk" id="{WHO}" userId="desk" providerId="None"/></personList>'),
        ("xl/threadedComments/threadedComment1.xml", f'<ThreadedComments xmlns="{tc}">{threads}</ThreadedComments>'),
        ("docProps/custom.xml", '<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties" xmlns:vt="http://schemas.openxmlformats.org/officeDocument/2006/docPropsVTypes"><property fmtid="{D5CDD505-2E9C-101B-9397-08002B2CF9AE}" pid="2" name="Berth"><vt:lpwstr>7</vt:lpwstr></property></Properties>'),
        ("customXml/item1.xml", '<issue xmlns="urn:example:lowmoor"><rev>3</rev><for>review</for></issue>'),
        ("customXml/itemProps1.xml", '<ds:datastoreItem ds:itemID="{A4C9C0F1-52C0-4C58-8E5C-2B8B0C2D9E01}" xmlns:ds="http://schemas.openxmlformats.org/officeDocument/2006/customXml"><ds:schemaRefs><ds:schemaRef ds:uri="urn:example:lowmoor"/></ds:schemaRefs></ds:datastoreItem>'),
        ("customXml/_rels/item1.xml.rels", '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/customXmlProps" Target="itemProps1.xml"/></Relationships>'),
    ]]
