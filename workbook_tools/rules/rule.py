"""One rule: what it looks at, why, how to mend it, its source, what the client reads, and how it looks.

    Rule           the record; also the catalogue page, the text of explain, and two of its own tests
    as_typed(...)  a few cells as somebody typed them: the example that fires, the one that passes
    Typed          what as_typed returns; workbook_tools.rules.typed makes a Survey of it
    missing_of     the first cell that holds no value although one could stand there

A rule looks at an Assessment and yields Problems, and a NotChecked where something that it
needs is missing. It never changes the survey, prints, or opens a file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Priority, Template
from workbook_tools.rules.client import ForClient, Paperwork
from workbook_tools.rules.plain_english import as_of, capital
from workbook_tools.rules.problems import NotChecked, Problem, ProblemClass
from workbook_tools.spreadsheet import position
from workbook_tools.survey import Field, Job, Outcome, Row, Value

__all__ = ["Fine", "Rule", "Typed", "as_typed", "missing_of", "order_of"]

TypedRow = Mapping[str, str]

Fine = Callable[[Assessment, str], str]
"""Says of a tag which recorded value shows that there is nothing of what the rule reports; "" for none."""


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

    `subject` is the sheet or thing it speaks of; `what`, `why` and `mend` are addressed to the
    inspector and the reviewer, `client` to the owner; `source` begins with the basis of the rule.
    `needs` names the columns without which it cannot look: the generator asks them through
    `lacking` and says "not checked". `compares` is what it compares, in the client's words, blank
    for a rule that looks after the workbook. `fine` says which recorded value contradicts a
    finding of the same cause. `measured` says that it compares a measured length with a limit,
    the measuring tolerance of the code profile allowed. `fires` and `passes` are examples that
    its check is held to.
    """

    slug: str
    class_: ProblemClass
    subject: str
    what: str
    why: str
    mend: str
    source: str
    client: ForClient
    check: Callable[[Assessment], Iterator[Problem | NotChecked]]
    fires: Typed
    passes: Typed
    needs: tuple[Field[Any], ...] = ()
    priority: Priority | Literal[""] = ""
    compares: str = ""
    fine: Fine | None = None
    measured: bool = False

    def is_off(self, template: Template) -> bool:
        """Whether a template switches the rule off; then it explains nothing either."""
        setting = template.rules.get(self.slug)
        return setting is not None and setting.off

    def problem(
        self,
        row: Row,
        value: Value[Any],
        message: str,
        *,
        phrase: str = "",
        subject: str | None = None,
        read: str | None = None,
        expected: str | None = None,
        action: str | None = None,
    ) -> Problem:
        """Return a problem of this rule at one cell of a row.

        What was read, what was expected and what to do come from the cell, its column and the
        rule's own words unless they are given; `phrase` is how the client reads it inside a
        sentence, the message itself where it is left out. What the client may read of a row that nobody has
        seen again on this visit says of which day it is.
        """
        cell = value.cell or f"A{row.number}"
        read_by_client = self.class_ != "correct" and self.client != Paperwork(firms_own=True)
        when = row.is_as_of if read_by_client else ""
        return Problem(
            rule=self.slug,
            class_=self.class_,
            priority=self.priority,
            sheet=value.sheet or row.sheet,
            cell=cell,
            subject=(row.called or (row.definition.name if isinstance(row, Job) else ""))
            if subject is None
            else subject,
            field=value.heading,
            read=value.typed if read is None else read,
            expected=value.column.ask if expected is None else expected,
            message=capital(as_of(when, message)) if when else message,
            action=action or self.mend,
            source=self.source,
            order=order_of(row.definition.position, cell),
            row=row,
            phrase=as_of(when, phrase),
        )

    def lacking(self, *rows: Row | None) -> tuple[Value[Any], Row] | None:
        """Return the first column that the rule needs and that holds no value, with its row; None where none does.

        Each column is looked for in the row of its sheet; a row that is not given is not asked.
        N/A is an answer: where one of the columns has it, the question does not arise.
        """
        without = [
            (value, row)
            for needed in self.needs
            for row in rows
            if row is not None and isinstance(row, needed.owner) and (value := row[needed]).value is None
        ]
        missing = missing_of(*(value for value, _ in without)) if without else None
        return next(((value, row) for value, row in without if value is missing), None)

    def not_checked(self, row: Row, missing: Value[Any], of: Row | None = None) -> NotChecked:
        """Return that this rule could not look at a row, since a cell of it (or `of` another row) is missing.

        It stands at that cell, or in the first column where the cell is another row's.
        """
        elsewhere = of is not None and of is not row
        heading = (
            f"{missing.heading} of {of.called}"
            if of is not None and elsewhere and of.called
            else missing.heading
        )
        cell = f"A{row.number}" if elsewhere else missing.cell or f"A{row.number}"
        return NotChecked(self.slug, row.called, row.sheet, cell, heading)

    def ask(self, row: Row, *holders: Row) -> Iterator[NotChecked]:
        """Yield that this rule could not look at a row, where a column that it needs of the holders is missing.

        The row itself is asked where no holder is named.
        """
        lacking = self.lacking(*(holders or (row,)))
        if lacking is not None:
            yield self.not_checked(row, *lacking)

    def unanswered(self, row: Row, value: Value[Any], of: Row | None = None) -> Iterator[NotChecked]:
        """Yield that this rule could not look where a cell holds neither a value nor N/A."""
        if missing_of(value) is not None:
            yield self.not_checked(row, value, of)


def missing_of(*values: Value[Any]) -> Value[Any] | None:
    """Return the first cell that holds no value although one could stand there; None where none does.

    N/A is an answer: where one of the cells has it, the question does not arise.
    """
    if any(value.outcome is Outcome.NOT_APPLICABLE for value in values):
        return None
    return next((value for value in values if value.outcome is not Outcome.VALUE), None)


def order_of(sheet: int, cell: str) -> tuple[int, int, int]:
    """Return the place of a cell on the way of a person through the workbook: sheet, row, column."""
    row, column = position(cell) or (0, 0)
    return sheet, row, column
