"""How a list to fill from is written down with where each of its columns belongs, and how a filling is held against it.

Listed          one list: its file, its cells as text, where each heading belongs, how many rows of equipment
write(listed)   the file, in the form that its name says
score(listed)   Score: headings right, wrong and missed, texts lost, rows that are no equipment
"""

from __future__ import annotations

import csv
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import xlsxwriter

from workbook_tools.definitions import Template
from workbook_tools.filling import Filling, read_fill

__all__ = ["Listed", "Score", "grid_of", "score", "score_of", "write"]


@dataclass(frozen=True)
class Listed:
    """One list. `text` has its cells parted by " | "; a file named .md, .txt or .json is written as it stands.

    `homes` names for each heading its fields ("equipment.voltage equipment.phase"), "" where it
    has none; behind "/" stand fields that it may be taken for besides. `rows` counts the rows of
    equipment (of transformers or clearances where the list has nothing else).
    """

    name: str
    file: str
    text: str
    homes: Mapping[str, str]
    rows: int
    merged: tuple[str, ...] = ()


@dataclass
class Score:
    """What became of a list's headings."""

    right: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    rows: int = 0


def grid_of(listed: Listed) -> list[list[str]]:
    lines = textwrap.dedent(listed.text).strip("\n").splitlines()
    return [[cell.strip().replace("\\n", "\n") for cell in line.split("|")] for line in lines]


def write(listed: Listed, folder: Path) -> Path:
    path = folder / listed.file
    if path.suffix in (".md", ".txt", ".json"):
        path.write_text(textwrap.dedent(listed.text).strip("\n") + "\n", encoding="utf-8")
    elif path.suffix == ".csv":
        with path.open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(grid_of(listed))
    else:
        with xlsxwriter.Workbook(path) as book:
            sheet = book.add_worksheet("Sheet1")
            for row, texts in enumerate(grid_of(listed)):
                for column, text in enumerate(texts):
                    if text:
                        sheet.write(row, column, _as_number(text))
            for place in listed.merged:
                first = place.partition(":")[0]
                from xlsxwriter.utility import xl_cell_to_rowcol

                row, column = xl_cell_to_rowcol(first)
                sheet.merge_range(place, _as_number(grid_of(listed)[row][column]))
    return path


def _as_number(text: str) -> str | float:
    try:
        return float(text) if not text.startswith("0") else text
    except ValueError:
        return text


def score(listed: Listed, folder: Path, template: Template) -> Score:
    path = write(listed, folder)
    return score_of(listed, read_fill(path, template), path)


def score_of(listed: Listed, filling: Filling, path: Path) -> Score:
    assert filling.report is not None
    went: dict[str, set[str]] = {}
    for taken in filling.report.taken:
        went.setdefault(taken.heading, set()).add(f"{taken.key}.{taken.field}")
    out = Score(rows=len(filling.tables.get("equipment", [])))
    for heading, said in listed.homes.items():
        must, _, may = said.partition("/")
        wanted, found = set(must.split()), went.get(heading, set())
        allowed = wanted | set(may.split())
        if any(place.endswith(".tag") for place in wanted):
            allowed |= {"equipment.tag", "transformers.tag", "clearances.tag"}
        if found - allowed:
            out.wrong.append(f"{heading}: {', '.join(sorted(found - allowed))}")
        elif wanted and wanted <= found:
            out.right.append(heading)
        elif wanted:
            out.missed.append(f"{heading}: {', '.join(sorted(wanted - found))}")
    return out
