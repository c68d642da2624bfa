"""Lists in text files that are no CSV: Markdown tables, JSON, lines of text.

    read_markdown(path)   the tables of a text file, Markdown or aligned by blanks, with the text around, as one Grid
    read_json(path)       a Grid for each list of objects, and one for the single answers beside them
    is_prose(text)        whether a text file holds lines to be read as lines, not columns

Every text comes back as it stands in the file.
"""

from __future__ import annotations

import itertools
import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from workbook_tools.errors import Unusable
from workbook_tools.filling.csv_tables import decode
from workbook_tools.survey.headings import Grid

__all__ = ["is_markdown", "is_prose", "read_json", "read_lines", "read_markdown"]

_MOST_BYTES = 64_000_000
_RULE = re.compile(r"\s*\|?\s*:?-{2,}:?\s*(?:\|\s*:?-{2,}:?\s*)*\|?\s*")
_PARTED = re.compile(r"(?<!\\)\|")
_EMPHASIS = re.compile(r"(\*\*|__|`)(.+?)\1")
_LABELLED = re.compile(r"\s*[^:,;\t|]{1,50}:\s*\S")
_APART = re.compile(r"\s{2,}")
_RULED = re.compile(r"[-=+|\s]+")
_TITLE = re.compile(r"\s*#+\s*")


def _text_of(path: Path) -> str:
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise Unusable(f"{path.name} is over {_MOST_BYTES // 1_000_000} MB: fill from a smaller list.")
        return decode(path.read_bytes(), path.name)
    except OSError as error:
        raise Unusable(
            f"{path.name} cannot be read ({error.strerror}): check the file and try again."
        ) from None


def is_markdown(text: str) -> bool:
    """Whether a text holds a Markdown table."""
    lines = text.splitlines()
    return any(
        "|" in line and _RULE.fullmatch(line) and "|" in before for before, line in itertools.pairwise(lines)
    )


def is_prose(text: str) -> bool:
    r"""Whether a text is lines to be read as they stand: "Panel: LP-1", or a sentence a piece.

    Examples
    --------
    >>> is_prose("Panel: LP-1\nVolts: 208Y/120\n"), is_prose("Panel\tAmps\nLP-1\t225\n"), is_prose("Panel;Amps\nLP-1;225\n")
    (True, False, False)
    """
    lines = [line for line in text.splitlines() if line.strip()]
    if lines and _aligned(text):
        return True
    if not lines or any("\t" in line or "|" in line for line in lines):
        return False
    if sum(bool(_LABELLED.match(line)) for line in lines) * 2 > len(lines):
        return True
    if len({line.count(";") for line in lines}) == 1 and ";" in lines[0]:
        return False
    # A table has the same number of commas in each line, and figures in none of its first.
    return any(c.isdigit() for c in lines[0]) or len({line.count(",") for line in lines}) > 1


def read_lines(path: Path) -> Grid:
    """Read a text file line by line, each in the first column."""
    return _lines(path.stem, _text_of(path))


def _lines(name: str, text: str) -> Grid:
    return Grid(
        name, {(row, 1): line.strip() for row, line in enumerate(text.splitlines(), 1) if line.strip()}
    )


def _aligned(text: str) -> dict[tuple[int, int], str]:
    """Part lines whose columns stand below each other, two blanks apart or more; nothing where they do not, or tabs part them."""
    if sum("\t" in line for line in text.splitlines()) * 2 > sum(
        bool(line.strip()) for line in text.splitlines()
    ):
        return {}
    lines = {row: line.expandtabs().rstrip() for row, line in enumerate(text.splitlines(), 1)}
    wide = {row: line for row, line in lines.items() if len(_APART.split(line.strip())) > 2}
    if len(wide) < 2 or len(wide) * 2 < sum(bool(line) for line in lines.values()):
        return {}
    width = max(map(len, wide.values()))
    blank = [all(len(line) <= at or line[at] == " " for line in wide.values()) for at in range(width)]
    starts = [
        at for at in range(width) if not blank[at] and (at == 0 or (blank[at - 1] and blank[max(at - 2, 0)]))
    ]
    if len(starts) < 2:
        return {}
    starts[0] = 0
    texts: dict[tuple[int, int], str] = {}
    for row, line in lines.items():
        if row not in wide:
            texts |= {(row, 1): line.strip()} if line.strip() and not _RULED.fullmatch(line) else {}
        elif not _RULED.fullmatch(line):
            ends = [*starts[1:], len(line)]
            cells = (line[start:end].strip() for start, end in zip(starts, ends, strict=True))
            texts |= {(row, column): cell for column, cell in enumerate(cells, 1) if cell}
    return texts


