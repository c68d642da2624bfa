"""Odd values: what cells of .xlsx files hold that many readers stumble over."""

from __future__ import annotations

from collections.abc import Sequence

from tests.spreadsheet.raw_files import sheet_xml, styles_xml, xlsx_file
from tests.spreadsheet.readings import Expected, OddFile

__all__ = ["VALUE_FILES"]


def _row(*cells: str, number: int = 1) -> str:
    return f'<row r="{number}">{"".join(cells)}</row>'


def _one_sheet(
    name: str,
    rows: str,
    cells: dict[str, Expected],
    *,
    strings: Sequence[str] = (),
    formats: Sequence[str] = (),
    book: str = "",
    after: str = "",
    formulas: Sequence[str] = (),
    damage: Sequence[str] = (),
    merged: Sequence[str] = (),
) -> OddFile:
    content = xlsx_file(
        {"Rooms": sheet_xml(rows, after=after)}, strings=strings, styles=styles_xml(formats), book=book
    )
    places = [f"Rooms!{cell}" for cell in formulas]
    damaged = [f"Rooms!{cell}" if cell else "Rooms" for cell in damage]
    return OddFile(f"{name}.xlsx", content, {"Rooms": cells}, places, damaged, merged=merged)


def _errors(*values: str) -> tuple[str, dict[str, Expected]]:
    cells = [f'<c r="{chr(65 + i)}1" t="e"><v>{value}</v></c>' for i, value in enumerate(values)]
    return _row(*cells), {f"{chr(65 + i)}1": ("error", value) for i, value in enumerate(values)}


def _texts(*texts: str) -> tuple[str, dict[str, Expected]]:
    cells = [f'<c r="{chr(65 + i)}1" t="s"><v>{i}</v></c>' for i in range(len(texts))]
    return _row(*cells), {f"{chr(65 + i)}1": text for i, text in enumerate(texts)}


MISSING_WORDS = ("N/A", "NA", "nan", "None", "null", "NULL", "#N/A N/A", "-", "TRUE", "1600")
TYPED = (
    "007",
    "MDP ",
    "3’-6”",
    "2 ½",
    "\U0001f50c",
    "two\nlines",
    "120/208",
    "1E3",
    "  lead",
    "'007",
    "=T1",
    "6 – 0",
)

