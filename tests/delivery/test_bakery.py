"""The bakery from its notes to the client's folder, after mending, review and sign-off.

The building is invented; notes and expected answers lie in tests/data/bakery. Currents are
worked out here from kVA and volts, I = 1000 S / (sqrt(3) V) (definition of three-phase power),
needed figures stand in expected.csv in the words of the person who wrote the notes.
"""

import csv
import json
import math
import zipfile
from io import StringIO
from pathlib import Path

import frictionless
import pytest
from openpyxl import load_workbook

from tests.delivery.made_surveys import deliver, review_and_sign, write_survey
from tests.delivery.test_deliver import rows_of, texts_of
from tests.handover.published import faults, sheets_of
from workbook_tools.commands import check
from workbook_tools.delivery import Delivered
from workbook_tools.demonstration.pictures import draw_photos
from workbook_tools.errors import Unusable
from workbook_tools.files.contents import standing_in
from workbook_tools.files.csv_text import unguarded
from workbook_tools.survey import read_survey

NOTES = Path(__file__).parents[1] / "data" / "bakery"
SHEETS = {"job": "Job", "rooms": "Rooms", "equipment": "Equipment", "transformers": "Transformers",
          "clearances": "Clearances", "findings": "Findings", "photos": "Photos", "not_inspected": "Not inspected"}  # fmt: skip

# What expected.csv lists under "correct", mended as its last column says.
MENDED = [
    ("Equipment", "RP-4", "Fed from", "RP-2"),
    ("Transformers", "T-3", "Marked direction", "Step-up"),
    ("Findings", "RP-9", "Subject", "RP-3"),
]
LEFT_OUT = {"sprinkler-above": ("Leave out", "the owner knows; it is allowed")}


def notes(*, mended: bool) -> dict[str, list[list[str]]]:
    sheets = {}
    for name, title in SHEETS.items():
        rows = list(csv.reader(StringIO((NOTES / f"{name}.csv").read_text(encoding="utf-8"), newline="")))
        sheets[title] = rows[1:] if name == "job" else rows
    if mended:
        for title, subject, heading, value in MENDED:
            column = sheets[title][0].index(heading)
            row = next(row for row in sheets[title] if row[0] == subject)
            row[column] = value
        second = [row for row in sheets["Equipment"] if row[0] == "HP-1"][1]
        second[0] = "HP-1A"
        knockouts = [row for row in sheets["Findings"] if row[:2] == ["EP-1", "Open knockout"]]
        sheets["Findings"].remove(knockouts[1])
    return sheets


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> tuple[Path, Path, Path, Delivered]:
    folder = tmp_path_factory.mktemp("bakery")
    survey = write_survey(folder / "survey.xlsx", notes(mended=True))
    names = {
        name if "." in name else f"{name}.jpg": row.called
        for row, _cell, name in read_survey(survey, "office").photos_named()
    }
    photos = folder / "photos"
    draw_photos(photos, names)
    answers = {**LEFT_OUT, "confirm": ("No issue", "asked on site"), "*": ("Tell the client", "")}
    review = review_and_sign(survey, folder / "review.xlsx", answers, photos=photos)
    made = deliver(survey, output=folder / "delivery", review=review, photos=photos, handover=True)
    return survey, review, photos, made


