"""Odd or damaged .ods files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tests.spreadsheet.odd_xml import PNG
from tests.spreadsheet.raw_files import NAMESPACES, Part, ods_file
from tests.spreadsheet.readings import Expected, OddFile

__all__ = ["ODS_FILES"]


def _text(*paragraphs: str, more: str = "") -> str:
    lines = "".join(f"<text:p>{paragraph}</text:p>" for paragraph in paragraphs)
    return f'<table:table-cell office:value-type="string" {more}>{lines}</table:table-cell>'


def _number(value: object, more: str = "", kind: str = "float") -> str:
    return f'<table:table-cell office:value-type="{kind}" office:value="{value}" {more}><text:p>{value}</text:p></table:table-cell>'


def _row(*cells: str, more: str = "") -> str:
    return f"<table:table-row {more}>{''.join(cells)}</table:table-row>"


def _table(*rows: str, name: str = "Rooms", more: str = "") -> str:
    return f'<table:table table:name="{name}" {more}>{"".join(rows)}</table:table>'


BLANK = "<table:table-cell/>"
WIDE_BLANK = '<table:table-cell table:number-columns-repeated="16384"/>'
END = _row(WIDE_BLANK, more='table:number-rows-repeated="1048570"')


def _file(
    name: str,
    tables: str,
    cells: dict[str, Expected],
    *,
    damage: Sequence[str] = (),
    formulas: Sequence[str] = (),
    styles: str = "",
    hidden: Sequence[str] = (),
    merged: Sequence[str] = (),
    pictures: Sequence[str] = (),
    replace: Mapping[str, Part] | None = None,
    content: Part = None,
) -> OddFile:
    return OddFile(
        f"{name}.ods", ods_file(tables, styles=styles, replace=replace, content=content), {"Rooms": cells},
        [f"Rooms!{cell}" for cell in formulas], damage, hidden, pictures, merged,
    )  # fmt: skip


def _frame(href: str) -> str:
    return f'<draw:frame draw:name="Image 1"><draw:image xlink:href="{href}"/><svg:title>nameplate</svg:title></draw:frame>'


ERROR = (
    '<table:table-cell table:formula="of:=NA()" office:value-type="string" office:string-value="" '
    'calcext:value-type="error"><text:p>#N/A</text:p></table:table-cell>'
)
TRUE = _number(1, 'table:formula="of:=TRUE()"')
HIDDEN = '<style:style style:name="ta2" style:family="table"><style:table-properties table:display="false"/></style:style>'
ONE = _table(_row(_text("MDP"), _number(1600)))
ONE_CELLS: dict[str, Expected] = {"A1": "MDP", "B1": 1600.0}
THREE = _table(*(_row(_number(n), _number(n * 10)) for n in (1, 2, 3)))
THREE_CELLS: dict[str, Expected] = {
    f"{c}{n}": float(n * f) for n in (1, 2, 3) for c, f in (("A", 1), ("B", 10))
}


def _without(*places: str) -> dict[str, Expected]:
    return {place: value for place, value in THREE_CELLS.items() if place not in places}


def _whole(tables: str) -> str:
    return (
        f"<office:document-content{NAMESPACES}><office:body><office:spreadsheet>{tables}"
        "</office:spreadsheet></office:body></office:document-content>"
    )


ODS_FILES = (
    _file("blank-million", _table(_row(_text("MDP"), WIDE_BLANK), END), {"A1": "MDP"}),
    _file("repeated-columns", _table(_row(_number(4, 'table:number-columns-repeated="3"'), BLANK, _number(5))),
          {"A1": 4.0, "B1": 4.0, "C1": 4.0, "E1": 5.0}),
    _file("repeated-rows", _table(_row(_text("N/V"), more='table:number-rows-repeated="3"'), _row(_number(1))),
          {"A1": "N/V", "A2": "N/V", "A3": "N/V", "A4": 1.0}),
    _file("blank-rows-between", _table(_row(_number(1)), _row(WIDE_BLANK, more='table:number-rows-repeated="97"'),
                                       _row(BLANK, _number(2))), {"A1": 1.0, "B99": 2.0}),
    _file("merged", _table(_row(_text("Title", more='table:number-columns-spanned="2" table:number-rows-spanned="2"'),
                                "<table:covered-table-cell/>", _number(3)),
                           _row('<table:covered-table-cell table:number-columns-repeated="2"/>', _number(4))),
          {"A1": "Title", "C1": 3.0, "C2": 4.0}, merged=["A1:B2"]),
    _file("spaces-tabs-lines", _table(_row(_text('a<text:s text:c="3"/>b<text:tab/>c', "second", "", "<text:span>fo"
                                                 "</text:span><text:a>ur</text:a><text:line-break/>five"))),
          {"A1": "a   b\tc\nsecond\n\nfour\nfive"}),
    _file("note", _table(_row('<table:table-cell office:value-type="string"><office:annotation><dc:date>2026-11-03'
                              "</dc:date><text:p>was wet</text:p></office:annotation><text:p>DP-1</text:p></table:table-cell>",
                              "<table:table-cell><office:annotation><text:p>blank</text:p></office:annotation></table:table-cell>")),
          {"A1": "DP-1"}),
    _file("errors", _table(_row(ERROR)), {"A1": ("error", "#N/A")}, formulas=["A1"]),
    _file("errors-as-texts", _table(_row(_text("#N/A", more='table:formula="of:=NA()"'), _text("#N/A"))),
          {"A1": ("error", "#N/A"), "B1": "#N/A"}, formulas=["A1"]),
    _file("ticked-boolean", _table(_row(TRUE, TRUE.replace("TRUE", "FALSE"))), {"A1": True, "B1": False}),
    _file("boolean", _table(_row(
        '<table:table-cell office:value-type="boolean" office:boolean-value="true"><text:p>YES</text:p></table:table-cell>')),
          {"A1": True}),
    _file("formulas", _table(_row(_number(2), _number(4, 'table:formula="of:=[.A1]*2"'),
                                  _number(6, 'table:formula="oooc:=[.A1]*3"'))),
          {"A1": 2.0, "B1": 4.0, "C1": 6.0}, formulas=["B1", "C1"]),
    _file("dates-and-times", _table(_row(
        '<table:table-cell office:value-type="date" office:date-value="2026-11-03"><text:p>11/03/26</text:p></table:table-cell>',
        '<table:table-cell office:value-type="date" office:date-value="2026-11-03T10:30:00"/>',
        '<table:table-cell office:value-type="time" office:time-value="PT10H30M00S"/>',
        '<table:table-cell office:value-type="time" office:time-value="PT26H05M00S"/>')),
          {"A1": ("date", "2026-11-03"), "B1": ("date", "2026-11-03T10:30:00"), "C1": ("date", "10:30:00"),
           "D1": ("date", "26:05:00")}),
    _file("date-nonsense", _table(_row(
        '<table:table-cell office:value-type="date" office:date-value="2026-13-45"><text:p>SEP-2</text:p></table:table-cell>',
        '<table:table-cell office:value-type="time" office:time-value="noon"/>', _number(4))),
          {"A1": "SEP-2", "B1": ("error", ""), "C1": 4.0}, damage=["Rooms!A1", "Rooms!B1"]),
    _file("number-nonsense", _table(_row(_number("NaN"), _number("1E400"), _number(""), _number(7))),
          {"A1": "NaN", "B1": "1E400", "C1": ("error", ""), "D1": 7.0}, damage=["Rooms!A1", "Rooms!B1", "Rooms!C1"]),
    _file("percentage-and-currency", _table(_row(_number("0.0575", kind="percentage"), _number(5, kind="currency"))),
          {"A1": 0.0575, "B1": 5.0}),
    _file("text-without-type", _table(_row("<table:table-cell><text:p>007</text:p></table:table-cell>")), {"A1": "007"}),
    _file("string-value", _table(_row('<table:table-cell office:value-type="string" office:string-value="T1"/>')), {"A1": "T1"}),
    _file("missing-words", _table(_row(_text("N/A"), _text("NA"), _text("nan"), _text("None"))),
          {"A1": "N/A", "B1": "NA", "C1": "nan", "D1": "None"}),
    _file("hidden-sheet", ONE + _table(name="Gone", more='table:style-name="ta2"'), ONE_CELLS, styles=HIDDEN, hidden=["Gone"])
    ._replace(cells={"Rooms": ONE_CELLS, "Gone": {}}),
    _file("sheet-name-twice", ONE + ONE, {})._replace(cells={"Rooms": ONE_CELLS, "Rooms|2": ONE_CELLS}),
    _file("sheet-without-a-name", ONE.replace('table:name="Rooms"', ""), {})._replace(cells={"Sheet1": ONE_CELLS}),
    _file("row-groups", _table("<table:table-header-rows>", _row(_text("Tag")), "</table:table-header-rows><table:table-row-group>"
                               "<table:table-row-group>", _row(_text("DP-1")), "</table:table-row-group></table:table-row-group>"),
          {"A1": "Tag", "A2": "DP-1"}),
    _file("filtered-rows", _table(_row(_number(1)), _row(_number(2), more='table:visibility="filter"'),
                                  _row(_number(3), more='table:visibility="collapse"')), {"A1": 1.0, "A2": 2.0, "A3": 3.0}),
    _file("table-in-a-cell", _table(_row(f"<table:table-cell>{_table(_row(_number(9)), name='Inner')}<text:p>x</text:p>"
                                         "</table:table-cell>", _number(2))), {"A1": "x", "B1": 2.0}),
    _file("tracked-changes", "<table:tracked-changes><table:deletion><table:change-track-table-cell><text:p>old</text:p>"
          "</table:change-track-table-cell></table:deletion></table:tracked-changes>" + ONE, ONE_CELLS),
    _file("shapes", _table(f"<table:shapes>{_frame('Pictures/a.png')}</table:shapes>",
                           _row(_number(1), f"<table:table-cell>{_frame('Pictures/a.png')}</table:table-cell>",
                                '<table:table-cell office:value-type="string"><draw:custom-shape><text:p>not this</text:p>'
                                "</draw:custom-shape><text:p>this</text:p></table:table-cell>")),
          {"A1": 1.0, "C1": "this"}, replace={"Pictures/a.png": PNG}, pictures=["", "B1"]),
    _file("picture-missing", _table(_row(f"<table:table-cell>{_frame('Pictures/no.png')}</table:table-cell>", _number(1))),
          {"B1": 1.0}, damage=["Rooms!A1"]),
    _file("outside-the-grid", _table(_row(WIDE_BLANK, _number(1)), _row(_number(2)), END, _row(_number(3)),
                                     _row(BLANK, more='table:number-rows-repeated="99"'), _row(_number(4))),
          {"A2": 2.0, "A1048573": 3.0}, damage=["Rooms", "Rooms"]),
    _file("no-mimetype", ONE, ONE_CELLS, replace={"mimetype": None}),
    _file("no-manifest", ONE, ONE_CELLS, replace={"META-INF/manifest.xml": None}),
    _file("template-mimetype", ONE, ONE_CELLS,
          replace={"mimetype": "application/vnd.oasis.opendocument.spreadsheet-template\n"}),
    _file("other-prefixes", "", ONE_CELLS, content=_whole(ONE).replace("table:", "tb:").replace(":tb:1.0", ":table:1.0")),
    _file("utf-16", "", ONE_CELLS, content=_whole(ONE).encode("utf-16")),
    _file("indented", "", ONE_CELLS, content=_whole(ONE).replace("><", ">\n  <")),
    _file("cut-short", "", _without("B2", "A3", "B3"), content=_whole(THREE)[: _whole(THREE).index("20</text:p>")],
          damage=["Rooms!B2"]),
    _file("stray-ampersand", "", _without("B2"), content=_whole(THREE).replace(">20<", ">2&0<"), damage=["Rooms!B2"]),
    _file("broken-before-next-sheet", "", _without("B3"), damage=["Rooms!B3"],
          content=_whole(THREE + ONE.replace("Rooms", "Next")).replace(">30<", ">3&0<"))
    ._replace(cells={"Rooms": _without("B3"), "Next": ONE_CELLS}),
)  # fmt: skip