VALUE_FILES = (
    _one_sheet(
        "starts-at-c5", _row('<c r="C5"><v>1600</v></c><c r="E5"><v>3</v></c>', number=5), {"C5": 1600.0, "E5": 3.0}
    ),
    _one_sheet("errors", *_errors("#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A")),
    _one_sheet(
        "errors-new",
        *_errors("#SPILL!", "#CALC!", "#BUSY!", "#FIELD!", "#GETTING_DATA", "#BLOCKED!", "#CONNECT!", "Err:508"),
    ),
    _one_sheet(
        "error-unknown", _row('<c r="A1" t="e"><v>#OOPS!</v></c><c r="B1"><v>1</v></c>'),
        {"A1": ("error", "#OOPS!"), "B1": 1.0}, damage=["A1"],
    ),
    _one_sheet("words-for-missing", *_texts(*MISSING_WORDS), strings=MISSING_WORDS),
    _one_sheet("typed-texts", *_texts(*TYPED), strings=TYPED),
    _one_sheet(
        "rich-text", _row('<c r="A1" t="s"><v>0</v></c>'), {"A1": "208Y/120 V"},
        strings=["<si><r><rPr><b/></rPr><t>208Y</t></r><r><t>/120</t></r><r><t xml:space=\"preserve\"> V</t></r></si>"],
    ),
    _one_sheet(
        "rich-inline",
        _row('<c r="A1" t="inlineStr"><is><r><t>DP</t></r><r><rPr><i/></rPr><t>-1</t></r></is></c>'),
        {"A1": "DP-1"},
    ),
    _one_sheet(
        "phonetic", _row('<c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>盤</t><rPh sb="0" eb="1">'
        "<t>バン</t></rPh></is></c>"), {"A1": "電気室", "B1": "盤"},
        strings=['<si><t>電気室</t><rPh sb="0" eb="3"><t>デンキシツ</t></rPh><phoneticPr fontId="1"/></si>'],
    ),
    _one_sheet(
        "escapes", *_texts("a\r\nb", "_x000D_", "\U0001f50c", "_x0007_bell", "_xZZZZ_", "_xD83D_ alone"),
        strings=["a_x000D_\nb", "_x005F_x000D_", "_xD83D__xDD0C_", "_x0007_bell", "_xZZZZ_", "_xD83D_ alone"],
    ),
    _one_sheet(
        "mixed-column",
        "".join(
            _row(cell, number=n)
            for n, cell in enumerate(
                ['<c r="A1"><v>200</v></c>', '<c r="A2" t="s"><v>0</v></c>', '<c r="A3" t="b"><v>1</v></c>',
                 '<c r="A4" s="1"><v>46329</v></c>', '<c r="A5" t="e"><v>#N/A</v></c>', '<c r="A6" t="b"><v>0</v></c>'],
                start=1,
            )
        ),
        {"A1": 200.0, "A2": "N/V", "A3": True, "A4": ("date", "2026-11-03"), "A5": ("error", "#N/A"), "A6": False},
        strings=["N/V"], formats=["yyyy-mm-dd"],
    ),
    _one_sheet(
        "serials-outside-calendar",
        _row(*(f'<c r="{c}1" s="1"><v>{v}</v></c>' for c, v in zip("ABCD", ("99999999", "-3", "60", "2958465"), strict=True))),
        {"A1": ("date", "99999999"), "B1": ("date", "-3"), "C1": ("date", "60"), "D1": ("date", "9999-12-31")},
        formats=["yyyy-mm-dd"],
    ),
    _one_sheet(
        "dates-1904", _row('<c r="A1" s="1"><v>0</v></c><c r="B1" s="1"><v>44867</v></c>'),
        {"A1": ("date", "1904-01-01"), "B1": ("date", "2026-11-03")},
        formats=["d/m/yyyy"], book='<workbookPr date1904="1"/>',
    ),
    _one_sheet(
        "dates-and-times",
        _row('<c r="A1" s="1"><v>46329.4375</v></c><c r="B1" s="2"><v>0.4375</v></c><c r="C1" s="3"><v>1.0868055555</v>'
             '</c><c r="D1" s="4"><v>46329</v></c><c r="E1" s="5"><v>46329</v></c><c r="F1" s="6"><v>46329</v></c>'),
        {"A1": ("date", "2026-11-03T10:30:00"), "B1": ("date", "10:30:00"), "C1": ("date", "26:05:00"),
         "D1": ("date", "2026-11-03"), "E1": ("date", "2026-11-03"), "F1": ("date", "2026-11-03")},
        formats=["yyyy-mm-dd hh:mm", "h:mm AM/PM", "[h]:mm:ss", "[$-409]d-mmm;@", "mmmm", "yyyy\\-mm\\-dd"],
    ),
    _one_sheet(
        "formats-that-are-no-dates",
        _row(*(f'<c r="{c}1" s="{i}"><v>75</v></c>' for i, c in enumerate("ABCDEFG", start=1))),
        {f"{c}1": 75.0 for c in "ABCDEFG"},
        formats=["0&quot; kVA&quot;", "0\\d", "[Red]0.0", "&quot;M&quot;0", "0_d", "0.00E+00", "#,##0 [$USD]"],
    ),
    _one_sheet(
        "iso-dates",
        _row('<c r="A1" t="d"><v>2026-11-03</v></c><c r="B1" t="d"><v>2026-11-03T10:30:00</v></c>'
             '<c r="C1" t="d"><v>3 November</v></c>'),
        {"A1": ("date", "2026-11-03"), "B1": ("date", "2026-11-03T10:30:00"), "C1": "3 November"}, damage=["C1"],
    ),
    _one_sheet(
        "numbers-written-oddly",
        _row(*(f'<c r="{c}1"><v>{v}</v></c>' for c, v in zip("ABCDEF", ("1.6E3", "1600.0", " 7 ", "-0", "+5", ".5"), strict=True))),
        {"A1": 1600.0, "B1": 1600.0, "C1": 7.0, "D1": 0.0, "E1": 5.0, "F1": 0.5},
    ),
    _one_sheet(
        "numbers-that-are-none",
        _row(*(f'<c r="{c}1"><v>{v}</v></c>' for c, v in zip("ABCDEF", ("NaN", "abc", "INF", "1E400", "1_000", ""), strict=True)),
             '<c r="G1"><v>4</v></c>'),
        {"A1": "NaN", "B1": "abc", "C1": "INF", "D1": "1E400", "E1": "1_000", "G1": 4.0},
        damage=["A1", "B1", "C1", "D1", "E1"],
    ),
    _one_sheet(
        "booleans", _row('<c r="A1" t="b"><v>true</v></c><c r="B1" t="b"><f aca="false">FALSE()</f><v>0</v></c>'
        '<c r="C1" t="n"><f>TRUE()</f><v>1</v></c><c r="D1" t="b"><v>maybe</v></c>'),
        {"A1": True, "B1": False, "C1": True, "D1": "maybe"}, damage=["D1"],
    ),
    _one_sheet(
        "formula-without-result", _row('<c r="A1"><f>B1*2</f></c><c r="B1"><v>2</v></c><c r="C1" t="str"><f>""</f><v></v></c>'),
        {"A1": "", "B1": 2.0, "C1": ""}, formulas=["A1", "C1"],
    ),
    _one_sheet(
        "formula-results",
        _row('<c r="A1" t="str"><f>"a"&amp;"b"</f><v>ab</v></c><c r="B1" t="e"><f>NA()</f><v>#N/A</v></c>'
             '<c r="C1"><f>1+1</f><v>2</v></c><c r="D1" t="b"><f>1=1</f><v>1</v></c>'),
        {"A1": "ab", "B1": ("error", "#N/A"), "C1": 2.0, "D1": True}, formulas=["A1", "B1", "C1", "D1"],
    ),
    _one_sheet(
        "shared-formulas",
        _row('<c r="A1"><f t="shared" ref="A1:A3" si="0">B1*2</f><v>2</v></c>')
        + _row('<c r="A2"><f t="shared" si="0"/><v>4</v></c>', number=2)
        + _row('<c r="A3"><f t="shared" si="9"/><v>6</v></c>', number=3),
        {"A1": 2.0, "A2": 4.0, "A3": 6.0}, formulas=["A1", "A2", "A3"],
    ),
    _one_sheet(
        "array-formula",
        _row('<c r="A1"><f t="array" ref="A1:A2">B1:B2*2</f><v>2</v></c>') + _row('<c r="A2"><v>4</v></c>', number=2)
        + _row('<c r="A3"><v>6</v></c>', number=3),
        {"A1": 2.0, "A2": 4.0, "A3": 6.0}, formulas=["A1", "A2"],
    ),
    _one_sheet(
        "merged", _row('<c r="A1" t="inlineStr"><is><t>Clearances</t></is></c>', '<c r="B1"/>', '<c r="C1"/>'),
        {"A1": "Clearances"}, after='<mergeCells count="2"><mergeCell ref="A1:C2"/><mergeCell ref="B2:B1"/></mergeCells>',
        merged=["A1:C2", "B1:B2"],
    ),
    _one_sheet(
        "merged-nonsense", _row('<c r="A1"><v>1</v></c>'), {"A1": 1.0},
        after='<mergeCells><mergeCell ref="A1:ZZZZ9"/></mergeCells>', damage=[""],
    ),
    _one_sheet(
        "blank-formatted-rows", _row('<c r="A1"><v>1</v></c>')
        + "".join(_row(*(f'<c r="{c}{n}" s="1"/>' for c in "ABCDE"), number=n) for n in range(2, 5_002))
        + _row('<c r="E5002"><v>2</v></c>', number=5_002), {"A1": 1.0, "E5002": 2.0}, formats=["@"],
    ),
    _one_sheet(
        "a-million-formatted-rows", "".join(f'<row r="{n}" s="1"/>' for n in range(1, 1_000_001))
        + _row('<c r="A1000001"><v>5</v></c>', number=1_000_001), {"A1000001": 5.0}, formats=["@"],
    ),
    _one_sheet("seventeen-digits", _row('<c r="A1"><v>12345678901234567</v></c>'), {"A1": 12345678901234567.0}),
    _one_sheet(
        "inline-without-is", _row('<c r="A1" t="inlineStr"><v>DP-1</v></c><c r="B1" t="inlineStr"><is><t/></is></c>'
        '<c r="C1"><is><t>DP-2</t></is></c>'), {"A1": "DP-1", "C1": "DP-2"},
    ),
    _one_sheet(
        "string-index-lost", _row('<c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>7</v></c><c r="C1" t="s"><v>-1</v></c>'
        '<c r="D1" t="s"><v>x</v></c>'),
        {"A1": "MDP", "B1": ("error", ""), "C1": ("error", ""), "D1": ("error", "")},
        strings=["MDP"], damage=["B1", "C1", "D1"],
    ),
    _one_sheet(
        "unknown-type", _row('<c r="A1" t="zz"><v>5</v></c><c r="B1" t="zz"><v>five</v></c>'),
        {"A1": 5.0, "B1": "five"}, damage=["B1"],
    ),
    _one_sheet(
        "spaces-only", _row('<c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c>'), {"A1": "  "}, strings=["  ", ""],
    ),
    _one_sheet(
        "long-text", _row('<c r="A1" t="s"><v>0</v></c>'), {"A1": "x" * 32_767}, strings=["x" * 32_767],
    ),
)  # fmt: skip
