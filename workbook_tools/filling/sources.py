"""What a fill source is, before anything is placed: its sheets as texts.

    read_source(path)    a Source from a folder of CSV files, a workbook, or a CSV, JSON, Markdown or text file
    Source, SourceSheet  the sheets, which cells a formula made, what else should be said

Not here: which heading means what (headings), and where rows go (placing).
"""

from __future__ import annotations

import os
from collections.abc import Collection
from dataclasses import dataclass, field
from pathlib import Path

from workbook_tools.definitions import Template
from workbook_tools.errors import Unusable
from workbook_tools.filling.csv_tables import decode, read_csv
from workbook_tools.filling.data_packages import is_package, read_package
from workbook_tools.filling.model import first_of
from workbook_tools.filling.text_forms import is_markdown, is_prose, read_json, read_markdown
from workbook_tools.spreadsheet import cell_name, read_workbook
from workbook_tools.survey.headings import Grid
from workbook_tools.survey.origin import another_kind, stated_template, template_of

__all__ = ["Source", "SourceSheet", "read_source"]

_CSV_ENDINGS = (".csv", ".tsv", ".txt")
_TEXT_ENDINGS = (*_CSV_ENDINGS, ".json", ".md")
_LOOKED_AT = 20_000


@dataclass(frozen=True)
class SourceSheet:
    """One sheet (or text file) of a source; `computed` are the cells that hold a formula."""

    grid: Grid
    label: str
    file: str = ""
    computed: Collection[tuple[int, int]] = frozenset()


@dataclass(frozen=True)
class Source:
    """A fill source; `remarks` are sentences about it.

    `survey` tells a survey from any other list, `template` which template it says it was made
    from ("" where it does not); `printed` are the words that such a
    workbook prints itself: headings, what to fill in, the line on top.
    """

    name: str
    sheets: list[SourceSheet]
    survey: bool = False
    template: str = ""
    printed: Collection[str] = frozenset()
    remarks: list[str] = field(default_factory=list)


def read_source(source: str | os.PathLike[str]) -> Source:
    """Read a fill source whole.

    Raises
    ------
    Unusable
        There is no such folder or file, it cannot be read, or a folder holds no CSV file.
    """
    path = Path(source)
    try:
        if path.is_dir():
            return _from_folder(path)
        if not path.is_file():
            raise Unusable(f"There is nothing to fill from at {path}: check the path.")
    except (OSError, ValueError):
        raise Unusable(f"There is nothing to fill from at {path}: check the path.") from None
    if path.suffix.casefold() in _TEXT_ENDINGS and not _is_zip(path):
        return Source(path.name, _from_text(path))
    return _from_workbook(path)


def _from_text(path: Path) -> list[SourceSheet]:
    ending = path.suffix.casefold()
    if ending == ".json":
        return [SourceSheet(grid, f"{path.name}, {grid.name}", path.name) for grid in read_json(path)]
    if ending == ".md" or (
        ending == ".txt" and (text := _beginning(path)) and (is_markdown(text) or is_prose(text))
    ):
        grid = read_markdown(path)
    else:
        grid = read_csv(path)
    return [SourceSheet(grid, path.name, path.name)]


def _beginning(path: Path) -> str:
    """Return the first lines of a text file, "" where it is none."""
    try:
        with path.open("rb") as file:
            return decode(file.read(_LOOKED_AT), path.name).rpartition("\n")[0] or decode(
                path.read_bytes(), path.name
            )
    except (OSError, Unusable):
        return ""


def _is_zip(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(4) == b"PK\x03\x04"
    except OSError:
        return False


def _from_delivery(path: Path) -> Source:
    tables, left = read_package(path)
    remarks = [
        "This is the data of a delivery: the rows of its survey were taken, each under its own heading."
    ]
    if left:
        remarks.append(f"Not taken, since it follows from the rows: {', '.join(left)}.")
    return Source(path.name, [SourceSheet(grid, file, file) for grid, file in tables], True, remarks=remarks)


def _from_folder(path: Path) -> Source:
    data = path / "data"
    if is_package(path) or (is_package(data) and not any(path.glob("*.csv"))):
        return _from_delivery(path if is_package(path) else data)
    files = sorted(
        (f for f in path.iterdir() if f.is_file() and not f.name.startswith(".")), key=lambda f: f.name
    )
    tables = [f for f in files if f.suffix.casefold() in _CSV_ENDINGS]
    if not tables:
        raise Unusable(
            f"The folder {path} holds no CSV file: name a folder with files such as job.csv and equipment.csv, or one file."
        )
    others = [f.name for f in files if f not in tables]
    remarks = []
    if others:
        remarks.append(f"Not read, since no CSV: {first_of(others)}.")
    return Source(
        path.name or str(path), [SourceSheet(read_csv(f), f.name, f.name) for f in tables], remarks=remarks
    )


def _from_workbook(path: Path) -> Source:
    workbook = read_workbook(path)
    other = another_kind(workbook)
    if other:
        raise Unusable(
            f"{path.name} is {other}, not a list to fill from: choose the survey workbook, or a list of the equipment."
        )
    sheets, turned = [], []
    for sheet in workbook.sheets:
        texts, computed = {}, set()
        for place, cell in sheet.cells.items():
            if cell.text.strip():
                texts[place] = cell.text
            if cell.formula is not None:
                computed.add(place)
            if cell.kind == "error" and cell.text:
                turned.append(f"{sheet.name}!{cell_name(*place)} reads {cell.text}")
        sheets.append(
            SourceSheet(Grid(sheet.name, texts, sheet.merged), f"sheet {sheet.name}", path.name, computed)
        )
    remarks = [f"{damage.says}" for damage in workbook.damage]
    if turned:
        remarks.append(f"A spreadsheet error stands where an answer was: {first_of(turned, 5, '; ')}.")
    if workbook.pictures:
        remarks.append(
            f"{len(workbook.pictures)} pictures stay in {path.name}; a survey names photos by their files."
        )
    stated = stated_template(workbook)
    if stated is None:
        return Source(path.name, sheets, remarks=remarks)
    return Source(path.name, sheets, True, stated[1], _printed_words(template_of(workbook, None)[0]), remarks)


def _printed_words(template: Template) -> frozenset[str]:
    words = {text for sheet in template.sheets for text in (sheet.name, sheet.ask)}
    return frozenset(words | {text for s in template.sheets for c in s for text in (c.heading, c.ask)} - {""})
