"""A survey as a phone takes it down: dictated, lower case, abbreviated, units mixed; what check says of it is golden.

The survey is invented (tests/data/phone); check.txt holds what the terminal shows and the notes that it folds away.
`python -m tests.checking.test_phone_survey` rewrites it; it is read aloud, line by line, before it is committed.
"""

import re
import tempfile
from pathlib import Path

import pytest

from tests.survey.surveys import sheets_of_notes, write_workbook
from workbook_tools.checking import Checked, check_survey
from workbook_tools.checking.report import summary
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.survey import read_survey

PHONE = Path(__file__).resolve().parents[1] / "data" / "phone"
GOLDEN = PHONE / "check.txt"
PHOTOS = (
    "IMG_2044.jpg",
    "IMG_2051.jpg",
    "IMG_2060.jpg",
    "h1 and msb.jpg",
    "lp1 dir.jpg",
    "lp1_2.jpg",
    "t1 plate.jpg",
)


def checked(folder: Path) -> Checked:
    survey = read_survey(write_workbook(folder / "granary.xlsx", sheets_of_notes(PHONE)), "office")
    return check_survey(survey, PhotoFolder(folder, PHOTOS, {}))


def said(folder: Path) -> str:
    found = checked(folder)
    notes = [
        f"{note.place}  {note.subject}  {note.rule}\n  {note.message}"
        for note in found.problems
        if note.class_ == "note"
    ]
    return "\n".join([summary(found), "", "The notes in full:", *notes, ""])


@pytest.fixture(scope="module")
def phone(tmp_path_factory: pytest.TempPathFactory) -> Checked:
    return checked(tmp_path_factory.mktemp("phone"))


def test_check_says_of_it_what_a_person_has_read_aloud(tmp_path: Path):
    assert said(tmp_path) == GOLDEN.read_text(encoding="utf-8")


def test_every_message_is_a_sentence_whatever_was_typed(phone: Checked):
    tags = {row.called for row in phone.survey.rows()}
    for problem in phone.problems:
        begins = problem.message[0]
        assert begins.isupper() or any(problem.message.startswith(tag) for tag in tags), problem.message
        assert problem.message.endswith((".", "?")), problem.message
        assert not re.search(r"\b(\w+) \1\b|  |\.\.|None\b(?! of)", problem.message.partition("reads")[0]), (
            problem.message
        )


def test_tags_stand_as_they_were_typed(phone: Checked):
    typed = {row.called for row in phone.survey.rows()} | {"Job", "Edition of the code", *PHOTOS}
    assert {problem.subject for problem in phone.problems} - {""} <= typed


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        GOLDEN.write_text(said(Path(scratch)), encoding="utf-8")
