"""Written by hand: legal XML that few writers make. Prefixed main namespace, rows and cells without r=, dates as
t="d", part names of its own, absolute targets, a form control, printer settings, unknown extensions."""

from xml.sax.saxutils import escape

from kit import arch, pack, png
from schedule import rows, truth

NAME = "brackwell-quay"
SHEET = "Quay & ship's deck"
HEAD = 3
RUNS = [("B1", "QL1", 5, 2.5, 3.2, 34, 0.93, 230, 1, 5), ("B2", "QL2", 5, 4.0, 3.2, 21.5, 0.9, 230, 1, 3)]
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PKG = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
DRAW = "http://schemas.openxmlformats.org/drawingml/2006"
X14 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
HEADLINE = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<!-- written by hand -->\n'


class Strings:
    def __init__(self):
        self.items = ['<x:si><x:r><x:t xml:space="preserve">BRACKWELL </x:t></x:r><x:r><x:rPr><x:b/><x:strike/><x:sz val="14"/></x:rPr><x:t>PIER</x:t></x:r>'
                      '<x:r><x:rPr><x:b/><x:sz val="14"/></x:rPr><x:t xml:space="preserve"> QUAY</x:t></x:r><x:phoneticPr fontId="0"/></x:si>']

    def at(self, text):
        item = f"<x:si><x:t>{escape(text)}</x:t></x:si>"
        if item not in self.items:
            self.items.append(item)
        return self.items.index(item)

    def xml(self):
        return f'<x:sst xmlns:x="{MAIN}" uniqueCount="{len(self.items)}">{"".join(self.items)}</x:sst>'


def cell(strings, value, style=0, where=""):
    style = (f' s="{style}"' if style else "") + (f' r="{where}"' if where else "")
    if value is None:
        return f"<x:c{style}/>"
    if isinstance(value, str):
        return f'<x:c{style} t="s"><x:v>{strings.at(value)}</x:v></x:c>'
    return f"<x:c{style}><x:v>{value}</x:v></x:c>"


