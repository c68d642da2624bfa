"""Odd parts: .xlsx packages put together otherwise than the usual programs do it."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence

from tests.spreadsheet.raw_files import (
    HEAD,
    MAIN,
    PACKAGE,
    RELATIONS,
    Part,
    sheet_xml,
    styles_xml,
    xlsx_file,
    zip_file,
)
from tests.spreadsheet.readings import Expected, OddFile

__all__ = ["PART_FILES"]

ROWS = (
    '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row>'
    '<row r="2"><c r="A2" t="s"><v>2</v></c><c r="B2"><v>1600</v></c></row>'
)
STRINGS = ("Tag", "Rating (A)", "MDP")
CELLS: dict[str, Expected] = {"A1": "Tag", "B1": "Rating (A)", "A2": "MDP", "B2": 1600.0}
LOST: dict[str, Expected] = {"A1": ("error", ""), "B1": ("error", ""), "A2": ("error", ""), "B2": 1600.0}
SHEET = sheet_xml(ROWS)
STRICT = "http://purl.oclc.org/ooxml"


def _file(
    name: str,
    *,
    sheet: Part = SHEET,
    cells: Mapping[str, Mapping[str, Expected]] | None = None,
    damage: Sequence[str] = (),
    replace: Mapping[str, Part] | None = None,
    styles: Part = None,
    rename: Mapping[str, str] | None = None,
    compression: int = zipfile.ZIP_DEFLATED,
) -> OddFile:
    content = xlsx_file(
        {"Equipment": sheet},
        strings=STRINGS,
        replace=replace,
        styles=styles,
        rename=rename,
        compression=compression,
    )
    return OddFile(f"{name}.xlsx", content, cells or {"Equipment": CELLS}, damage=damage)


def _links(*links: tuple[str, str, str], base: str = RELATIONS) -> str:
    items = "".join(f'<Relationship Id="{i}" Type="{base}/{kind}" Target="{to}"/>' for i, kind, to in links)
    return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{items}</Relationships>'


def _book(sheets: str, before: str = "", main: str = MAIN, relations: str = RELATIONS) -> str:
    return (
        f'{HEAD}<workbook xmlns="{main}" xmlns:r="{relations}">{before}<sheets>{sheets}</sheets></workbook>'
    )


LISTED = '<sheet name="Equipment" sheetId="1" r:id="rId1"/>'
TABLES = (("rId2", "styles", "styles.xml"), ("rId3", "sharedStrings", "sharedStrings.xml"))
BOOK_LINKS = "xl/_rels/workbook.xml.rels"
FAULTY_STYLES = {
    "font-family": '<fonts><font><family val="99"/></font></fonts>',
    "colour": '<fonts><font><color rgb="nonsense"/></font></fonts>',
    "fill": '<fills><fill><patternFill patternType="swirl"/></fill></fills>',
    "border": '<borders><border><left style="wavy"/></border></borders>',
    "count": '<cellStyleXfs count="-1"/>',
}
FAULTY_SHEETS = {
    "margins": '<pageMargins left="wide" right="" top="-1" bottom="x" header="" footer=""/>',
    "link-id": '<hyperlinks><hyperlink ref="A2" r:id="rId99"/></hyperlinks>',
    "filter": '<autoFilter ref="A1:B2"><filterColumn colId="x"><filters blank="?"/></filterColumn></autoFilter>',
    "validation": '<dataValidations count="1"><dataValidation type="sorcery" sqref="A2"/></dataValidations>',
    "condition": '<conditionalFormatting sqref="A2"><cfRule type="mood" priority="x"/></conditionalFormatting>',
    "page-setup": '<pageSetup paperSize="huge" orientation="slanted"/>',
    "comments": '<legacyDrawing r:id="rId98"/>',
    "extension": '<extLst><ext uri="{0}"><x14:f xmlns:x14="x">A1</x14:f></ext></extLst>',
}
STYLE_9 = ROWS.replace('r="B2"', 'r="B2" s="999"').replace('r="A2"', 'r="A2" s="bold"')
THREE = {
    f"{title}|{n}": sheet_xml(f'<row r="1"><c r="A1"><v>{n}</v></c></row>')
    for n, title in enumerate(["Notes", "Notes", "Lists"], start=1)
}
MANY = {f"Room {n}": sheet_xml(f'<row r="1"><c r="A1"><v>{n}</v></c></row>') for n in range(1, 301)}
PLAIN = dict.fromkeys(
    ["xl/workbook.xml", BOOK_LINKS, "xl/styles.xml", "xl/sharedStrings.xml", "xl/worksheets/sheet1.xml"]
)


def _strict() -> OddFile:
    main, relations = f"{STRICT}/spreadsheetml/main", f"{STRICT}/officeDocument/relationships"
    links = [("rId1", "worksheet", "worksheets/sheet1.xml"), *TABLES]
    return _file(
        "strict",
        sheet=SHEET.replace(MAIN, main),
        replace={
            "_rels/.rels": _links(("rId1", "officeDocument", "xl/workbook.xml"), base=relations),
            "xl/workbook.xml": _book(LISTED, '<workbookPr dateCompatibility="0"/>', main, relations),
            BOOK_LINKS: _links(*links, base=relations),
        },
    )


PART_FILES = (
    _strict(),
    _file("no-content-types", replace={"[Content_Types].xml": None}),
    _file("no-package-links", replace={"_rels/.rels": None}),
    _file("no-workbook-links", replace={BOOK_LINKS: None}, damage=["Equipment"]),
    _file("names-in-capitals", rename={name: name.upper() for name in PLAIN}),
    _file("names-with-backslashes", rename={name: name.replace("/", "\\") for name in PLAIN}),
    _file("names-from-the-root", rename={name: "/" + name for name in PLAIN}),
    _file(
        "in-a-folder",
        rename={name: "survey copy/" + name for name in [*PLAIN, "[Content_Types].xml", "_rels/.rels"]},
    ),
    _file(
        "absolute-targets",
        replace={
            BOOK_LINKS: _links(
                ("rId1", "worksheet", "/xl/worksheets/sheet1.xml"),
                ("rId2", "styles", "/xl/styles.xml"),
                ("rId3", "sharedStrings", "../xl/./sharedStrings.xml"),
            )
        },
    ),
    _file(
        "odd-part-names",
        replace={
            "xl/workbook.xml": None, BOOK_LINKS: None, "xl/sharedStrings.xml": None, "xl/worksheets/sheet1.xml": None,
            "_rels/.rels": _links(("x", "officeDocument", "book/main.data")),
            "book/main.data": _book(LISTED.replace("rId1", "s")),
            "book/_rels/main.data.rels": _links(("s", "worksheet", "the sheet.bin"), ("t", "sharedStrings", "t")),
            "book/the sheet.bin": SHEET,
            "book/t": f'<sst xmlns="{MAIN}"><si><t>Tag</t></si><si><t>Rating (A)</t></si><si><t>MDP</t></si></sst>',
        },
    ),
    _file("stored", compression=zipfile.ZIP_STORED),
    _file("bzip2", compression=zipfile.ZIP_BZIP2),
    _file("lzma", compression=zipfile.ZIP_LZMA),
    _file("strings-missing", replace={"xl/sharedStrings.xml": None}, cells={"Equipment": LOST},
          damage=["", "Equipment!A1", "Equipment!B1", "Equipment!A2"]),
    _file("styles-missing", replace={"xl/styles.xml": None}, damage=[""]),
    _file("strings-cut-short", replace={"xl/sharedStrings.xml": f"<sst xmlns='{MAIN}'><si><t>Tag</t></si><si><t>Rat"},
          cells={"Equipment": {**LOST, "A1": "Tag"}}, damage=["", "Equipment!B1", "Equipment!A2"]),
    _file("styles-cut-short", styles=styles_xml(["0.0"])[:-40], damage=[""]),
    _file("styles-are-something-else", styles=f"{HEAD}<theme/>", damage=[""]),
    _file("workbook-cut-short", damage=[""],
          replace={"xl/workbook.xml": _book(LISTED + '<sheet name="Rooms" sheetId="2" r:id="rI')[:-40]}),
    _file("workbook-empty", replace={"xl/workbook.xml": ""}, cells={"sheet1": CELLS}, damage=[""]),
    _file("workbook-without-sheets", replace={"xl/workbook.xml": _book("")}, cells={"sheet1": CELLS}, damage=[""]),
    _file("sheet-part-missing", damage=["Gone"], cells={"Equipment": CELLS, "Gone": {}},
          replace={"xl/workbook.xml": _book(LISTED + '<sheet name="Gone" sheetId="2" r:id="rId7"/>')}),
    _file("sheet-part-is-something-else", sheet=f"{HEAD}<theme/>", cells={"Equipment": {}}, damage=["Equipment"]),
    _file("sheet-part-empty", sheet="", cells={"Equipment": {}}, damage=["Equipment"]),
    _file("two-sheets-one-part", damage=["Copy"], cells={"Equipment": CELLS, "Copy": {}},
          replace={"xl/workbook.xml": _book(LISTED + LISTED.replace("Equipment", "Copy"))}),
    _file("link-id-unknown", damage=["Equipment"], replace={"xl/workbook.xml": _book(LISTED.replace("rId1", "rId77"))}),
    _file("sheet-without-a-name", cells={"Sheet1": CELLS}, replace={"xl/workbook.xml": _book('<sheet r:id="rId1"/>')}),
    _file(
        "chart-sheet-first",
        replace={
            "xl/workbook.xml": _book('<sheet name="Chart" sheetId="2" r:id="rId9"/>' + LISTED),
            BOOK_LINKS: _links(("rId9", "chartsheet", "chartsheets/sheet1.xml"),
                               ("rId1", "worksheet", "worksheets/sheet1.xml"), *TABLES),
            "xl/chartsheets/sheet1.xml": f'<chartsheet xmlns="{MAIN}"/>',
        },
    ),
    OddFile("sheet-name-twice.xlsx", xlsx_file(THREE),
            {"Notes": {"A1": 1.0}, "Notes|2": {"A1": 2.0}, "Lists": {"A1": 3.0}}),
    OddFile("sheets-300.xlsx", xlsx_file(MANY), {name: {"A1": float(n)} for n, name in enumerate(MANY, start=1)}),
    OddFile(
        "hidden-sheets.xlsx",
        xlsx_file({"A": SHEET, "B": SHEET, "C": SHEET}, strings=STRINGS,
                  states={"B": 'state="hidden"', "C": 'state="veryHidden"'}),
        {"A": CELLS, "B": CELLS, "C": CELLS}, hidden=["B", "C"],
    ),
    _file("core-properties-nonsense", replace={"docProps/core.xml": "<cp><created>yesterday</created></cp>"}),
    _file("custom-properties-cut-short", damage=[""],
          replace={"docProps/custom.xml": '<Properties><property name="workbook-schema"><lpwstr>1</lpwstr></prop'}),
    _file("style-index-unknown", sheet=sheet_xml(STYLE_9)),
    _file("format-number-unknown", styles=styles_xml(xfs='<xf numFmtId="900"/><xf numFmtId="-1"/><xf numFmtId="x"/>')),
    _file("pane-nonsense", sheet=sheet_xml(ROWS, before='<sheetViews><sheetView><pane xSplit="x" state="icy"/>'
                                           "</sheetView></sheetViews>")),
    *(_file(f"faulty-{name}", styles=styles_xml(more=xml)) for name, xml in FAULTY_STYLES.items()),
    *(_file(f"faulty-{name}", sheet=sheet_xml(ROWS, after=xml)) for name, xml in FAULTY_SHEETS.items()),
    OddFile("junk-before.xlsx", b"From: mail\r\n\r\n" + _file("x").content, {"Equipment": CELLS}),
    OddFile("junk-behind.xlsx", _file("x").content + b"\r\n--end--" * 20, {"Equipment": CELLS}),
    OddFile("macros.xlsm", _file("x", replace={"xl/vbaProject.bin": b"\xd0\xcf\x11\xe0"}).content, {"Equipment": CELLS}),
    OddFile(
        "three-parts-only.xlsx",
        zip_file([("xl/workbook.xml", _book(LISTED)), (BOOK_LINKS, _links(("rId1", "worksheet", "s.xml"))),
                  ("xl/s.xml", sheet_xml('<row r="1"><c r="A1"><v>1</v></c></row>'))]),
        {"Equipment": {"A1": 1.0}},
    ),
)  # fmt: skip
