"""The lint finds each fault it looks for, and nothing in a stock workbook."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
import xlsxwriter

from tests.sampling import drawn
from tests.survey_workbook.workbook_lint import lint
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import stock_templates


@pytest.mark.sampled
@pytest.mark.parametrize("template", drawn("stock workbooks", sorted(stock_templates()), lambda name: "any"))
def test_a_stock_workbook_is_clean(template: str, tmp_path: Path) -> None:
    made = new_workbook(tmp_path / "survey.xlsx", template=template, rows=15)
    assert lint(made.path) == []


def _small(path: Path) -> Path:
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Rooms")
        sheet.write_string("A1", "Room")
        sheet.write_formula("B1", "=LEN(A1)", None, 4)
        sheet.merge_range("A5:B5", "joined")
        sheet.data_validation(
            "A2:A3",
            {"validate": "list", "source": ["Yes", "No"], "input_title": "Room", "input_message": "Which"},
        )
        sheet.conditional_format(
            "A2", {"type": "formula", "criteria": '=$A2=""', "format": book.add_format({"bold": True})}
        )
        book.define_name("listed", "=Rooms!$A$1:$A$3")
    return path


FAULTS = {
    "a long list": ('"Yes,No"', '"' + "x," * 140 + '"', "inline list of"),
    "a quoted item": ('"Yes,No"', '"Yes ""so"",No"', "quotation mark"),
    "a long title": ('promptTitle="Room"', f'promptTitle="{"R" * 33}"', "promptTitle of 33"),
    "a long message": ('prompt="Which"', f'prompt="{"W" * 256}"', "prompt of 256"),
    "a decimal validation": ('type="list"', 'type="decimal"', "refuses every number"),
    "a long formula": ("LEN(A1)", "LEN(A1)" + "+1" * 4100, "formula of"),
    "a long text in a formula": ("LEN(A1)", f'LEN("{"x" * 256}")', "more than 255"),
    "an unbalanced formula": ("LEN(A1)", "LEN(A1", "unbalanced"),
    "too many brackets": ("LEN(A1)", "(" * 65 + "1" + ")" * 65, "65 levels"),
    "a new function": ("LEN(A1)", "XLOOKUP(A1,A1,A1)", "XLOOKUP"),
    "a missing sheet": ("LEN(A1)", "LEN('Nowhere'!A1)", "not there"),
    "a lost reference": ("LEN(A1)", "LEN(#REF!)", "leads nowhere"),
    "a style index": ('r="A1"', 'r="A1" s="99"', "format 99"),
    "a conditional format index": ('dxfId="0"', 'dxfId="7"', "conditional format 7"),
    "a format on another sheet": ('$A2=""', "Rooms!$A2=1", "another sheet"),
    "a range off the sheet": ('sqref="A2:A3"', 'sqref="A2:A1048577"', "outside the sheet"),
    "overlapping merges": ('<mergeCell ref="A5:B5"/>', '<mergeCell ref="A5:B5"/><mergeCell ref="B5:C6"/>', "overlap"),
    "a sheet name": ('name="Rooms"', 'name="Rooms/Roof"', "sheet name"),
    "a reserved sheet name": ('name="Rooms"', 'name="History"', "reserved"),
    "a name like a cell": ('name="listed"', 'name="AB12"', "looks like a cell"),
    "a name that points nowhere": ("Rooms!$A$1:$A$3", "#REF!", "points nowhere"),
    "a long text": ("<t>Room</t>", f"<t>{'R' * 32768}</t>", "text of 32768"),
    "a number that is none": ("<v>4</v>", "<v>None</v>", "stored as a number"),
    "a stored 0 in a blank row": (
        '<c r="A1" t="s"><v>0</v></c><c r="B1"><f>LEN(A1)</f><v>4</v></c>', '<c r="B1"><f>LEN(A1)</f><v>0</v></c>', "blank row",
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_found(fault: str, tmp_path: Path) -> None:
    whole = _small(tmp_path / "small.xlsx")
    assert lint(whole) == []
    old, new, said = FAULTS[fault]
    planted, changed = tmp_path / "planted.xlsx", 0
    with zipfile.ZipFile(whole) as source, zipfile.ZipFile(planted, "w") as target:
        for name in source.namelist():
            text = source.read(name).decode()
            escaped = [
                part.replace('"', "&quot;")
                if "<" not in part and "=" in part and "sqref" not in part
                else part
                for part in (old,)
            ]
            found = next((form for form in (old, *escaped) if form in text), None)
            changed += found is not None
            target.writestr(name, text.replace(found, new) if found else text)
    assert changed, f"{old} is not in the file"
    assert any(said in sentence for sentence in lint(planted)), lint(planted)
