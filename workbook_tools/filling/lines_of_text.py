"""Lists in words: a line of text for each piece, under no headings.

    in_lines(sheet, template)   "MSB - 2000A, 480Y/277V 3PH 4W, Main electrical room, fed from Utility" as a Table

The quantities are those that `compound` finds; the line itself is kept beside them.

Not here: labels with values (other_shapes).
"""

from __future__ import annotations

import re

from workbook_tools.definitions import Template, Vocabulary
from workbook_tools.filling.compound import Parts, parts_of
from workbook_tools.filling.heading_rows import TableHeading
from workbook_tools.filling.no_rows import is_floor, is_room
from workbook_tools.filling.plans import (
    DEVICE,
    FAULT,
    FED_FROM,
    KVA,
    MAIN,
    PHASE,
    PRIMARY,
    RATING,
    ROOM,
    SECONDARY,
    VOLTAGE,
    WIRES,
)
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.filling.tables import Table
from workbook_tools.survey import Equipment, Transformer

__all__ = ["in_lines"]

_FED = re.compile(
    r"\b(?:is\s+)?(?:fed|supplied|served|powered|feeds?)\s+(?:from|by|via)\s*:?\s*(?:(?:the|panel|transformer|switchboard|board)\s+)*((?:(?!\.\s|\.$)[^,;()])+)",
    re.IGNORECASE,
)
_PLACE = re.compile(
    r"\b(?:located\s+)?(?:in|at|location:?)\s+(?:the\s+)?((?:(?!\.\s|\.$)[^,;()])+)", re.IGNORECASE
)
_TAG_FIRST = re.compile(r"\s*(?:[-*•]\s+|\d{1,2}[.)]\s+)?(?:panel\s+)?([A-Za-z][\w./#-]*(?: [\w#-]*\d[\w-]*)?)\s*(?::|,|;|\t|\(|\s[-–—]\s|\s{2,}|\s(?=\d)|\s+(?:is|are)\b|(?=\s+(?:in|at)\s))(.*)", re.IGNORECASE | re.DOTALL)  # fmt: skip
_PIECES = re.compile(r"[,;]|\s[-–—]\s")
_AS_WRITTEN = "As written"


def in_lines(sheet: SourceSheet, template: Template) -> Table | None:
    """Read a sheet of which each row says a piece of equipment in its own words."""
    lines: dict[int, str] = {}
    for (row, _), text in sorted(sheet.grid.texts.items()):
        lines[row] = f"{lines[row]}, {text.strip()}" if row in lines else text.strip()
    kinds = template.vocabularies[Equipment.kind.name]
    read = {row: said for row, line in lines.items() if (said := _read(line, kinds)) is not None}
    if not read or (len(read) < _SEVERAL and len(read) * 2 < len(lines)):
        return None
    equipment, transformers = template.by_key["equipment"], template.by_key.get(Transformer.key)
    wanted = {name: equipment.by_field[name].heading for name in _FIELDS if name in equipment.by_field}
    if transformers is not None:
        wanted |= {n: transformers.by_field[n].heading for n in _SIDES if n in transformers.by_field}
    names = [name for name in wanted if any(name in said for said in read.values())]
    columns = {name: column for column, name in enumerate(names, 1)}
    headings = {column: TableHeading(wanted[name], (wanted[name],)) for name, column in columns.items()}
    written = len(columns) + 1
    headings[written] = TableHeading(_AS_WRITTEN, (_AS_WRITTEN,))
    rows = {
        row: {**{columns[name]: text for name, text in said.items() if name in columns}, written: lines[row]}
        for row, said in read.items()
    }
    titles, title = {}, ""
    for row, line in lines.items():
        title = line if row not in read and is_floor(line) else title
        if row in read and title:
            titles[row] = title
    places = {(row, column): (row, 1) for row, cells in rows.items() for column in cells}
    return Table(sheet, 1, headings, rows, titles, places, "read out of lines of text")


_FIELDS = (
    Equipment.tag.name,
    Equipment.kind.name,
    *(t.field for t in (ROOM, FED_FROM, RATING, MAIN, VOLTAGE, PHASE, WIRES, DEVICE, FAULT)),
)
_SIDES = tuple(target.field for target in (KVA, PRIMARY, SECONDARY))
_LONGEST = 300
_SEVERAL = 2
"""Lines that say a piece each, and are a list whatever greetings stand around them."""

_SAME = re.compile(r"(?:the\s+)?same\s+", re.IGNORECASE)
_BULLET = re.compile(r"\s*(?:[-*•]\s+|\d{1,2}[.)]\s+)")


def _kind_first(line: str, kinds: Vocabulary) -> tuple[str, str]:
    """Part the kind that stands before a tag, "XFMR T-1: ...", from the rest; "" where none does."""
    words = _BULLET.sub("", line, count=1).split()
    for count in (3, 2, 1):
        head, rest = " ".join(words[:count]), words[count:]
        in_words = all(word.replace("-", "").isalpha() for word in words[:count])
        if in_words and rest and _is_a_tag(rest[0]) and kinds.find(head) is not None:
            return head, " ".join(rest)
    return "", line


def _is_a_tag(word: str) -> bool:
    """Whether a word can be a tag by its figures or its capitals, and is no quantity: "T-1:", "MSB", and not "2000A,"."""
    bare = word.strip(",;:")
    return (any(c.isdigit() for c in bare) or (bare.isupper() and bare.isalpha())) and not parts_of(
        bare
    ).how_many


def _read(line: str, kinds: Vocabulary) -> dict[str, str] | None:
    kind, line = _kind_first(line, kinds)
    found = _TAG_FIRST.match(line)
    if found is None or len(line) > _LONGEST:
        return None
    tag, rest = found[1].strip(), found[2]
    said: dict[str, str] = (
        {Equipment.tag.name: tag, Equipment.kind.name: kind} if kind else {Equipment.tag.name: tag}
    )
    fed = _FED.search(rest)
    if fed is not None:
        said[Equipment.fed_from.name] = fed[1].strip(" .")
        rest = f"{rest[: fed.start()]},{rest[fed.end() :]}"
    parts = parts_of(rest)
    if parts.how_many < 2 and not (parts.how_many and (fed or kind)):
        return None
    said |= _of_parts(parts)
    place = _PLACE.search(rest)
    rooms = [
        piece.strip(" .") for piece in _PIECES.split(rest) if is_room(piece) and not parts_of(piece).how_many
    ]
    if place is not None and not parts_of(place[1]).how_many:
        said[Equipment.room.name] = _room(place[1])
    elif rooms:
        said[Equipment.room.name] = _room(rooms[0])
    return said


def _room(text: str) -> str:
    """Return a room as a name: "same closet 110" is the closet, and a remark that was cut in two is none of it."""
    bare = text.partition("(")[0] if text.count("(") > text.count(")") else text
    return _SAME.sub("", bare.strip(" ."))


def _of_parts(parts: Parts) -> dict[str, str]:
    found = {
        RATING: parts.amperes,
        MAIN: parts.trip,
        VOLTAGE: parts.voltage,
        PHASE: parts.phase,
        WIRES: parts.wires,
        DEVICE: parts.main_device,
        FAULT: parts.kiloamperes,
        KVA: parts.kva,
        PRIMARY: parts.primary,
        SECONDARY: parts.secondary,
    }
    return {target.field: text for target, text in found.items() if text}
