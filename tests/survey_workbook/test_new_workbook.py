"""Making a survey workbook: what is refused in one sentence, and what the writer takes care of."""

from __future__ import annotations

import os
import subprocess
import sys
import warnings
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter.worksheet

from tests.sampling import drawn
from tests.survey_workbook.workbook_lint import lint
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.errors import Unusable
from workbook_tools.survey import read_survey
from workbook_tools.survey_workbook.writing import write_survey_workbook


@pytest.mark.sampled
@pytest.mark.parametrize(
    "template", drawn("full blank workbooks", sorted(stock_templates()), lambda name: "any")
)
def test_a_blank_workbook_is_light_enough_to_send_to_a_phone(template: str, tmp_path: Path) -> None:
    path = new_workbook(tmp_path / "survey.xlsx", template=template).path
    with zipfile.ZipFile(path) as parts:
        unpacked = sum(part.file_size for part in parts.infolist())
    assert path.stat().st_size <= 350_000
    assert unpacked <= 4_000_000


def test_a_file_that_exists_is_left_alone_without_force(tmp_path: Path) -> None:
    target = tmp_path / "survey.xlsx"
    target.write_text("mine")
    with pytest.raises(Unusable, match="exists already"):
        new_workbook(target)
    assert target.read_text() == "mine"
    assert new_workbook(target, rows=2, force=True).path == target
    assert target.read_bytes()[:2] == b"PK"


def test_an_unknown_template_is_named_with_the_known_ones(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match=r"Did you mean office\?"):
        new_workbook(tmp_path / "survey.xlsx", template="ofice")
    assert list(tmp_path.iterdir()) == []


def test_a_broken_template_leaves_nothing_behind(tmp_path: Path) -> None:
    broken = tmp_path / "firm.toml"
    broken.write_text('[template]\nextends = "office"\ndimension_unit = "hands"\n')
    with pytest.raises(Unusable, match=r"firm\.toml.*dimension_unit"):
        new_workbook(tmp_path / "survey.xlsx", template=broken)
    assert list(tmp_path.iterdir()) == [broken]


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match="does not exist"):
        new_workbook(tmp_path / "nowhere" / "survey.xlsx")


def test_a_folder_that_cannot_be_written_to_is_named(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    # Root may write anywhere but to the kernel's own folders.
    folder = tmp_path if os.geteuid() else Path("/proc/self")
    with pytest.raises(Unusable, match="cannot be written"):
        new_workbook(folder / "survey.xlsx", rows=2)


@pytest.mark.parametrize(
    ("name", "rows", "said"),
    [("survey.xls", 300, ".xlsx"), ("survey.xlsx", 0, "1 to"), ("survey.xlsx", 9999, "1 to")],
)
def test_what_cannot_be_made_is_said(name: str, rows: int, said: str, tmp_path: Path) -> None:
    with pytest.raises(Unusable, match=said):
        new_workbook(tmp_path / name, rows=rows)
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_cut_or_refused_by_the_writer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # A refused validation is only a warning of the library, a cut text only a negative number.
    returned: list[Any] = []
    watched = (
        "write_string",
        "write_formula",
        "write_blank",
        "write_number",
        "write_url",
        "data_validation",
        "conditional_format",
    )
    for name in (
        *watched,
        "merge_range",
        "freeze_panes",
        "repeat_rows",
        "autofilter",
        "ignore_errors",
        "set_column",
    ):
        original = getattr(xlsxwriter.worksheet.Worksheet, name)

        def watch(self: Any, *args: Any, _original: Any = original, **more: Any) -> Any:
            returned.append(_original(self, *args, **more))
            return returned[-1]

        monkeypatch.setattr(xlsxwriter.worksheet.Worksheet, name, watch)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for template in stock_templates():
            new_workbook(tmp_path / f"{template}.xlsx", template=template, rows=5)
    assert len(returned) > 1000
    assert {value for value in returned if isinstance(value, int) and value < 0} == set()


def test_the_search_for_new_functions_is_left_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The writer goes around a private step of the library; should that be renamed, this says so.
    def searched(self: Any, formula: str, expand_future_functions: bool = False) -> str:
        raise AssertionError(f"searched {formula}")

    monkeypatch.setattr(xlsxwriter.worksheet.Worksheet, "_prepare_formula", searched)
    assert new_workbook(tmp_path / "survey.xlsx", rows=2).path.is_file()


def test_a_blank_workbook_needs_no_heavy_library(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom workbook_tools.commands import new as new_workbook\n"
        f"new_workbook({str(tmp_path / 'survey.xlsx')!r}, rows=2)\n"
        "print(sorted({'pandas', 'pint', 'openpyxl', 'PIL', 'numpy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_long_and_odd_texts_survive_prefilling(tmp_path: Path) -> None:
    odd = [
        "=1+1",
        "@x",
        "007",
        "1/2",
        "x" * 3000,
        "http://a.b/",
        "two\nlines",
        "{=A1}",
        "é ½ ’”",
    ]
    rows = [{"tag": f"T-{number}", "remarks": text, "Firm's own": text} for number, text in enumerate(odd)]
    path = tmp_path / "survey.xlsx"
    write_survey_workbook(
        path,
        load_template("office"),
        {"equipment": rows},
        extra_columns={"equipment": ["Firm's own"]},
        rows=1,
    )
    survey = read_survey(path)
    assert [row.remarks.typed for row in survey.equipment] == odd
    assert [row.extra["Firm's own"].typed for row in survey.equipment] == odd
    assert not any(row.remarks.formula for row in survey.equipment)


def test_a_template_may_rename_drop_and_add(tmp_path: Path) -> None:
    firm = tmp_path / "firm.toml"
    firm.write_text(
        '[template]\nextends = "office"\n[sheets.equipment]\nname = "Gear & Co"\n'
        'columns = [{ field = "maker", remove = true }, { field = "volts_to_ground", remove = true }, '
        '{ field = "own", heading = "Own", after = "row_check", ask = "Ours." }]\n'
    )
    template = load_template(firm)
    write_survey_workbook(
        tmp_path / "survey.xlsx", template, {"equipment": [{"tag": "A", "own": "x"}]}, rows=2
    )
    survey = read_survey(tmp_path / "survey.xlsx", template)
    assert survey.equipment[0].values["own"].value == "x"
    assert survey.equipment[0].live["row_check"].value.startswith("Fill in: Kind")
    assert lint(tmp_path / "survey.xlsx") == []


def test_the_tags_typed_in_equipment_are_offered_on_the_other_sheets(tmp_path: Path) -> None:
    path = new_workbook(tmp_path / "survey.xlsx", rows=12).path
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what the library cannot keep of a print area is none of this
        book = openpyxl.load_workbook(path)
    source = next(cell.column_letter for cell in book["Equipment"][2] if cell.value == "Tag")
    for sheet in ("Transformers", "Clearances"):
        tag = next(cell.column_letter for cell in book[sheet][2] if cell.value == "Tag")
        (offer,) = [dv for dv in book[sheet].data_validations.dataValidation if f"{tag}5" in dv.sqref]
        assert offer.formula1.replace("'", "") == f"Equipment!${source}$3:${source}$14"
        assert not offer.showErrorMessage
