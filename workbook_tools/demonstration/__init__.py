"""All of the job on an invented building: from the blank workbook to the client's folder.

    demo(folder)     writes every file of the job and returns what was made

The building, its people, tags and makers are invented; the photos are drawn. The notes lie
in `notes/` as CSV files: what the inspector typed, the slips in it (`slips.csv`), and what
the reviewer answered (`answers.csv`).
"""

from __future__ import annotations

import csv
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbook_tools.definitions import Template
    from workbook_tools.review import Review

__all__ = ["Demonstration", "demo"]

BLANK = "1-blank-survey.xlsx"
FROM_SITE = "2-survey-from-site.xlsx"
FIRST_REVIEW = "3-first-review.xlsx"
MENDED = "4-survey-mended.xlsx"
SIGNED_REVIEW = "5-signed-review.xlsx"
DELIVERY = "delivery"
PHOTOS = "photos"

FIRST_CHECK, SIGNED = date(2026, 10, 7), date(2026, 10, 8)
REVIEWER = "Reviewer B (invented)"
ROWS = 60  # enough for this building; the stock workbook has more


@dataclass(frozen=True, slots=True)
class Demonstration:
    """The folder that was made, and what to say about it."""

    folder: Path
    lines: tuple[str, ...]


def demo(folder: str | os.PathLike[str], *, force: bool = False) -> Demonstration:
    """Do the whole job on the invented building.

    Parameters
    ----------
    folder : path
        The folder to make. It appears whole or not at all.
    force : bool, optional
        Replace the files of an earlier demonstration.

    Returns
    -------
    demonstration : Demonstration

    Raises
    ------
    Unusable
        The folder exists already, or cannot be written.
    """
    from workbook_tools.checking import check
    from workbook_tools.delivery import deliver
    from workbook_tools.output import whole_folder
    from workbook_tools.survey_workbook import new_workbook

    template = _template()
    with whole_folder(folder, force=force) as made, as_file(files(__name__) / "notes") as notes:
        photos = made / PHOTOS
        _draw(notes, photos)
        new_workbook(made / BLANK, template=template, job=_job(notes), rows=ROWS)
        with _with_slips(notes) as slipped:
            new_workbook(made / FROM_SITE, template=template, fill=slipped, rows=ROWS)
        first = check(made / FROM_SITE, template=template, photos=photos)
        _write_review(made / FROM_SITE, made / FIRST_REVIEW, photos, None, FIRST_CHECK)
        with _without_slips(notes) as mended:
            new_workbook(made / MENDED, template=template, fill=mended, rows=ROWS)
        _sign(made / MENDED, made / FIRST_REVIEW, made / SIGNED_REVIEW, photos, notes)
        deliver(
            made / MENDED,
            output=made / DELIVERY,
            template=template,
            review=made / SIGNED_REVIEW,
            photos=photos,
        )
        told = json.loads((made / DELIVERY / "schedule.json").read_text(encoding="utf-8"))
        issues = len(told["conditions"])
        urgent = sum(issue["priority"] == "Act now" for issue in told["conditions"])
    target = Path(folder)
    to_correct = sum(problem.class_ == "correct" for problem in first.problems)
    made_of = (
        (BLANK, "the blank workbook, as an inspector gets it"),
        (FROM_SITE, f"filled in on site, with {to_correct} slips to correct"),
        (FIRST_REVIEW, "what the first check found, each with its cell"),
        (MENDED, "the survey after the inspector mended it"),
        (SIGNED_REVIEW, "the reviewer's answers and sign-off"),
        (
            f"{DELIVERY}/schedule.xlsx",
            f"what the client gets: {issues} issues, {urgent} of them to act on now",
        ),
        (f"{DELIVERY}/data", "the same as data"),
        (PHOTOS, "the drawn placeholder photos"),
    )
    lines = (
        f"The whole job on an invented building is in {target}:",
        *(f"  {name:<25}  {says}" for name, says in made_of),
        f"Open {target / DELIVERY / 'schedule.xlsx'} first, then {target / FROM_SITE}.",
    )
    return Demonstration(target, lines)


def _template() -> Template:
    """Return the office template with an invented firm's name on it."""
    from workbook_tools.definitions import Firm, load_template

    firm = Firm("Plumb Line Surveys (invented)", ("3 Quay Road, Eastmere (invented)",))
    return replace(load_template("office"), firm=firm)


def _rows(path: Path) -> list[dict[str, str]]:
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _job(notes: Path) -> dict[str, str]:
    """Return what an administrator knows before the visit."""
    known = {row["Item"]: row["Value"] for row in _rows(notes / "job.csv")}
    return {item: known[item] for item in ("Property", "Address", "Client", "Report no.", "Code profile")}


def _draw(notes: Path, photos: Path) -> None:
    from workbook_tools.demonstration.pictures import draw_photos

    subjects: dict[str, str] = {}
    for sheet, tag, column in (
        ("equipment", "Tag", "Photos"),
        ("transformers", "Tag", "Nameplate photo"),
        ("findings", "Subject", "Photos"),
    ):
        for row in _rows(notes / f"{sheet}.csv"):
            for name in filter(None, (n.strip() for n in row[column].split(";"))):
                seen = f": {row['What was seen']}" if row.get("What was seen") else ""
                plate = " label plate" if sheet == "transformers" else ""
                subjects[name] = subjects.get(name, row[tag]).split(":")[0] + plate + seen
    draw_photos(photos, subjects)


@contextmanager
def _without_slips(notes: Path) -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "notes"
        folder.mkdir()
        for path in notes.glob("*.csv"):
            if path.name not in ("slips.csv", "answers.csv"):
                shutil.copyfile(path, folder / path.name)  # not its rights: an install may be read-only
        yield folder


@contextmanager
def _with_slips(notes: Path) -> Iterator[Path]:
    with _without_slips(notes) as folder:
        for slip in _rows(notes / "slips.csv"):
            path = folder / f"{slip['Sheet']}.csv"
            rows = _rows(path)
            (row,) = (row for row in rows if row["Tag"] == slip["Tag"])
            row[slip["Heading"]] = slip["Typed"]
            with open(path, "w", newline="", encoding="utf-8") as file:
                writer = csv.DictWriter(file, list(rows[0]))
                writer.writeheader()
                writer.writerows(rows)
        yield folder


def _write_review(survey: Path, review: Path, photos: Path, earlier: Review | None, today: date) -> Review:
    from workbook_tools.checking import check
    from workbook_tools.review import write_review

    return write_review(check(survey, template=_template(), photos=photos), review, earlier, today=today)


def _sign(survey: Path, first: Path, signed: Path, photos: Path, notes: Path) -> None:
    """Write the review of the mended survey, answered and signed as the reviewer would."""
    from workbook_tools.review import SignOff, read_review

    review = _write_review(survey, signed, photos, read_review(first), SIGNED)
    answers = {(row["Rule"], row["Subject"]): row for row in _rows(notes / "answers.csv")}
    entries = []
    for entry in review.entries:
        answer = answers.get((entry.problem.rule, entry.problem.subject))
        chosen = "Include" if entry.problem.class_ == "report" else ""
        entries.append(
            replace(entry, disposition=answer["Disposition"], reason=answer["Reason"])
            if answer
            else replace(entry, disposition=chosen)
        )
    sign_off = SignOff(REVIEWER, SIGNED.isoformat(), review.sign_off.statement, review.sign_off.fingerprint)
    _write_review(survey, signed, photos, replace(review, entries=entries, sign_off=sign_off), SIGNED)
