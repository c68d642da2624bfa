"""What putting the parts of a survey together comes to.

Whole        rows by sheet, job answers, extra columns and sheets, differences, and sentences about it
Difference   one answer that two parts give differently
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from workbook_tools.filling import ExtraSheet

__all__ = ["Difference", "Follows", "Whole"]


Follows = Literal["asked about", "the same in other words", "seen again in one of the two", "kept beside it"]
"""Two rows of which one is to go; one row, since both mean the same; one row, as the part says that has looked again;
a label of its own on the Job sheet."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One answer that two parts give differently: where, and what each of the two says.

    `first` and `other` name the parts, `one` and `another` are their answers as typed; `follows` is what
    became of the two.
    """

    sheet: str
    subject: str
    heading: str
    first: str
    one: str
    other: str
    another: str
    follows: Follows


@dataclass(frozen=True, slots=True)
class Whole:
    """The survey that the parts make, as texts to write into a workbook of the same template."""

    tables: Mapping[str, Sequence[Mapping[str, str]]]
    job: Mapping[str, str]
    extra_columns: Mapping[str, Sequence[str]]
    extra_job: Sequence[tuple[str, str]]
    extra_sheets: Sequence[ExtraSheet]
    number: str
    differences: Sequence[Difference] = ()
    lines: Sequence[str] = field(default_factory=tuple)
