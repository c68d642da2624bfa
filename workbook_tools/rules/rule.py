"""One rule: what it looks at, why, how to mend it, its source, and how it looks.

    Rule           the record; also the catalogue page, the text of explain, and two of its own tests
    as_typed(...)  a few cells as somebody typed them: the example that fires, the one that passes
    Typed          what as_typed returns; workbook_tools.rules.typed makes a Survey of it

A rule looks at an Assessment and yields Problems, and a NotChecked where something that it
needs is missing. It never changes the survey, prints, or opens a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.survey.model import Outcome, Row, Value

__all__ = ["Rule", "Typed", "as_typed", "heading_of", "missing_of", "order_of"]

TypedRow = Mapping[str, str]
_NAMELESS = {"job": "Job"}


@dataclass(frozen=True, slots=True)
class Typed:
    """Cells as typed: the Job sheet by field, the rows of each table, and the photos of the folder.

    `photo_folder` is None where no folder was named, as in most examples.
    """

    job: TypedRow = field(default_factory=dict)
    tables: Mapping[str, Sequence[TypedRow]] = field(default_factory=dict)
    photo_folder: Sequence[str] | None = None


def as_typed(
    *, job: TypedRow | None = None, photo_folder: Sequence[str] | None = None, **tables: Sequence[TypedRow]
) -> Typed:
    """Put down a small survey as somebody would type it.

    Parameters
    ----------
    job : mapping, optional
        Texts of the Job sheet by field.
    photo_folder : sequence of str, optional
        The file names in the photo folder.
    **tables : sequence of mappings
        Rows by table: rooms, equipment, transformers, clearances, findings, photos,
        not_inspected.

    Examples
    --------
    >>> as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277"}]).tables["equipment"][0]["tag"]
    'DP-1'
    """
    return Typed(job or {}, tables, photo_folder)


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the catalogue.

    `needs` names the fields without which it cannot look ("not checked"); `source` begins
    with the basis of the rule; `subject` is the sheet or thing it speaks of. `fires` and
    `passes` are examples that its check is held to. `measured` says that it compares a measured
    length with a limit, the measuring tolerance of the code profile allowed.
    """

    slug: str
    class_: str
    subject: str
    what: str
    why: str
    mend: str
    source: str
    check: Callable[[Assessment], Iterator[Problem | NotChecked]]
    fires: Typed
    passes: Typed
    needs: tuple[str, ...] = ()
    priority: str = ""
    measured: bool = False

    def problem(
        self,
        assessment: Assessment,
        row: Row,
        field_name: str,
        message: str,
        *,
        subject: str | None = None,
        read: str | None = None,
        expected: str | None = None,
        action: str | None = None,
    ) -> Problem:
        """Return a problem of this rule at one cell of a row.

        What was read, what was expected and what to do come from the cell, its column and the
        rule's own words unless they are given.
        """
        value = row[field_name]
        column = _column(assessment, row.key, field_name)
        cell = value.cell or f"A{row.number}"
        return Problem(
            rule=self.slug,
            class_=self.class_,
            priority=self.priority,
            sheet=value.sheet or row.sheet,
            cell=cell,
            subject=(row.subject or _NAMELESS.get(row.key, "")) if subject is None else subject,
            field=column.heading if column is not None else field_name,
            read=value.typed if read is None else read,
            expected=(column.ask if column is not None else "") if expected is None else expected,
            message=message,
            action=action or self.mend,
            source=self.source,
            order=order_of(assessment, row.key, cell),
        )

    def not_checked(
        self, assessment: Assessment, row: Row, field_name: str, of: Row | None = None
    ) -> NotChecked:
        """Return that this rule could not look at a row, since a field of it (or `of` another row) is missing."""
        holder = of or row
        missing = heading_of(assessment, holder.key, field_name)
        if of is not None and of is not row:
            missing = f"{missing} of {of.subject}" if of.subject else missing
        return NotChecked(
            self.slug, row.subject, row.sheet, row[field_name].cell or f"A{row.number}", missing
        )

    def unanswered(
        self, assessment: Assessment, row: Row, field_name: str, of: Row | None = None
    ) -> Iterator[NotChecked]:
        """Yield that this rule could not look where a field of the row, or of `of`, holds neither a value nor N/A."""
        if missing_of(of or row, field_name) is not None:
            yield self.not_checked(assessment, row, field_name, of)


def missing_of(row: Row, *fields: str) -> str | None:
    """Return the first of the fields that holds no value although one could stand there; None where none does.

    N/A is an answer: where one of the fields has it, the question does not arise.
    """
    values: list[Value] = [row[name] for name in fields]
    if any(value.outcome is Outcome.NOT_APPLICABLE for value in values):
        return None
    return next(
        (name for name, value in zip(fields, values, strict=True) if value.outcome is not Outcome.VALUE), None
    )


def _column(assessment: Assessment, key: str, field_name: str) -> Column | None:
    sheet = assessment.survey.template.by_key.get(key)
    return sheet.by_field.get(field_name) if sheet is not None else None


def heading_of(assessment: Assessment, key: str, field_name: str) -> str:
    """Return the words on the sheet for a field; plain words where the template has no such column."""
    column = _column(assessment, key, field_name)
    return column.heading if column is not None else field_name.replace("_", " ").capitalize()


def order_of(assessment: Assessment, key: str, cell: str) -> tuple[int, int, int]:
    """Return the place of a cell on the way of a person through the workbook: sheet, row, column."""
    keys: list[Any] = list(assessment.survey.template.by_key)
    letters = cell.rstrip("0123456789")
    column = 0
    for letter in letters.upper():
        column = column * 26 + ord(letter) - 64
    digits = cell[len(letters) :]
    return keys.index(key) if key in keys else len(keys), int(digits) if digits else 0, column
