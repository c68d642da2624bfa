"""Which template a survey workbook was made from, and which survey it is.

    template_of(workbook, given)   the Template to read it with, and sentences about the choice
    stated_template(workbook)      what the workbook itself says: (layout, template name)
    number_of(workbook)            the number by which one survey is told from every other
    draw_number()                  a new one
    refuse_another_kind(workbook)  a review or a client schedule is no survey
    NotASurvey                     the error that says so, and what the workbook is instead
    another_kind(workbook)         which of the two it says it is
    SCHEMA                         the number of the layout that this version writes and reads

The workbook says it twice, since some programs drop the one and people delete the other:
in the property `workbook-schema` and in a visible cell, both reading "survey 1 office". So it does
with the number of the survey: in the property `survey-number`, and in the cell below that one. Of the
two the cell counts, since it survives every program that we have tried: a workbook saved under
another name, or by another program, stays the same survey.
"""

from __future__ import annotations

import re
from pathlib import Path

from workbook_tools.definitions import Template, load_template
from workbook_tools.definitions.stock import stock_path
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Workbook

__all__ = ["NUMBER_PROPERTY", "PROPERTY", "SCHEMA", "NotASurvey", "another_kind", "draw_number", "is_identity", "number_in_words", "number_of",
           "refuse_another_kind", "stated_template", "template_of"]  # fmt: skip

SCHEMA = 1
PROPERTY = "workbook-schema"
NUMBER_PROPERTY = "survey-number"
_SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Digits and letters that nobody takes for another when reading a number aloud."""
_NUMBERED = re.compile(r"\s*survey\s+number\s+([0-9A-Z]{4}(?:-[0-9A-Z]{4}){2})\s*", re.IGNORECASE)
_STATED = re.compile(r"\s*survey\s+([0-9]{1,6})\s+(\S.{0,80}?)\s*", re.IGNORECASE)
_ROWS_LOOKED_AT = 200
_OTHER_KINDS = {
    "review ": "a review workbook",
    "client schedule ": "a client schedule",
    "overview ": "an overview of several surveys",
    "handover ": "a handover workbook",
}


class NotASurvey(Unusable):
    """A workbook that is whole and no survey; `what` is what it is instead, "" where that is not known."""

    def __init__(self, sentence: str, what: str = "") -> None:
        super().__init__(sentence)
        self.what = what


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
    NotASurvey
        A review workbook, a client schedule, or an overview.
    """
    what = another_kind(workbook)
    if what:
        raise NotASurvey(
            f"{workbook.path.name} is {what}, not a survey workbook: choose the workbook that was filled in on site.",
            what,
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


def is_identity(text: str) -> bool:
    """Whether a text is one of the two by which a workbook says what it is.

    Examples
    --------
    >>> is_identity("survey 1 office"), is_identity("Survey again in spring")
    (True, False)
    """
    return bool(_STATED.fullmatch(text) or _NUMBERED.fullmatch(text))


def draw_number() -> str:
    """Return a number for a new survey: twelve signs, drawn at random.

    Examples
    --------
    >>> len(draw_number()), draw_number() == draw_number()
    (14, False)
    """
    import secrets

    return "-".join("".join(secrets.choice(_SIGNS) for _ in range(4)) for _ in range(3))


def number_in_words(number: str) -> str:
    """Return how a workbook says the number of its survey."""
    return f"survey number {number}"


def number_of(workbook: Workbook) -> str:
    """Return the number that a survey workbook carries; "" where it carries none."""
    for text in (*_visible(workbook), workbook.properties.get(NUMBER_PROPERTY, "")):
        found = _NUMBERED.fullmatch(text)
        if found:
            return found[1].upper()
    return ""


def _visible(workbook: Workbook) -> list[str]:
    texts = []
    for sheet in workbook.sheets:
        for (row, _), cell in sheet.cells.items():
            if row > _ROWS_LOOKED_AT:
                break
            if cell.kind == "text" and cell.text[:8].lstrip()[:6].casefold() == "survey":
                texts.append(cell.text)
    return texts
