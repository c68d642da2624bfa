"""Surveys in memory for the tests of the schedule: from field notes, or made to a size."""

import csv
from pathlib import Path

from workbook_tools.definitions import load_template
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey.model import Survey

__all__ = ["BAKERY", "bakery", "read_notes"]

BAKERY = Path(__file__).parents[1] / "data" / "bakery"
"""Field notes of an invented bakery, and what an expert finds in them (expected.csv)."""

_TABLES = ("rooms", "equipment", "transformers", "clearances", "findings", "photos", "not_inspected")


def read_notes(folder: Path, template: str = "office") -> Typed:
    """Return the notes of a folder as typed cells, by the fields of a template."""
    sheets = load_template(template).by_key
    tables = {}
    for key in _TABLES:
        by_heading = {column.heading: column.field for column in sheets[key].columns}
        with (folder / f"{key}.csv").open(encoding="utf-8", newline="") as file:
            tables[key] = [
                {by_heading[heading]: text for heading, text in row.items() if text}
                for row in csv.DictReader(file)
            ]
    by_label = {column.heading: column.field for column in sheets["job"].columns}
    with (folder / "job.csv").open(encoding="utf-8", newline="") as file:
        job = {by_label[row["Item"]]: row["Value"] for row in csv.DictReader(file)}
    return Typed(job, tables)


def bakery() -> Survey:
    return survey_of(read_notes(BAKERY))
