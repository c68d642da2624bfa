"""Filling from files that the tool itself wrote: data of a delivery, a review, a schedule, a survey of another template."""

from pathlib import Path
from typing import Any

import pytest

from tests.delivery.made_surveys import SHEETS, write_survey
from workbook_tools import new as new_workbook
from workbook_tools.commands import check, deliver
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import read_fill
from workbook_tools.survey import Survey, read_survey

OFFICE = load_template("office")


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a survey, its review and a draft of its delivery."""
    folder = tmp_path_factory.mktemp("job")
    survey = write_survey(folder / "survey.xlsx", SHEETS)
    check(survey, output=folder / "review.xlsx")
    deliver(survey, output=folder / "delivery", draft=True)
    return folder


def typed(survey: Survey, key: str) -> list[dict[str, Any]]:
    """Return what was typed in each row of a table, but for the answers of one visit."""
    rows = survey.tables[key]
    visit = {c.field for c in rows[0].definition if c.each_visit or c.carried} if rows else set()
    return [
        {
            field: v.value if v.answered else v.typed
            for field, v in row.values.items()
            if v.typed and field not in visit
        }
        for row in rows
    ]


@pytest.mark.parametrize(
    ("file", "what"),
    [("review.xlsx", "a review workbook"), ("delivery/schedule.xlsx", "a client schedule")],
)
def test_a_review_or_a_schedule_is_no_list(job: Path, tmp_path: Path, file: str, what: str) -> None:
    with pytest.raises(Unusable, match=f"{Path(file).name} is {what}, not a list to fill from"):
        new_workbook(tmp_path / "new.xlsx", fill=job / file, rows=10)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("folder", ["delivery/data", "delivery"])
def test_the_data_of_a_delivery_gives_its_survey_again(job: Path, tmp_path: Path, folder: str) -> None:
    made = new_workbook(tmp_path / "new.xlsx", fill=job / folder, rows=10)
    before, after = (read_survey(path, "office") for path in (job / "survey.xlsx", made.path))
    for key in ("rooms", "equipment", "transformers", "clearances", "findings", "not_inspected"):
        assert typed(after, key) == typed(before, key), key
    # Nothing of what the delivery computed or concluded is typed anywhere in the new workbook.
    own = {heading for row in after.rows() for heading in row.extra if "2026-09-16" not in heading}
    assert own == {heading for row in before.rows() for heading in row.extra}
    assert after.equipment[0].extra["Key no."].typed == "=K7"
    assert made.filled is not None
    told = " ".join(made.filled.lines)
    assert "issues.csv" in told
    assert "limits.csv" in told


def test_other_csv_files_beside_another_description_are_read_as_ever(tmp_path: Path) -> None:
    (tmp_path / "datapackage.json").write_text('{"name": "weather", "resources": []}', encoding="utf-8")
    (tmp_path / "equipment.csv").write_text("Tag,Kind\nLP-1,Panelboard\n", encoding="utf-8")
    assert [row["tag"] for row in read_fill(tmp_path, OFFICE).tables["equipment"]] == ["LP-1"]


@pytest.mark.parametrize("text", ["", "[]", '{"name": "electrical-survey"}', "\x00"])
def test_a_broken_description_is_none(tmp_path: Path, text: str) -> None:
    (tmp_path / "datapackage.json").write_text(text, encoding="utf-8")
    (tmp_path / "equipment.csv").write_text("Tag,Kind\nLP-1,Panelboard\n", encoding="utf-8")
    assert [row["tag"] for row in read_fill(tmp_path, OFFICE).tables["equipment"]] == ["LP-1"]


def test_the_template_of_the_earlier_survey_is_kept(tmp_path: Path) -> None:
    earlier = new_workbook(
        tmp_path / "school.xlsx", template="school", job={"Property": "Hill School (invented)"}, rows=10
    ).path
    made = new_workbook(tmp_path / "new.xlsx", fill=earlier, rows=10)
    assert made.template == "school"
    assert made.filled is not None
    assert "school.xlsx was made from the template school, so this one is too" in made.filled.lines[0]
    named = new_workbook(tmp_path / "office.xlsx", fill=earlier, template="office", rows=10)
    assert named.template == "office"
    assert named.filled is not None
    assert "so this one is too" not in " ".join(named.filled.lines)


def test_a_firms_own_template_is_asked_for(tmp_path: Path) -> None:
    firm = tmp_path / "firm.toml"
    firm.write_text('[template]\nname = "firm"\nextends = "school"\n', encoding="utf-8")
    earlier = new_workbook(tmp_path / "last.xlsx", template=firm, rows=10).path
    made = new_workbook(tmp_path / "new.xlsx", fill=earlier, rows=10)
    assert made.template == "office"
    assert made.filled is not None
    assert "'firm', which is no stock template" in made.filled.lines[0]
    assert new_workbook(tmp_path / "again.xlsx", fill=earlier, template=firm, rows=10).template == "firm"


def test_without_a_source_it_is_the_office(tmp_path: Path) -> None:
    assert new_workbook(tmp_path / "new.xlsx", rows=10).template == "office"


@pytest.mark.parametrize(
    ("word", "count"), [("Total", "6 pieces"), ("TOTAL:", "6"), ("Grand total", "6 pcs.")]
)
def test_a_total_before_a_count_is_no_equipment(tmp_path: Path, word: str, count: str) -> None:
    path = tmp_path / "list.csv"
    path.write_text(
        f"Room,Panel,Amps\nBoiler room,LP-1,225\nYard,LP-2,100\n{word},{count},325\n", encoding="utf-8"
    )
    made = new_workbook(tmp_path / "new.xlsx", fill=path, rows=10)
    survey = read_survey(made.path)
    assert [row.called for row in survey.equipment] == ["LP-1", "LP-2"]
    kept = " ".join(str(v.typed) for values in survey.other_sheets.values() for v in values)
    assert count in kept
    assert word in kept


def test_a_room_that_only_begins_so_is_a_room(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Room,Panel,Amps\nTotal storage,6,225\nYard,LP-2,100\n", encoding="utf-8")
    made = new_workbook(tmp_path / "new.xlsx", fill=path, rows=10)
    assert [row.called for row in read_survey(made.path).equipment] == ["6", "LP-2"]
