"""One question for a column that stays blank everywhere while a list has one that may be it.

    questions(gathered, template)                a sentence for each such column
    may_be(heading, samples, column, template)   whether a kept column may be that column

Asked here first, and by the check as long as the column stays blank.
"""

from __future__ import annotations

from collections.abc import Sequence

from workbook_tools.definitions import Column, Template
from workbook_tools.filling.column_values import fitness
from workbook_tools.filling.gathered import Gathered
from workbook_tools.filling.heading_forms import WEAK, words_of
from workbook_tools.filling.model import AS_SAID

__all__ = ["may_be", "questions"]

_SAY_LITTLE = WEAK | frozenset(
    ("number", "type", "date", "rating", "main", "year", "note", "remark", "comment", "from", "room")
)


def questions(gathered: Gathered, template: Template) -> list[str]:
    """Ask about the columns that every row should answer, none does, and a kept column may."""
    kept = [
        p
        for p in gathered.placement
        if not (p.targets or p.doubt or p.why == AS_SAID) and p.key and p.samples
    ]
    asked = []
    for sheet in template.sheets:
        rows = gathered.tables.get(sheet.key, [])
        if sheet.layout != "table" or not rows:
            continue
        for column in sheet.typed:
            if column.each_visit or not (column.required or column.required_for):
                continue
            if not any(row.get(column.field) for row in rows):
                near = next(
                    (
                        placed
                        for placed in kept
                        if placed.key == sheet.key
                        and may_be(placed.heading, placed.samples, column, template)
                    ),
                    None,
                )
                if near is not None:
                    asked.append(
                        f"{sheet.name}: {column.heading} is blank everywhere; the column {near.heading!r} "
                        f"({', '.join(near.samples[:2])}) was kept as an extra: is it that? If so, say it in a placement file."
                    )
    return asked


def may_be(heading: str, samples: Sequence[str], column: Column, template: Template) -> bool:
    """Whether a kept column may be what a column of the template asks for: it has a telling word of it, and cells that fit.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> office = load_template("office")
    >>> maker = office.by_key["equipment"].by_field["maker"]
    >>> may_be("Manufacturer of gear", ["Marlowe"], maker, office), may_be("Colour", ["Grey"], maker, office)
    (True, False)
    """
    listed = [words_of(text) for text in (column.heading, *column.also_called)]
    telling = {word for words in listed for word in words if len(set(words) - WEAK) == 1} - _SAY_LITTLE
    return bool(telling & set(words_of(heading))) and fitness(column, samples, template) >= 0