def sheet(strings, headers, data):
    lines = ['<x:row ht="24" customHeight="1"><x:c t="s"><x:v>0</x:v></x:c></x:row>', "<x:row/>"]
    lines.append('<x:row s="2" customFormat="1">' + "".join(cell(strings, h, 2) for h in headers + ["Wet", "Inspected"]) + cell(strings, "Stores", 2, "O3") + "</x:row>")
    for n, row in enumerate(data):
        at = HEAD + 1 + n
        cells = "".join(cell(strings, v, 1 if i == 4 else 0) for i, v in enumerate(row))
        cells += '<x:c t="b"><x:v>1</x:v></x:c>' + f'<x:c s="3" t="d"><x:v>2024-03-{10 + n:02d}T00:00:00</x:v></x:c>'
        if n < 3:
            cells += cell(strings, ["jumper", "terminator", "cap"][n], 0, f"O{at}") + f'<x:c r="P{at}"><x:f>ROUND(3*{n + 1}/2,0)</x:f><x:v>{[2, 3, 5][n]}</x:v></x:c>'
        lines.append(f"<x:row>{cells}</x:row>")
    last = HEAD + len(data)
    total = f'<x:c r="F{last + 2}" s="2"><x:f t="array" ref="F{last + 2}">SUM(F{HEAD + 1}:F{last}*1)</x:f><x:v>{sum(r[5] for r in data)}</x:v></x:c>'
    lines.append(f'<x:row r="{last + 2}">{cell(strings, "Total", 2)}{total}</x:row>')
    lines.append(f'<x:row r="{last + 4}">{cell(strings, "Note: deck numbers from the slip.")}</x:row>')
    return f'''<x:worksheet xmlns:x="{MAIN}" xmlns:rel="{REL}" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" xmlns:own="urn:example:brackwell" mc:Ignorable="own">
<x:sheetPr codeName="Deck"><x:outlinePr summaryBelow="0"/></x:sheetPr>
<x:sheetViews><x:sheetView workbookViewId="0" view="pageBreakPreview"><x:pane ySplit="3" topLeftCell="A4" state="frozen"/></x:sheetView></x:sheetViews>
<x:sheetFormatPr defaultRowHeight="15" customHeight="1" own:grid="2"/>
<x:cols><x:col min="1" max="1" width="12" style="4" customWidth="1"/><x:col min="5" max="5" width="9" style="1"/><x:col min="13" max="13" width="12"/><x:col min="14" max="16384" width="9" style="5"/></x:cols>
<x:sheetData>{"".join(lines)}</x:sheetData>
<x:sheetProtection sheet="0" objects="1"/>
<x:conditionalFormatting sqref="F{HEAD + 1}:F{last}"><x:cfRule type="dataBar" priority="1"><x:dataBar><x:cfvo type="min"/><x:cfvo type="max"/><x:color rgb="FF88AA99"/></x:dataBar><x:extLst><x:ext xmlns:x14="{X14}" uri="{{B025F937-C7B1-47D3-B67F-A62EFF666E3E}}"><x14:id>{{7D0F5C11-0A2B-4C3D-8E4F-5A6B7C8D9E01}}</x14:id></x:ext></x:extLst></x:cfRule></x:conditionalFormatting>
<x:dataValidations count="1"><x:dataValidation type="list" sqref="B1:B1048576" allowBlank="1"><x:formula1>QuayTypes</x:formula1></x:dataValidation></x:dataValidations>
<x:hyperlinks><x:hyperlink ref="M1" location="'Lists &amp; more'!A1" display="lists"/><x:hyperlink ref="L1" rel:id="web"/></x:hyperlinks>
<x:printOptions headings="1"/><x:pageMargins left="0.5" right="0.5" top="0.5" bottom="0.5" header="0.2" footer="0.2"/>
<x:pageSetup paperSize="9" orientation="landscape" rel:id="printer"/>
<x:headerFooter><x:oddHeader>&amp;LBrackwell &amp;&amp; quay</x:oddHeader></x:headerFooter>
<x:colBreaks count="1" manualBreakCount="1"><x:brk id="13" max="1048575" man="1"/></x:colBreaks>
<x:customProperties><x:customProperty name="origin" rel:id="origin"/></x:customProperties>
<x:drawing rel:id="art"/><x:legacyDrawing rel:id="vml"/>
<mc:AlternateContent><mc:Choice Requires="x14" xmlns:x14="{X14}"><x:controls><mc:AlternateContent><mc:Choice Requires="x14"><x:control shapeId="1026" rel:id="box" name="Checked"><x:controlPr defaultSize="0" autoFill="0" autoLine="0"><x:anchor moveWithCells="1"><x:from><xd:col xmlns:xd="{DRAW}/spreadsheetDrawing">6</xd:col><xd:colOff xmlns:xd="{DRAW}/spreadsheetDrawing">0</xd:colOff><xd:row xmlns:xd="{DRAW}/spreadsheetDrawing">0</xd:row><xd:rowOff xmlns:xd="{DRAW}/spreadsheetDrawing">0</xd:rowOff></x:from><x:to><xd:col xmlns:xd="{DRAW}/spreadsheetDrawing">8</xd:col><xd:colOff xmlns:xd="{DRAW}/spreadsheetDrawing">0</xd:colOff><xd:row xmlns:xd="{DRAW}/spreadsheetDrawing">1</xd:row><xd:rowOff xmlns:xd="{DRAW}/spreadsheetDrawing">0</xd:rowOff></x:to></x:anchor></x:controlPr></x:control></mc:Choice></mc:AlternateContent></x:controls></mc:Choice></mc:AlternateContent>
<x:tableParts count="1"><x:tablePart rel:id="stores"/></x:tableParts>
<x:extLst><x:ext uri="{{78C0D931-6437-407d-A8EE-F0AAD7539E65}}" xmlns:x14="{X14}"><x14:conditionalFormattings><x14:conditionalFormatting xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:cfRule type="dataBar" id="{{7D0F5C11-0A2B-4C3D-8E4F-5A6B7C8D9E01}}"><x14:dataBar minLength="0" maxLength="100" gradient="0" direction="rightToLeft"><x14:cfvo type="autoMin"/><x14:cfvo type="autoMax"/><x14:negativeFillColor rgb="FFAA3333"/></x14:dataBar></x14:cfRule><xm:sqref>F{HEAD + 1}:F{last}</xm:sqref></x14:conditionalFormatting></x14:conditionalFormattings></x:ext><x:ext uri="{{0C9E2B53-41C7-4B2E-9E6B-3C6A5C0D1F01}}"><own:survey tide="low"/></x:ext></x:extLst>
</x:worksheet>''', last


