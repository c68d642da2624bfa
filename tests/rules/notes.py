"""Field notes in CSV files, as a survey in memory."""

import csv
from pathlib import Path

from workbook_tools.definitions import load_template
from workbook_tools.rules.rule import Typed

BAKERY = Path(__file__).parents[1] / "data" / "bakery"


def typed_notes(folder: Path) -> Typed:
    """Return the notes as typed cells; their headings are those of the stock template."""
    template = load_template("office")
    tables = {}
    for key, sheet in template.by_key.items():
        path = folder / f"{key}.csv"
        if sheet.layout != "table" or not path.exists():
            continue
        fields = {column.heading: column.field for column in sheet.typed}
        with path.open(encoding="utf-8", newline="") as file:
            tables[key] = [{fields[name]: text for name, text in row.items()} for row in csv.DictReader(file)]
    labels = {column.heading: column.field for column in template.by_key["job"].typed}
    with (folder / "job.csv").open(encoding="utf-8", newline="") as file:
        job = {labels[row["Item"]]: row["Value"] for row in csv.DictReader(file)}
    return Typed(job, tables)


def expected_problems(folder: Path) -> list[dict[str, str]]:
    with (folder / "expected.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
