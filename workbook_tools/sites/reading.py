"""Each of many surveys, read in a process of its own; what goes wrong with one stops no other.

each_survey(search, work, ...)   what `work` makes of each survey, or a NotRead; in the order of the search
Look                             what a process is given: a file, a template, and what is asked for
read_and_check(look, of)         for `work`: the survey read and checked, then looked at
without_error(look, make)        for `work` that reads by itself: what goes wrong becomes a NotRead
NotRead, PassedOver              a file that cannot be read, with its sentence; a workbook that is no survey
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from workbook_tools.checking import Checked, check_survey
from workbook_tools.definitions import Template, load_template
from workbook_tools.errors import Unusable
from workbook_tools.sites.looking import Search
from workbook_tools.sites.side_by_side import LONGEST, side_by_side
from workbook_tools.survey import read_survey
from workbook_tools.survey.origin import NotASurvey

__all__ = ["Look", "NotRead", "PassedOver", "each_survey", "read_and_check", "without_error"]

Made = TypeVar("Made")

_SOMETHING_ELSE = "workbook of something else"


@dataclass(frozen=True, slots=True)
class NotRead:
    """A file that cannot be read, with the sentence that says why and what to do."""

    path: Path
    sentence: str


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A workbook in a folder that is whole and no survey."""

    what: str


@dataclass(frozen=True, slots=True)
class Look:
    """What one process is given. `whole` asks for everything that was found, as JSON."""

    path: Path
    named: bool
    template: str | Path | Template | None = None
    whole: bool = False


Work = Callable[[Look], Made | NotRead | PassedOver]


def each_survey(
    search: Search,
    work: Work[Made],
    *,
    template: str | Path | Template | None = None,
    whole: bool = False,
    workers: int | None = None,
    longest: float = LONGEST,
) -> Iterator[Made | NotRead]:
    """Yield what is made of each survey, in the order of the search; count in the search what is no survey.

    Raises
    ------
    Unusable
        The template that the caller names cannot be used.
    """
    if template is not None and not isinstance(template, Template):
        load_template(template)
    for where, sentence in search.unlisted:
        yield NotRead(where, sentence)
    looks = (Look(candidate.path, candidate.named, template, whole) for candidate in search.files)
    for made in side_by_side(work, looks, lost=_lost, workers=_enough(workers, search), longest=longest):
        if isinstance(made, PassedOver):
            search.passed[made.what] += 1
        else:
            yield made


def _enough(workers: int | None, search: Search) -> int | None:
    return workers if workers is None else max(1, min(workers, len(search.files)))


def _lost(look: Look, why: str) -> NotRead:
    return NotRead(
        look.path,
        f"{look.path.name} {why}; the other files were read. Save it again in a spreadsheet program.",
    )


def read_and_check(look: Look, of: Callable[[Look, Checked], Made]) -> Made | NotRead | PassedOver:
    """Read a survey, check it, and return what `of` makes of it; never an error."""
    return without_error(look, lambda: of(look, check_survey(read_survey(look.path, look.template))))


def without_error(look: Look, make: Callable[[], Made]) -> Made | NotRead | PassedOver:
    """Return what is made of a survey, or why there is nothing; never an error."""
    try:
        return make()
    except NotASurvey as error:
        if look.named:
            return NotRead(look.path, str(error))
        return PassedOver(error.what.removeprefix("an ").removeprefix("a ") or _SOMETHING_ELSE)
    except Unusable as error:
        return NotRead(look.path, str(error))
    except MemoryError:
        return NotRead(look.path, f"{look.path.name} needs more memory than the machine has.")
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        return NotRead(look.path, f"{look.path.name} cannot be read ({why}).")
    except Exception as error:  # noqa: BLE001 - whatever one file does, the others are read, and it is named
        fault = f"{type(error).__name__}: {str(error)[:200]}"
        return NotRead(
            look.path, f"{look.path.name} met a fault in the tool itself ({fault}): tell its developers."
        )