def test_as_typed_on_site_it_is_refused_with_everything_that_is_wrong(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx", notes(mended=False))
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    with pytest.raises(Unusable) as refused:
        deliver(survey, output=tmp_path / "delivery", review=review)
    listed = str(refused.value)
    for row in rows_of(NOTES / "expected.csv"):
        assert (f"({row['subject']}, {row['rule']})" in listed) == (row["class"] == "correct"), row


def test_mended_reviewed_and_signed_it_is_delivered(job):
    *_, made = job
    assert "DRAFT" not in " ".join(made.lines)
    assert len(list((made.folder / "photos").iterdir())) == 29
    report = frictionless.validate(str(made.folder / "data" / "datapackage.json"))
    assert report.flatten(["type", "message"]) == []


def test_every_condition_of_the_expected_answers_reaches_the_client(job):
    *_, made = job
    issues = rows_of(made.folder / "data" / "issues.csv")
    for row in rows_of(NOTES / "expected.csv"):
        if row["class"] == "report":
            assert [issue for issue in issues if issue["subject"] == row["subject"]], row
    seen = {
        (issue["subject"], figure)
        for issue in issues
        for figure in ("42 in", "48 in", "30 in", "78 in", "6 in")
        if figure in issue["seen"]
    }
    assert {
        ("DP-1", "42 in"),
        ("ATS-1", "48 in"),
        ("RP-1", "30 in"),
        ("RP-2", "78 in"),
        ("RP-1", "6 in"),
    } <= seen


def test_the_inspectors_findings_reach_the_client(job):
    survey, _, _, made = job
    issues = rows_of(made.folder / "data" / "issues.csv")
    for finding in read_survey(survey, "office").findings:
        assert [i for i in issues if i["subject"].casefold() == finding.called.casefold()], finding.called


def test_currents_in_the_data_are_those_of_the_label_plates(job):
    *_, made = job
    rows = {row["tag"]: row for row in rows_of(made.folder / "data" / "transformers.csv")}
    for tag, kva, primary, secondary in (
        ("T-1", 75, 480, 208),
        ("T-2", 112.5, 480, 208),
        ("T-3", 45, 208, 480),
    ):
        row = rows[tag]
        assert float(row["primary_a"]) == pytest.approx(1000 * kva / (math.sqrt(3) * primary), abs=0.001)
        assert float(row["secondary_a"]) == pytest.approx(1000 * kva / (math.sqrt(3) * secondary), abs=0.001)
        assert float(row["turns_ratio"]) == pytest.approx(primary / secondary, abs=1e-6)


def test_what_was_left_out_is_in_the_record_alone(job):
    *_, made = job
    kept = [row for row in rows_of(made.record) if row["What"] == "Left out"]
    assert [(row["Rule"], row["Subject"], row["Reason"]) for row in kept] == [
        ("sprinkler-above", "MSB", "the owner knows; it is allowed")
    ]
    texts = " ".join(texts_of(made.folder / "schedule.xlsx"))
    assert "the owner knows" not in texts
    assert (
        "sprinkler"
        not in " ".join(
            row["issues"] for row in json.loads((made.folder / "schedule.json").read_text())["rows"]
        ).casefold()
    )


def test_the_sign_off_is_printed_and_recorded(job):
    *_, made = job
    assert any("R. Reviewer (invented)" in text for text in texts_of(made.folder / "schedule.xlsx"))
    signed = rows_of(made.record)[0]
    assert signed["What"] == "Sign-off"
    assert signed["Message"].startswith("R. Reviewer (invented), 2026-09-20: survey.xlsx, content ")


def test_everything_typed_is_in_the_data(job):
    survey, _, _, made = job
    typed = {
        (row["sheet"], row["cell"]): unguarded(row["typed"])
        for row in rows_of(made.folder / "data" / "as_typed.csv")
    }
    for sheet in load_workbook(survey).worksheets:
        for row in sheet.iter_rows(
            min_row=1 if sheet.title == "Job" else 2, min_col=2 if sheet.title == "Job" else 1
        ):
            for cell in row:
                if cell.value is not None:
                    assert typed[sheet.title, cell.coordinate] == cell.value


def test_no_photo_carries_a_position(job):
    _, _, photos, made = job
    assert any(b"Exif" in path.read_bytes() for path in photos.iterdir())
    for path in (made.folder / "photos").iterdir():
        assert b"Exif" not in path.read_bytes()
    with zipfile.ZipFile(made.folder / "schedule.xlsx") as package:
        pictures = [name for name in package.namelist() if name.endswith((".jpg", ".jpeg"))]
        assert len(pictures) == 29
        assert not [name for name in pictures if b"Exif" in package.read(name)]


def test_checking_the_photos_finds_none_missing_and_none_unused(job):
    survey, _, photos, made = job
    found = check(survey, photos=photos).problems
    assert not [problem for problem in found if problem.rule in ("photo-missing", "photo-unused")]
    about = [line for line in made.lines if "photo" in line.casefold() and "not sealed" not in line]
    assert [line for line in about if "29 photos" not in line] == []


def test_facility_systems_take_everything_from_the_handover(job):
    survey, _, _, made = job
    sheets = sheets_of(made.folder / "handover.xlsx")
    assert faults(sheets) == []
    tags = sorted(row.called for row in read_survey(survey, "office").equipment)
    assert sorted(row["TagNumber"] for row in sheets["Component"]) == tags
    issues = {row["issue"]: row for row in rows_of(made.folder / "data" / "issues.csv")}
    told = {row["ExtIdentifier"]: row for row in sheets["Attribute"] if row["Name"].startswith("Issue ")}
    assert set(told) == set(issues)
    for number, row in told.items():
        assert row["Value"] == issues[number]["seen"]
        assert row["Description"].startswith(f"{issues[number]['priority']}. ")
        assert issues[number]["subject"] in (row["RowName"], "") or row["SheetName"] == "Facility"
    photos = {row["File"] for row in sheets["Document"] if row["Directory"] == "photos"}
    named = {row["Name"] for sheet in ("Component", "Space") for row in sheets[sheet]}
    for photo in rows_of(made.folder / "data" / "delivered_photos.csv"):
        shown = {row["RowName"] for row in sheets["Document"] if photo["file"] == f"photos/{row['File']}"}
        assert {photo["subject"]} & shown or photo["subject"] not in named, photo
    assert photos == {path.name for path in (made.folder / "photos").iterdir()}
    for row in sheets["Document"]:
        assert (made.folder / row["Directory"] / row["File"]).is_file(), row


def test_the_delivery_lists_the_handover_and_tells_of_it(job):
    _, _, _, made = job
    assert made.folder / "handover.xlsx" in made.files
    assert "handover.xlsx" in standing_in(made.folder).ours
    assert any("example.invalid" in line for line in made.lines)
