"""The data of an earlier delivery as a source: the rows of the survey, and nothing else of it.

    is_package(folder)     whether a folder holds the data of a delivery
    read_package(folder)   a Grid for each table of the survey, with its file, and what was left

The folder `data` of a delivery describes itself in datapackage.json: which table is which, the
heading of every column, and what was computed. Headings and typed texts are put back as they
stood in the survey. Conditions and limits are left: they follow from the rows.

Not here: other folders of CSV files (sources).
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from workbook_tools.files.csv_text import unguarded
from workbook_tools.filling.csv_tables import read_csv
from workbook_tools.survey.headings import Grid

__all__ = ["is_package", "read_package"]

_DESCRIPTION = "datapackage.json"
_NAME = "electrical-survey"
_NO_TABLES = ("issues", "work_list", "delivered_photos", "limits", "as_typed")
_COMPUTED = "Computed, not typed."
_NOT_READABLE = "(not readable)"


def is_package(folder: Path) -> bool:
    """Say whether a folder holds the data of a delivery."""
    return bool(_resources(folder))


def read_package(folder: Path) -> tuple[list[tuple[Grid, str]], list[str]]:
    """Return the tables of the survey, each with the name of its file, and the files that were left.

    Raises
    ------
    Unusable
        One of the files cannot be read.
    """
    resources = _resources(folder)
    typed = _as_typed(folder) if any(r["name"] == "as_typed" for r in resources) else {}
    tables, left = [], []
    for resource in resources:
        file = folder / f"{resource['name']}.csv"
        if not file.is_file():
            continue
        if resource["name"] in _NO_TABLES:
            left.append(file.name)
        else:
            tables.append((_table(file, resource, typed), file.name))
    return tables, left


def _resources(folder: Path) -> list[dict[str, Any]]:
    """Return what the description says of each table; nothing where it is none of a delivery."""
    try:
        said = json.loads((folder / _DESCRIPTION).read_text(encoding="utf-8"))
        if said["name"] != _NAME:
            return []
        return [
            {"name": str(r["name"]), "title": str(r["title"]), "fields": r["schema"]["fields"]}
            for r in said["resources"]
            if Path(str(r["name"])).name == r["name"]
        ]
    except (OSError, ValueError, KeyError, TypeError):
        return []


def _rows(file: Path) -> list[dict[int, str]]:
    rows: dict[int, dict[int, str]] = {}
    for (row, column), text in read_csv(file).texts.items():
        rows.setdefault(row, {})[column] = unguarded(text)
    return [rows[row] for row in sorted(rows)]


def _as_typed(folder: Path) -> dict[tuple[str, str, str], str]:
    """Return the typed text by table, row and field."""
    file = folder / "as_typed.csv"
    if not file.is_file():
        return {}
    first, *rows = _rows(file) or [{}]
    at = {heading: column for column, heading in first.items()}
    place = [at.get(name, 0) for name in ("table", "table_row", "field", "typed")]
    cells = ([row.get(column, "") for column in place] for row in rows)
    return {(table, number, name): text for table, number, name, text in cells if name}


def _table(file: Path, resource: Mapping[str, Any], typed: Mapping[tuple[str, str, str], str]) -> Grid:
    table = str(resource["name"])
    first, *rows = _rows(file) or [{}]
    titles = _titles(resource["fields"])
    # The job has an answer in each row, under the label that stood on the sheet.
    wanted = ("label", "answer") if table == "job" else tuple(titles)
    columns = [(column, name) for column, name in sorted(first.items()) if name in wanted]
    texts = {} if table == "job" else {(1, at): titles[name] for at, (_, name) in enumerate(columns, 1)}
    for number, row in enumerate(rows, 1):
        for at, (column, name) in enumerate(columns, 1):
            text = row.get(column, "")
            if text == _NOT_READABLE:
                text = typed.get((table, str(number), name), text)
            if text.strip():
                texts[number + 1, at] = text
    return Grid(str(resource["title"]), texts)


def _titles(fields: Sequence[Mapping[str, Any]]) -> dict[str, str]:
    """Return the headings of the columns that were typed, by their names."""
    names = {str(field["name"]) for field in fields}
    return {
        name: str(field.get("title") or name)
        for field in fields
        if (name := str(field["name"])) != "row"
        and _COMPUTED not in str(field.get("description", ""))
        and not (name.endswith("_in") and name.removesuffix("_in") in names)
    }