STYLES = f'''<x:styleSheet xmlns:x="{MAIN}"><x:numFmts count="1"><x:numFmt numFmtId="164" formatCode="0.0&quot; m&quot;"/></x:numFmts>
<x:fonts count="2"><x:font><x:sz val="11"/><x:name val="Calibri"/></x:font><x:font><x:b/><x:sz val="11"/><x:color theme="4"/><x:name val="Calibri"/></x:font></x:fonts>
<x:fills count="3"><x:fill><x:patternFill patternType="none"/></x:fill><x:fill><x:patternFill patternType="gray125"/></x:fill><x:fill><x:patternFill patternType="solid"><x:fgColor rgb="FFF1F5EE"/></x:patternFill></x:fill></x:fills>
<x:borders count="1"><x:border/></x:borders><x:cellStyleXfs count="1"><x:xf/></x:cellStyleXfs>
<x:cellXfs count="6"><x:xf/><x:xf numFmtId="164" applyNumberFormat="1"/><x:xf fontId="1" applyFont="1"/><x:xf numFmtId="14" applyNumberFormat="1"/><x:xf numFmtId="49" fontId="1" applyNumberFormat="1" quotePrefix="1"/><x:xf fillId="2" applyFill="1"/></x:cellXfs>
<x:colors><x:mruColors><x:color rgb="FF88AA99"/></x:mruColors></x:colors></x:styleSheet>'''

VML = '''<xml xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" xmlns:x="urn:schemas-microsoft-com:office:excel">
<v:shapetype id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"/><v:shapetype id="_x0000_t201" coordsize="21600,21600" o:spt="201" path="m,l,21600r21600,l21600,xe"/>
<v:shape id="_x0000_s1025" type="#_x0000_t202" style="position:absolute;margin-left:90pt;margin-top:20pt;width:96pt;height:48pt;visibility:hidden" fillcolor="#ffffe1"><x:ClientData ObjectType="Note"><x:MoveWithCells/><x:Anchor>2, 10, 3, 4, 4, 10, 6, 4</x:Anchor><x:Row>4</x:Row><x:Column>0</x:Column></x:ClientData></v:shape>
<v:shape id="_x0000_s1026" type="#_x0000_t201" style="position:absolute;margin-left:300pt;margin-top:2pt;width:90pt;height:18pt" filled="f" stroked="f"><v:textbox><div style="text-align:left"><font face="Tahoma" size="160">Checked</font></div></v:textbox><x:ClientData ObjectType="Checkbox"><x:Anchor>6, 0, 0, 0, 8, 0, 1, 0</x:Anchor><x:FmlaLink>$R$1</x:FmlaLink></x:ClientData></v:shape></xml>'''


def art():
    anchor = lambda c, r: f"<dr:from><dr:col>{c}</dr:col><dr:colOff>0</dr:colOff><dr:row>{r}</dr:row><dr:rowOff>0</dr:rowOff></dr:from>"
    return f'''<dr:wsDr xmlns:dr="{DRAW}/spreadsheetDrawing" xmlns:dm="{DRAW}/main" xmlns:rel="{REL}">
<dr:oneCellAnchor>{anchor(17, 1)}<dr:ext cx="457200" cy="381000"/><dr:pic><dr:nvPicPr><dr:cNvPr id="2" name="Stamp" descr="Arch"/><dr:cNvPicPr/></dr:nvPicPr><dr:blipFill><dm:blip rel:embed="pic"/><dm:stretch><dm:fillRect/></dm:stretch></dr:blipFill><dr:spPr><dm:xfrm><dm:off x="0" y="0"/><dm:ext cx="457200" cy="381000"/></dm:xfrm><dm:prstGeom prst="rect"><dm:avLst/></dm:prstGeom></dr:spPr></dr:pic><dr:clientData/></dr:oneCellAnchor>
<dr:oneCellAnchor>{anchor(17, 5)}<dr:ext cx="3600000" cy="1800000"/><dr:graphicFrame><dr:nvGraphicFramePr><dr:cNvPr id="3" name="Loads"/><dr:cNvGraphicFramePr/></dr:nvGraphicFramePr><dr:xfrm><dm:off x="0" y="0"/><dm:ext cx="0" cy="0"/></dr:xfrm><dm:graphic><dm:graphicData uri="{DRAW}/chart"><ch:chart xmlns:ch="{DRAW}/chart" rel:id="loads"/></dm:graphicData></dm:graphic></dr:graphicFrame><dr:clientData/></dr:oneCellAnchor>
<dr:absoluteAnchor><dr:pos x="100000" y="5000000"/><dr:ext cx="1200000" cy="400000"/><dr:sp><dr:nvSpPr><dr:cNvPr id="4" name="North"/><dr:cNvSpPr/></dr:nvSpPr><dr:spPr><dm:prstGeom prst="upArrow"><dm:avLst/></dm:prstGeom></dr:spPr><dr:txBody><dm:bodyPr/><dm:p><dm:r><dm:t>N</dm:t></dm:r></dm:p></dr:txBody></dr:sp><dr:clientData/></dr:absoluteAnchor></dr:wsDr>'''


