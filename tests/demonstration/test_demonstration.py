"""The demonstration is the whole job, and the files in demo_workbooks are what it writes."""

from __future__ import annotations

import csv
import json
import shutil
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader

from workbook_tools.cli import main
from workbook_tools.commands import check, deliver
from workbook_tools.commands.demo import (
    BLANK,
    DELIVERY,
    FIRST_REVIEW,
    FROM_SITE,
    MENDED,
    PDF,
    PHOTOS,
    SIGNED_REVIEW,
    demo,
)
from workbook_tools.demonstration import SIGNED, typed_on_site
from workbook_tools.errors import Unusable
from workbook_tools.files.contents import standing_in
from workbook_tools.review.columns import SEAL_SHEET, SIGN_OFF_LABELS
from workbook_tools.spreadsheet import read_workbook

ROOT = Path(__file__).resolve().parents[2]
COMMITTED = ROOT / "demo_workbooks"
WORKBOOKS = [BLANK, FROM_SITE, FIRST_REVIEW, MENDED, SIGNED_REVIEW, f"{DELIVERY}/schedule.xlsx"]
# When a file was made is no part of what it says.
DATED = {"created", "hash", "bytes"}


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("a place with spaces and ümlauts") / "demo"
    return demo(folder)


@cache
def cells(path: Path):
    book = read_workbook(path)
    return {
        sheet.name: {place: (cell.kind, cell.value, cell.formula) for place, cell in sheet.cells.items()}
        for sheet in book.sheets
        if sheet.name != SEAL_SHEET
    }


def without_the_mark(sheets):
    """Return the cells but for the seal of a review: it changes with every line of the rules."""
    sign_off = dict(sheets.get("Sign-off", {}))
    for (row, column), (_, text, _) in list(sign_off.items()):
        if text == SIGN_OFF_LABELS["mark"]:
            sign_off.pop((row, column + 1))
    return {**sheets, "Sign-off": sign_off} if sign_off else sheets


def undated(value):
    if isinstance(value, dict):
        return {key: undated(inner) for key, inner in value.items() if key not in DATED}
    if isinstance(value, list):
        return [undated(inner) for inner in value]
    return value


@pytest.mark.parametrize("name", WORKBOOKS)
def test_the_committed_workbook_is_what_the_demonstration_writes(name, made):
    ours, theirs = (without_the_mark(cells(folder / name)) for folder in (made.folder, COMMITTED))
    assert list(ours) == list(theirs)
    different = [
        (sheet, place, ours[sheet].get(place), theirs[sheet].get(place))
        for sheet in ours
        for place in ours[sheet].keys() | theirs[sheet].keys()
        if ours[sheet].get(place) != theirs[sheet].get(place)
    ]
    assert different == [], "run python -m workbook_tools.demonstration.rewrite"


def test_the_committed_data_is_what_the_demonstration_writes(made):
    ours, theirs = made.folder / DELIVERY, COMMITTED / DELIVERY
    for path in sorted((ours / "data").glob("*.csv")):
        assert path.read_text(encoding="utf-8") == (theirs / "data" / path.name).read_text(encoding="utf-8")
    for name in ("schedule.json", "data/datapackage.json"):
        one, other = (json.loads((folder / name).read_text(encoding="utf-8")) for folder in (ours, theirs))
        assert undated(one) == undated(other)


def test_the_committed_pdf_says_what_the_demonstration_prints(made):
    ours, theirs = (
        [page.extract_text() for page in PdfReader(folder / DELIVERY / PDF).pages]
        for folder in (made.folder, COMMITTED)
    )
    assert ours == theirs


def test_the_committed_photos_are_those_of_the_notes(made):
    assert {p.name for p in (made.folder / PHOTOS).iterdir()} == {
        p.name for p in (COMMITTED / PHOTOS).iterdir()
    }


def test_it_says_in_ten_lines_what_it_made(made):
    assert len(made.lines) == 10
    assert all((made.folder / name).exists() for name in (*WORKBOOKS, PHOTOS, f"{DELIVERY}/data"))
    for name in (*WORKBOOKS, PHOTOS):
        assert any(name in line for line in made.lines)