def read_markdown(path: Path) -> Grid:
    """Read the tables of a Markdown file; one without is read by columns that stand below each other, or by lines."""
    text = _text_of(path)
    if not is_markdown(text):
        aligned = _aligned(text)
        return Grid(path.stem, aligned) if aligned else _lines(path.stem, text)
    texts: dict[tuple[int, int], str] = {}
    for row, line in enumerate(text.splitlines(), 1):
        if _RULE.fullmatch(line) and "-" in line:
            continue
        stripped = line.strip()
        if stripped.startswith("|") or len(_PARTED.findall(stripped)) >= 2:
            cells = _PARTED.split(stripped.removeprefix("|").removesuffix("|"))
            for column, cell in enumerate(cells, 1):
                said = _EMPHASIS.sub(r"\2", cell.replace("\\|", "|").replace("<br>", "\n")).strip()
                if said:
                    texts[row, column] = said
        elif stripped:
            texts[row, 1] = _TITLE.sub("", stripped)
    return Grid(path.stem, texts)


def read_json(path: Path) -> list[Grid]:
    """Read a JSON file: lists of objects are tables, objects of objects too, single answers are labels.

    Raises
    ------
    Unusable
        It is no JSON, or holds nothing of the kind.
    """
    try:
        said = json.loads(_text_of(path), parse_float=str, parse_int=str)
    except (ValueError, RecursionError) as error:
        where = f" (line {error.lineno})" if isinstance(error, json.JSONDecodeError) else ""
        raise Unusable(f"{path.name} cannot be read as JSON{where}: save it again, or as CSV.") from None
    grids = [grid for grid in _grids(path.stem, said) if grid.texts]
    if not grids:
        raise Unusable(
            f"{path.name} holds no list of equipment: a list of objects is needed, one for each piece."
        )
    return grids


def _grids(name: str, said: Any, depth: int = 0) -> Iterator[Grid]:
    if depth > 8:
        return
    if isinstance(said, list):
        objects = [item if isinstance(item, Mapping) else {"": item} for item in said]
        yield _table(name, objects)
    elif isinstance(said, Mapping):
        single = {key: value for key, value in said.items() if not isinstance(value, list | dict)}
        several = {key: value for key, value in said.items() if key not in single}
        if (
            several
            and not single
            and all(isinstance(v, Mapping) and not _nested(v) for v in several.values())
        ):
            yield _table(name, [{"Name": key, **value} for key, value in several.items()])
            return
        if single:
            labels = {
                (row, column): _text(part)
                for row, pair in enumerate(single.items(), 1)
                for column, part in enumerate(pair, 1)
            }
            yield Grid("Job" if several else name, {place: text for place, text in labels.items() if text})
        for key, value in several.items():
            yield from _grids(str(key), value, depth + 1)
    else:
        yield Grid(name, {(1, 1): _text(said)} if _text(said) else {})


def _nested(said: Mapping[str, Any]) -> bool:
    return any(
        isinstance(value, Mapping) or (isinstance(value, list) and value and isinstance(value[0], Mapping))
        for value in said.values()
    )


def _table(name: str, objects: list[Mapping[str, Any]]) -> Grid:
    columns: dict[tuple[str, ...], int] = {}
    texts: dict[tuple[int, int], str] = {}
    for row, item in enumerate(objects, 2):
        for path, text in _flat(item):
            column = columns.setdefault(path, len(columns) + 1)
            if text:
                texts[row, column] = text
    # "properties.rating.amps" is "amps" where nothing else is called so.
    ends = Counter(path[-1] for path in columns)
    headings = {
        (1, column): path[-1] if ends[path[-1]] == 1 else " ".join(path) for path, column in columns.items()
    }
    return Grid(name, {**{place: text for place, text in headings.items() if text}, **texts})


def _flat(item: Mapping[str, Any], before: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    for key, value in item.items():
        if isinstance(value, Mapping) and value and len(before) < 8:
            yield from _flat(value, (*before, str(key)))
        else:
            yield (*before, str(key)), _text(value)


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "Yes" if value else "No"
    if isinstance(value, list) and not any(isinstance(one, list | dict) for one in value):
        return "; ".join(_text(one) for one in value)
    return json.dumps(value, ensure_ascii=False) if isinstance(value, list | dict) else str(value).strip()
