"""The data beside the schedule: one CSV file for each table, described by a Data Package.

    write_data(tables, folder, about)   the CSV files and datapackage.json

The description follows Data Package and Table Schema (DATAPACKAGE-2 in the sources): types,
units in the descriptions, what stands for a missing value, keys, size and hash of each file.

Not here: what the tables hold (tables, table_schema); how a text is kept from being run (csv_text).
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from workbook_tools.files.csv_text import write_csv
from workbook_tools.files.table_schema import DataField, DataTable

__all__ = ["TEXT_GUARD", "write_data"]

TEXT_GUARD = (
    "A text in which a spreadsheet program could see a formula has an apostrophe put in: before one of "
    "= + - @ ' or a tab or line break, where that stands at the start of the text or after a ; | tab or line break "
    "(quotation marks between passed over). To have the text as it was, take one apostrophe off wherever it stands "
    "at such a place."
)


def write_data(tables: Iterable[DataTable], folder: Path, about: Mapping[str, str]) -> None:
    """Write the tables and their description to a folder.

    Parameters
    ----------
    tables : iterable of DataTable
        Each becomes NAME.csv.
    folder : path
        Where to write; made where it is not there.
    about : mapping
        "title" and "description" of the package, "created" as an ISO date and time; "name" where it is not a survey.
    """
    folder.mkdir(exist_ok=True)
    resources = []
    for table in tables:
        content = write_csv([[column.name for column in table.fields], *table.rows])
        (folder / f"{table.name}.csv").write_bytes(content)
        resources.append(_resource(table, content))
    package = {
        "name": "electrical-survey",
        **about,
        "keywords": ["electrical", "survey", "equipment", "working space"],
        "text_guard": TEXT_GUARD,
        "resources": resources,
    }
    text = json.dumps(package, ensure_ascii=False, indent=1)
    (folder / "datapackage.json").write_text(text + "\n", encoding="utf-8")


def _resource(table: DataTable, content: bytes) -> dict[str, Any]:
    return {
        "name": table.name,
        "type": "table",
        "title": table.title,
        "description": table.description,
        "path": f"{table.name}.csv",
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(content),
        "hash": f"sha256:{hashlib.sha256(content).hexdigest()}",
        "schema": {
            "fields": [_field(column, table) for column in table.fields],
            "missingValues": list(table.missing),
            "missing_values_mean": table.missing,
            "primaryKey": list(table.key),
            "foreignKeys": [
                {"fields": [name], "reference": {"resource": other, "fields": ["row"]}}
                for name, other in table.refers.items()
            ],
        },
    }


def _field(column: DataField, table: DataTable) -> dict[str, Any]:
    constraints = dict(column.constraints)
    if column.name in table.key:
        constraints["required"] = True
    described = {
        "name": column.name,
        "type": column.type,
        "title": column.title,
        "description": column.description,
    }
    return {**described, "constraints": constraints} if constraints else described
