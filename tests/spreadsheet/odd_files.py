"""Odd or damaged but readable workbooks, each with the reading expected.

    CORPUS           every file: OddFile(name, content, cells, ...)
    write_corpus     the files, and expected.json beside them, in a folder

    python -m tests.spreadsheet.odd_files FOLDER

The kinds were found in files that programs and people really make, or are the ways
in which workbooks arrive broken. Expected cells are written as Python values: a text,
a number, a boolean, or a pair of kind and text.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from tests.spreadsheet.odd_ods import ODS_FILES
from tests.spreadsheet.odd_parts import PART_FILES
from tests.spreadsheet.odd_values import VALUE_FILES
from tests.spreadsheet.odd_xml import XML_FILES
from tests.spreadsheet.readings import OddFile

__all__ = ["CORPUS", "write_corpus"]

CORPUS: dict[str, OddFile] = {file.name: file for file in (*VALUE_FILES, *PART_FILES, *XML_FILES, *ODS_FILES)}


def write_corpus(folder: Path) -> list[Path]:
    """Write every file of the corpus and what is expected of it."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for file in CORPUS.values():
        path = folder / file.name
        path.write_bytes(file.content)
        written.append(path)
    expected = {
        file.name: {
            "cells": file.cells,
            "formulas": file.formulas,
            "damage": file.damage,
            "hidden": file.hidden,
        }
        for file in CORPUS.values()
    }
    (folder / "expected.json").write_text(
        json.dumps(expected, indent=1, ensure_ascii=False), encoding="utf-8"
    )
    return written


if __name__ == "__main__":
    print(f"{len(write_corpus(Path(sys.argv[1])))} files")
