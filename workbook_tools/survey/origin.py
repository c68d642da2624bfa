"""Which template a survey workbook was made from.

    template_of(workbook, given)   the Template to read it with, and sentences about the choice
    stated_template(workbook)      what the workbook itself says: (layout, template name)
    refuse_another_kind(workbook)  a review or a client schedule is no survey
    another_kind(workbook)         which of the two it says it is
    SCHEMA                         the number of the layout that this version writes and reads

The workbook says it twice, since some programs drop the one and people delete the other:
in the property `workbook-schema` and in a visible cell, both reading "survey 1 office".
"""

from __future__ import annotations

import re
from pathlib import Path

from workbook_tools.definitions import Template, load_template
from workbook_tools.definitions.stock import stock_path
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Workbook

__all__ = ["PROPERTY", "SCHEMA", "another_kind", "refuse_another_kind", "stated_template", "template_of"]

SCHEMA = 1
PROPERTY = "workbook-schema"
_STATED = re.compile(r"\s*survey\s+([0-9]{1,6})\s+(\S.{0,80}?)\s*", re.IGNORECASE)
_ROWS_LOOKED_AT = 200
_OTHER_KINDS = {"review ": "a review workbook", "client schedule ": "a client schedule"}


def template_of(workbook: Workbook, given: str | Path | Template | None) -> tuple[Template, list[str]]:
    """Return the template to read a workbook with, and what should be known about the choice.

    Raises
    ------
    Unusable
        The template that the caller names cannot be used.
    """
    stated = stated_template(workbook)
    notes = []
    if stated is not None and stated[0] > SCHEMA:
        notes.append(
            f"This workbook was made by a later version (layout {stated[0]}; this version knows {SCHEMA}): "
            "update workbook-tools if something is missing."
        )
    if given is not None:
        template = given if isinstance(given, Template) else load_template(given)
        return template, notes
    if stated is None:
        notes.append(
            "The file does not say which template it was made from; it was read with the template office. "
            "Name another with --template."
        )
        return load_template("office"), notes
    name = stated[1]
    if stock_path(name) is not None:
        return load_template(name), notes
    notes.append(
        f"This workbook was made from the template {name!r}, which is no stock template; it was read with the "
        "template office. Name the template's file with --template, so that its own columns and choices count."
    )
    return load_template("office"), notes


def refuse_another_kind(workbook: Workbook) -> None:
    """Refuse a workbook that says it is another of this tool's: their tables resemble a survey's.

    Raises
    ------
    Unusable
        A review workbook or a client schedule.
    """
    what = another_kind(workbook)
    if what:
        raise Unusable(
            f"{workbook.path.name} is {what}, not a survey workbook: choose the workbook that was filled in on site."
        )


def another_kind(workbook: Workbook) -> str:
    """Return what a workbook says it is where that is another of this tool's, or nothing."""
    stated = workbook.properties.get(PROPERTY, "").strip().casefold()
    return next((what for begins, what in _OTHER_KINDS.items() if stated.startswith(begins)), "")


def stated_template(workbook: Workbook) -> tuple[int, str] | None:
    """Return the layout and the template that a workbook says it was made from, or None."""
    for text in (workbook.properties.get(PROPERTY, ""), *_visible(workbook)):
        found = _STATED.fullmatch(text)
        if found:
            return int(found[1]), found[2]
    return None


def _visible(workbook: Workbook) -> list[str]:
    texts = []
    for sheet in workbook.sheets:
        for (row, _), cell in sheet.cells.items():
            if row > _ROWS_LOOKED_AT:
                break
            if cell.kind == "text" and cell.text[:8].lstrip()[:6].casefold() == "survey":
                texts.append(cell.text)
    return texts