def chart(last):
    where = escape("'Quay & ship''s deck'!")
    return f'''<ch:chartSpace xmlns:ch="{DRAW}/chart"><ch:chart><ch:plotArea><ch:layout/><ch:barChart><ch:barDir val="bar"/><ch:grouping val="clustered"/><ch:ser><ch:idx val="0"/><ch:order val="0"/><ch:cat><ch:strRef><ch:f>{where}$A${HEAD + 1}:$A${last}</ch:f></ch:strRef></ch:cat><ch:val><ch:numRef><ch:f>{where}$F${HEAD + 1}:$F${last}</ch:f></ch:numRef></ch:val></ch:ser><ch:axId val="11"/><ch:axId val="12"/></ch:barChart>
<ch:catAx><ch:axId val="11"/><ch:scaling/><ch:delete val="0"/><ch:axPos val="l"/><ch:crossAx val="12"/></ch:catAx><ch:valAx><ch:axId val="12"/><ch:scaling/><ch:delete val="0"/><ch:axPos val="b"/><ch:crossAx val="11"/></ch:valAx></ch:plotArea></ch:chart></ch:chartSpace>'''


def rels(*items):
    body = "".join(f'<Relationship Id="{i}" Type="{t if "://" in t else REL + "/" + t}" Target="{target}"' + (' TargetMode="External"' if target.startswith("http") else "") + "/>" for i, t, target in items)
    return f'<Relationships xmlns="{PKG}/relationships">{body}</Relationships>'


