"""The invented building: what its inspector typed, and what its reviewer answered.

    firm_template()           the office template with an invented firm's name on it
    notes()                   the folder of notes while it is asked for
    job_known(notes)          what an administrator knows before the visit
    typed_on_site(notes)      the notes as first typed, with the slips in them
    mended(notes)             the notes after the inspector mended the slips
    draw(notes, photos)       a drawn placeholder for each photo that the notes name
    answered(review, notes)   the review with the reviewer's answers and sign-off

The building, its people, tags and makers are invented; the photos are drawn. The notes lie
in `notes/` as CSV files, the slips in `slips.csv`, the answers in `answers.csv`.

Not here: doing the job on it (commands.demo).
"""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

from workbook_tools.definitions import Firm, Template, load_template
from workbook_tools.demonstration.pictures import draw_photos
from workbook_tools.review import Disposition, Review, SignOff

__all__ = [
    "FIRST_CHECK",
    "NUMBER",
    "SIGNED",
    "answered",
    "draw",
    "firm_template",
    "job_known",
    "mended",
    "notes",
    "typed_on_site",
]

FIRST_CHECK, SIGNED = date(2026, 10, 7), date(2026, 10, 8)
REVIEWER = "Reviewer B (invented)"
NUMBER = "DEMA-2026-QUAY"
"""The number of the invented survey; of a true one it is drawn at random."""


def notes() -> AbstractContextManager[Path]:
    """Return the folder of notes, for as long as the context lasts."""
    return as_file(files(__name__) / "notes")


def firm_template() -> Template:
    """Return the office template with an invented firm's name on it."""
    firm = Firm("Plumb Line Surveys (invented)", ("3 Quay Road, Eastmere (invented)",))
    return replace(load_template("office"), firm=firm)


def _rows(path: Path) -> list[dict[str, str]]:
    with open(path, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def job_known(notes: Path) -> dict[str, str]:
    """Return what an administrator knows before the visit."""
    known = {row["Item"]: row["Value"] for row in _rows(notes / "job.csv")}
    return {item: known[item] for item in ("Property", "Address", "Client", "Report no.", "Code profile")}


def draw(notes: Path, photos: Path) -> None:
    """Draw a placeholder for each photo that the notes name."""
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
def mended(notes: Path) -> Iterator[Path]:
    """Yield the notes alone, as they are after the inspector mended them."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "notes"
        folder.mkdir()
        for path in notes.glob("*.csv"):
            if path.name not in ("slips.csv", "answers.csv"):
                shutil.copyfile(path, folder / path.name)  # not its rights: an install may be read-only
        yield folder


@contextmanager
def typed_on_site(notes: Path) -> Iterator[Path]:
    """Yield the notes with the slips in them."""
    with mended(notes) as folder:
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


def answered(review: Review, notes: Path) -> Review:
    """Return the review as the reviewer hands it back: every entry answered, name and date on it."""
    answers = {(row["Rule"], row["Subject"]): row for row in _rows(notes / "answers.csv")}
    entries = []
    for entry in review.entries:
        answer = answers.get((entry.problem.rule, entry.problem.subject))
        chosen = Disposition.TELL.value if entry.problem.class_ in ("report", "finding") else ""
        entries.append(
            replace(entry, disposition=answer["Disposition"], reason=answer["Reason"])
            if answer
            else replace(entry, disposition=chosen)
        )
    sign_off = SignOff(REVIEWER, SIGNED.isoformat(), review.sign_off.statement)
    return replace(review, entries=entries, sign_off=sign_off)