def test_the_building_has_what_it_promises():
    survey = check(COMMITTED / MENDED).survey
    kinds = Counter(row.stock_kind for row in survey.equipment)
    sources = {name for row in survey.equipment for name in row.fed_from.value or ()}
    assert len(survey.equipment) >= 40
    assert {"Utility", "Utility 2", "PV array", "GEN-1"} <= sources
    assert kinds["Service disconnect"] == 2
    assert kinds["PV inverter"] >= 1
    directions = Counter(row.marked_direction.value for row in survey.transformers)
    assert directions["Step-up"] == 1
    assert directions["Step-down"] >= 3
    assert any("high leg" in str(row.voltage.value) for row in survey.equipment)


def test_it_has_faults_of_every_priority():
    told = json.loads((COMMITTED / DELIVERY / "schedule.json").read_text(encoding="utf-8"))
    assert {c["priority"] for c in told["conditions"]} == {"Act now", "Correct soon", "Upkeep", "Record"}


def test_a_question_that_the_reviewer_included_ranks_as_a_condition():
    told = json.loads((COMMITTED / DELIVERY / "schedule.json").read_text(encoding="utf-8"))
    (way_out,) = [c["priority"] for c in told["conditions"] if c["subject"] == "MSB-1"]
    assert way_out == "Correct soon"


def test_its_signed_review_is_delivered_as_anybody_would(made, tmp_path):
    delivered = deliver(
        made.folder / MENDED,
        output=tmp_path / "delivery",
        review=made.folder / SIGNED_REVIEW,
        photos=made.folder / PHOTOS,
        today=SIGNED,
    )
    assert delivered.folder.is_dir()


def test_every_slip_is_found_and_mended():
    notes = ROOT / "workbook_tools" / "demonstration" / "notes" / "slips.csv"
    with open(notes, newline="", encoding="utf-8") as file:
        slips = list(csv.DictReader(file))
    found = check(COMMITTED / FROM_SITE).problems
    for slip in slips:
        assert any(p.subject == slip["Tag"] and p.class_ in ("correct", "confirm") for p in found), slip
    assert not [p for p in check(COMMITTED / MENDED).problems if p.class_ == "correct"]


def test_an_existing_folder_is_left_alone(tmp_path, capsys):
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(Unusable, match="exists already"):
        demo(tmp_path)
    assert main(["demo", str(tmp_path)]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]


def test_a_forced_demonstration_deletes_nothing_of_the_users(made, tmp_path):
    folder = shutil.copytree(made.folder, tmp_path / "demo")
    for name in ("photos/mine.jpg", "delivery/photos/mine.jpg", "delivery/data/mine.csv"):
        (folder / name).write_text("mine")
    (folder / BLANK).write_bytes(b"filled in by me")
    with pytest.raises(Unusable, match=f"{BLANK} was changed since it was written"):
        demo(folder, force=True)
    assert (folder / BLANK).read_bytes() == b"filled in by me"
    (folder / BLANK).unlink()
    demo(folder, force=True)
    assert {path.name for path in folder.rglob("mine.*")} == {"mine.jpg", "mine.csv"}
    assert read_workbook(folder / BLANK).sheets


def test_the_committed_lists_name_the_committed_files():
    for folder in (COMMITTED, COMMITTED / DELIVERY):
        standing = standing_in(folder)
        assert standing.listed
        assert not standing.changed
        assert {name.split("/")[0] for name in standing.others} <= {"pictures", "README.md"}


def test_nothing_of_the_place_where_it_ran_is_in_its_files(made):
    place = made.folder.parent.name
    for path in made.folder.rglob("*"):
        if path.suffix == ".xlsx":
            texts = [str(c[1]) + str(c[2]) for sheet in cells(path).values() for c in sheet.values()]
            assert not [t for t in texts if place in t], path.name
        elif path.suffix in (".json", ".csv"):
            assert place not in path.read_text(encoding="utf-8"), path.name


def test_a_read_only_install_is_no_hindrance(tmp_path):
    for path in (ROOT / "workbook_tools" / "demonstration" / "notes").iterdir():
        copy = tmp_path / path.name
        copy.write_bytes(path.read_bytes())
        copy.chmod(0o444)
    with typed_on_site(tmp_path) as folder:
        assert all(path.stat().st_mode & 0o200 for path in folder.iterdir())