def make(folder):
    data = rows("BQ", RUNS)
    last = HEAD + len(data)
    headers = truth(folder, NAME, SHEET, HEAD, "m", list(enumerate(data, HEAD + 1)), [(last + 2, "subtotal"), (last + 4, "note")],
                    extra_columns=["Wet", "Inspected", "Stores"], writer="hand-written package")
    strings = Strings()
    page, last = sheet(strings, headers, data)
    quoted = escape("'Quay & ship''s deck'!")
    book = f'''<x:workbook xmlns:x="{MAIN}" xmlns:rel="{REL}"><x:workbookPr codeName="Book"/><x:bookViews><x:workbookView activeTab="0"/></x:bookViews>
<x:sheets><x:sheet name="{escape(SHEET)}" sheetId="7" rel:id="deck"/><x:sheet name="Lists &amp; more" sheetId="3" state="hidden" rel:id="lists"/></x:sheets>
<x:definedNames><x:definedName name="_xlnm.Print_Area" localSheetId="0">{quoted}$A$1:$M${last + 4}</x:definedName><x:definedName name="_xlnm.Print_Titles" localSheetId="0">{quoted}$A:$A,{quoted}$3:$3</x:definedName><x:definedName name="QuayTypes">'Lists &amp; more'!$A$1:$A$3</x:definedName><x:definedName name="Tide" comment="metres">4.35</x:definedName><x:definedName name="Local" localSheetId="1">'Lists &amp; more'!$A$1</x:definedName></x:definedNames></x:workbook>'''
    lists = f'<x:worksheet xmlns:x="{MAIN}"><x:sheetData>' + "".join(f"<x:row>{cell(strings, t)}</x:row>" for t in ("QL1", "QL2", "QL3")) + "</x:sheetData></x:worksheet>"
    table = f'<x:table xmlns:x="{MAIN}" id="4" name="Stores" displayName="Stores" ref="O4:P6" headerRowCount="0"><x:tableColumns count="2"><x:tableColumn id="1" name="Column1"/><x:tableColumn id="2" name="Column2"/></x:tableColumns></x:table>'
    notes = f'<x:comments xmlns:x="{MAIN}"><x:authors><x:author>Desk</x:author></x:authors><x:commentList><x:comment ref="A5" authorId="0"><x:text><x:r><x:t>Ladder here</x:t></x:r></x:text></x:comment></x:commentList></x:comments>'
    types = {"/wb/book.xml": f"{KIND}.sheet.main+xml", "/wb/pages/deck.xml": f"{KIND}.worksheet+xml", "/wb/pages/lists.xml": f"{KIND}.worksheet+xml", "/xl/styles.xml": f"{KIND}.styles+xml",
             "/wb/words.xml": f"{KIND}.sharedStrings+xml", "/wb/stores.xml": f"{KIND}.table+xml", "/wb/notes.xml": f"{KIND}.comments+xml", "/wb/art/art.xml": "application/vnd.openxmlformats-officedocument.drawing+xml",
             "/wb/art/loads.xml": "application/vnd.openxmlformats-officedocument.drawingml.chart+xml", "/wb/box.xml": "application/vnd.ms-excel.controlproperties+xml", "/wb/origin.bin": f"{KIND}.customProperty"}
    content = (f'<Types xmlns="{PKG}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="PNG" ContentType="image/png"/><Default Extension="vml" ContentType="application/vnd.openxmlformats-officedocument.vmlDrawing"/>'
               f'<Default Extension="bin" ContentType="{KIND}.printerSettings"/>' + "".join(f'<Override PartName="{p}" ContentType="{t}"/>' for p, t in types.items()) + "</Types>")
    parts = [
        ("wb/pages/deck.xml", page), ("wb/pages/lists.xml", lists), ("wb/words.xml", strings.xml()), ("xl/styles.xml", STYLES), ("wb/book.xml", book),
        ("wb/stores.xml", table), ("wb/notes.xml", notes), ("wb/art/art.xml", art()), ("wb/art/loads.xml", chart(last)), ("wb/art/legacy.vml", VML),
        ("wb/box.xml", f'<formControlPr xmlns="{X14}" objectType="CheckBox" checked="Checked" fmlaLink="$R$1" lockText="1" noThreeD="1"/>'),
        ("[Content_Types].xml", content), ("_rels/.rels", rels(("start", "officeDocument", "/wb/book.xml"))),
        ("wb/_rels/book.xml.rels", rels(("deck", "worksheet", "/wb/pages/deck.xml"), ("lists", "worksheet", "pages/lists.xml"), ("s", "styles", "/xl/styles.xml"), ("w", "sharedStrings", "/wb/words.xml"))),
        ("wb/pages/_rels/deck.xml.rels", rels(("web", "hyperlink", "https://example.org/brackwell"), ("printer", "printerSettings", "/wb/printer.bin"), ("origin", "customProperty", "../origin.bin"), ("art", "drawing", "/wb/art/art.xml"),
                                              ("vml", "vmlDrawing", "../art/legacy.vml"), ("notes", "comments", "/wb/notes.xml"), ("box", "ctrlProp", "../box.xml"), ("stores", "table", "../stores.xml"))),
        ("wb/art/_rels/art.xml.rels", rels(("pic", "image", "/wb/art/stamp.PNG"), ("loads", "chart", "loads.xml"))),
    ]
    bodies = [(name, ((HEADLINE if name.startswith("wb/") and not name.endswith((".vml", ".rels")) else "") + text).encode()) for name, text in parts]
    bodies += [("wb/art/stamp.PNG", png(48, 40, arch)), ("wb/printer.bin", bytes(range(64))), ("wb/origin.bin", "slip".encode("utf-16-le"))]
    pack(folder / f"{NAME}.xlsx", bodies)
