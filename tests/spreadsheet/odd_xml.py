"""Odd or broken XML inside .xlsx files: places, order, encodings, broken stretches, pictures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tests.spreadsheet.raw_files import HEAD, MAIN, PACKAGE, RELATIONS, Part, sheet_xml, xlsx_file
from tests.spreadsheet.readings import Expected, OddFile

__all__ = ["PNG", "XML_FILES"]

# A picture of one dot (PNG specification, smallest useful file; pillow opens it in the tests).
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010806000000"
    "1f15c4890000000d49444154789c63f8ffff3f0005fe02fea735819e0000000049454e44ae426082"
)
A1_1 = '<row r="1"><c r="A1"><v>1</v></c></row>'
DRAWING = "http://schemas.openxmlformats.org/drawingml/2006"


def _file(
    name: str,
    sheet: Part,
    cells: dict[str, Expected],
    *,
    strings: Sequence[str] = (),
    damage: Sequence[str] = (),
    replace: Mapping[str, Part] | None = None,
    pictures: Sequence[str] = (),
    formulas: Sequence[str] = (),
) -> OddFile:
    return OddFile(
        f"{name}.xlsx",
        xlsx_file({"Rooms": sheet}, strings=strings, replace=replace),
        {"Rooms": cells},
        formulas,
        damage,
        pictures=pictures,
    )


def _rows(*rows: tuple[int, str]) -> str:
    return "".join(f'<row r="{number}">{cells}</row>' for number, cells in rows)


def _value(place: str, value: object) -> str:
    return f'<c r="{place}"><v>{value}</v></c>'


def _text(place: str, text: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>'


def _links(*links: tuple[str, str, str]) -> str:
    items = "".join(
        f'<Relationship Id="{i}" Type="{RELATIONS}/{kind}" Target="{to}"/>' for i, kind, to in links
    )
    return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{items}</Relationships>'


def _prefixed(xml: str) -> str:
    for tag in ("worksheet", "sheetData", "row", "c", "v", "is", "t"):
        xml = (
            xml.replace(f"<{tag}>", f"<x:{tag}>")
            .replace(f"<{tag} ", f"<x:{tag} ")
            .replace(f"</{tag}>", f"</x:{tag}>")
        )
    return xml.replace("xmlns=", "xmlns:x=")


def _in_encoding(xml: str, encoding: str) -> bytes:
    return xml.replace('"UTF-8"', f'"{encoding}"').encode(encoding)


TWO = sheet_xml(_rows((1, _text("A1", "Höhe ½")), (2, _value("B2", 42))))
TWO_CELLS: dict[str, Expected] = {"A1": "Höhe ½", "B2": 42.0}
FOUR_ROWS = _rows(*((n, _value(f"A{n}", n) + _value(f"B{n}", n * 10)) for n in range(1, 5)))
FOUR = sheet_xml(FOUR_ROWS)
FOUR_CELLS: dict[str, Expected] = {
    f"{c}{n}": float(n * f) for n in range(1, 5) for c, f in (("A", 1), ("B", 10))
}


def _without(*places: str) -> dict[str, Expected]:
    return {place: value for place, value in FOUR_CELLS.items() if place not in places}


FROM = "<xdr:from><xdr:col>{1}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>{0}</xdr:row></xdr:from>"
PIC = (
    '<xdr:pic><xdr:nvPicPr><xdr:cNvPr id="2" name="Picture 1" descr="nameplate"/></xdr:nvPicPr>'
    '<xdr:blipFill><a:blip r:embed="{0}"/></xdr:blipFill></xdr:pic>'
)


def _drawing(*anchors: str) -> str:
    spaces = f'xmlns:xdr="{DRAWING}/spreadsheetDrawing" xmlns:a="{DRAWING}/main" xmlns:r="{RELATIONS}"'
    return f"{HEAD}<xdr:wsDr {spaces}>{''.join(anchors)}</xdr:wsDr>"


def _anchor(row: int | str, column: int, content: str, kind: str = "twoCellAnchor") -> str:
    return f"<xdr:{kind}>{FROM.format(row, column)}{content}<xdr:clientData/></xdr:{kind}>"


FLOATING: dict[str, Part] = {
    "xl/worksheets/_rels/sheet1.xml.rels": _links(("d", "drawing", "../drawings/drawing1.xml")),
    "xl/drawings/_rels/drawing1.xml.rels": _links(
        ("p", "image", "../media/image1.png"), ("q", "image", "../media/no.png")
    ),
    "xl/media/image1.png": PNG,
    "xl/drawings/drawing1.xml": _drawing(
        _anchor(4, 2, PIC.format("p")),
        _anchor(6, 0, f"<xdr:grpSp>{PIC.format('p')}</xdr:grpSp>", "oneCellAnchor"),
    ),
}
RICH: dict[str, Part] = {
    "xl/metadata.xml": f'{HEAD}<metadata xmlns="{MAIN}" xmlns:xlrd="x"><futureMetadata name="XLRICHVALUE" count="1"><bk>'
    '<extLst><ext><xlrd:rvb i="1"/></ext></extLst></bk></futureMetadata><valueMetadata count="1">'
    '<bk><rc t="1" v="0"/></bk></valueMetadata></metadata>',
    "xl/richData/rdrichvalue.xml": '<rvData><rv s="0"><v>0</v><v>5</v></rv><rv s="0"><v>1</v><v>5</v></rv></rvData>',
    "xl/richData/richValueRel.xml": f'<richValueRels xmlns:r="{RELATIONS}"><rel r:id="a"/><rel r:id="b"/></richValueRels>',
    "xl/richData/_rels/richValueRel.xml.rels": _links(
        ("a", "image", "../media/other.png"), ("b", "image", "../media/image7.png")
    ),
    "xl/media/image7.png": PNG,
}
NAMED: dict[str, Part] = {
    "xl/cellimages.xml": f'{HEAD}<etc:cellImages xmlns:etc="x" xmlns:xdr="y" xmlns:a="z" xmlns:r="{RELATIONS}">'
    '<etc:cellImage><xdr:pic><xdr:nvPicPr><xdr:cNvPr id="1" name="ID_AB12"/></xdr:nvPicPr><xdr:blipFill>'
    '<a:blip r:embed="p"/></xdr:blipFill></xdr:pic></etc:cellImage></etc:cellImages>',
    "xl/_rels/cellimages.xml.rels": _links(("p", "image", "media/image1.png")),
    "xl/media/image1.png": PNG,
}
ERROR_CELL = '<c r="B2" t="e" vm="1"><v>#VALUE!</v></c>'
NAMED_CELL = '<c r="B2" t="str"><f>_xlfn.DISPIMG("ID_AB12",1)</f><v>=DISPIMG("ID_AB12",1)</v></c>'

XML_FILES = (
    _file("last-cell-of-the-grid", sheet_xml(_rows((1, _value("A1", 1)), (1048576, _value("XFD1048576", 2)))),
          {"A1": 1.0, "XFD1048576": 2.0}),
    _file("outside-the-grid", sheet_xml(_rows((1, _value("A1", 1) + _value("XFE1", 2)), (1048577, _value("A1048577", 3)))),
          {"A1": 1.0}, damage=["Rooms", "Rooms"]),
    _file("dimension-too-small", sheet_xml(FOUR_ROWS, before='<dimension ref="A1"/>'), FOUR_CELLS),
    _file("dimension-nonsense", sheet_xml(FOUR_ROWS, before='<dimension ref="Z99:everything"/>'), FOUR_CELLS),
    _file("rows-out-of-order", sheet_xml(_rows((3, _value("A3", 3)), (1, _value("A1", 1)), (2, _value("A2", 2)))),
          {"A1": 1.0, "A2": 2.0, "A3": 3.0}),
    _file("cells-out-of-order", sheet_xml(_rows((1, _value("C1", 3) + _value("A1", 1) + _value("B1", 2)))),
          {"A1": 1.0, "B1": 2.0, "C1": 3.0}),
    _file("no-places", sheet_xml("<row><c><v>1</v></c><c/><c><v>3</v></c></row><row/><row><c><v>4</v></c></row>"),
          {"A1": 1.0, "C1": 3.0, "A3": 4.0}),
    _file("some-places", sheet_xml('<row r="5"><c r="C5" s="0"/><c><v>1</v></c></row><row><c><v>2</v></c></row>'),
          {"D5": 1.0, "A6": 2.0}),
    _file("places-in-small-letters", sheet_xml(_rows((1, _value("a1", 1) + _value("$B$1", 2)))), {"A1": 1.0, "B1": 2.0}),
    _file("cell-in-another-row", sheet_xml(_rows((1, _value("A1", 1) + _value("B7", 2)), (2, _value("A2", 3)))),
          {"A1": 1.0, "A2": 3.0, "B7": 2.0}),
    _file("row-number-nonsense", sheet_xml('<row r="1"><c><v>1</v></c></row><row r="two"><c r="A2"><v>2</v></c></row>'),
          {"A1": 1.0, "A2": 2.0}, damage=["Rooms"]),
    _file("place-nonsense", sheet_xml(_rows((1, _value("A1", 1) + _value("1A", 2)))), {"A1": 1.0}, damage=["Rooms"]),
    _file("cell-twice", sheet_xml(_rows((1, _value("A1", 1) + _value("A1", 2) + _value("B1", 3)))),
          {"A1": 1.0, "B1": 3.0}, damage=["Rooms!A1"]),
    _file("cell-twice-alike", sheet_xml(_rows((1, _value("A1", 1) + _value("A1", 1)))), {"A1": 1.0}),
    _file("utf-16-le", b"\xff\xfe" + TWO.replace("UTF-8", "UTF-16").encode("utf-16-le"), TWO_CELLS),
    _file("utf-16-be", b"\xfe\xff" + TWO.replace("UTF-8", "UTF-16").encode("utf-16-be"), TWO_CELLS),
    _file("utf-8-with-a-mark", b"\xef\xbb\xbf" + TWO.encode(), TWO_CELLS),
    _file("latin-1", _in_encoding(TWO, "iso-8859-1"), TWO_CELLS),
    _file("windows-1252", _in_encoding(TWO, "windows-1252"), TWO_CELLS),
    _file("no-declaration", TWO.removeprefix(HEAD), TWO_CELLS),
    _file("indented", FOUR.replace("><", ">\n    <"), FOUR_CELLS),
    _file("prefixed", _prefixed(TWO), TWO_CELLS),
    _file("comments-and-cdata",
          sheet_xml('<!-- --><row r="1"><?odd?><c r="A1" t="str"><v><![CDATA[3\' & 6"]]></v></c>'
                    '<c r="B1"><v>4<!-- -->2</v></c></row>'), {"A1": "3' & 6\"", "B1": 42.0}),
    _file("character-references", sheet_xml(_rows((1, _text("A1", "3&#39;-6&quot; &#xBD; &amp;")))), {"A1": "3'-6\" ½ &"}),
    _file("sheet-cut-in-a-cell", FOUR[: FOUR.index("20</v>")], _without("B2", "A3", "B3", "A4", "B4"), damage=["Rooms!A2"]),
    _file("sheet-cut-between-rows", FOUR[: FOUR.index('<row r="3"')], _without("A3", "B3", "A4", "B4"), damage=["Rooms!B2"]),
    _file("sheet-cut-before-cells", FOUR[: FOUR.index("<sheetData")], {}, damage=["Rooms"]),
    _file("sheet-closed-too-late", FOUR.removesuffix("</worksheet>"), FOUR_CELLS, damage=["Rooms!B4"]),
    _file("stray-ampersand", FOUR.replace("<v>20<", "<v>2&0<"), _without("B2"), damage=["Rooms!A2"]),
    _file("control-character", FOUR.replace("<v>20<", "<v>2\x0b0<"), _without("B2"), damage=["Rooms!A2"]),
    _file("bytes-that-are-no-text", FOUR.encode().replace(b"<v>20<", b"<v>2\xff0<"), _without("B2"), damage=["Rooms!A2"]),
    _file("two-broken-places", FOUR.replace("<v>20<", "<v>2&0<").replace('<c r="A4">', '<c r="A4>'),
          _without("B2", "A4", "B4"), damage=["Rooms!A2", "Rooms!B3"]),
    _file("row-never-closed", FOUR.replace("</row>", "", 1), _without(), damage=["Rooms!B4"]),
    _file("broken-and-prefixed", _prefixed(FOUR).replace("<x:v>20<", "<x:v>2&0<"), _without("B2"), damage=["Rooms!A2"]),
    _file("floating-pictures", sheet_xml(A1_1, after='<drawing r:id="d"/>'), {"A1": 1.0}, replace=FLOATING,
          pictures=["C5", "A7"]),
    _file("picture-missing", sheet_xml(A1_1, after='<drawing r:id="d"/>'), {"A1": 1.0}, damage=["Rooms!C5", "Rooms"],
          replace={**FLOATING, "xl/drawings/drawing1.xml": _drawing(
              _anchor(4, 2, PIC.format("q")), _anchor("x", 0, PIC.format("z")))}),
    _file("drawing-missing", sheet_xml(A1_1, after='<drawing r:id="d"/>'), {"A1": 1.0}, damage=["Rooms"]),
    _file("picture-in-cell", sheet_xml(_rows((1, _value("A1", 1)), (2, ERROR_CELL))),
          {"A1": 1.0, "B2": ("picture", "a picture")}, replace=RICH, pictures=["B2"]),
    _file("picture-in-cell-lost", sheet_xml(_rows((2, ERROR_CELL))), {"B2": ("error", "#VALUE!")}),
    _file("picture-by-formula", sheet_xml(_rows((2, NAMED_CELL))), {"B2": ("picture", "a picture")}, replace=NAMED,
          pictures=["B2"]),
    _file("picture-by-formula-lost", sheet_xml(_rows((2, NAMED_CELL))), {"B2": '=DISPIMG("ID_AB12",1)'},
          formulas=["Rooms!B2"]),
)  # fmt: skip
