"""What may go to the client, and what still stands in the way.

    judge(problems, answer_to)        a Judgment: what goes, what is left out, what is open
    not_ready(survey, open)           the Unusable that lists everything that is open

What an answer in the review workbook comes to, by the class of the problem:

    correct   whatever the answer: open, since the survey is still wrong
    confirm   Confirmed or Include: goes to the client. No answer: goes as a question left open
    report    Include, Confirmed or no answer: goes to the client
    note      the same, among the limits or remarks
    any of the last three
              Leave out with a reason: stays in the firm's file. Without one: open
              Mended, and still there: open. Any other word: open

Not here: writing anything (deliver), the wording for the client (schedule).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.problems import Problem

__all__ = ["Answer", "Judgment", "LeftOut", "judge", "not_ready"]

MOST_LISTED = 60
"""Open things that are listed one by one; the rest is counted."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What the reviewer answered to one problem; both blank where nothing was."""

    disposition: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A problem that the reviewer kept from the client, and why."""

    problem: Problem
    reason: str


@dataclass(frozen=True)
class Judgment:
    """What becomes of every problem, in sheet order. The delivery may go out when nothing is open.

    `for_client` holds what the client reads, `questions` what nobody answered, `left_out`
    what stays in the firm's file, `open` what is to be done first, one sentence each.
    """

    for_client: tuple[Problem, ...] = ()
    questions: tuple[Problem, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    open: tuple[str, ...] = ()


def judge(problems: Iterable[Problem], answer_to: Callable[[Problem], Answer]) -> Judgment:
    """Decide for each problem by its class and the reviewer's answer.

    Parameters
    ----------
    problems : iterable of Problem
        Everything that the rules found in the survey as it is now.
    answer_to : callable
        Gives the reviewer's answer to a problem.

    Examples
    --------
    >>> found = Problem("sprinkler-above", "note", "", "Clearances", "J3", "MSB", "Items above",
    ...                 "Sprinkler only", "", "A sprinkler is above it.", "Nothing to do.", "NFPA 70 110.26(E)")
    >>> judge([found], lambda problem: Answer("Leave out")).open[0]
    'Clearances!J3 (MSB, sprinkler-above) is left out without a reason: write it beside the answer.'
    """
    for_client: list[Problem] = []
    questions: list[Problem] = []
    left_out: list[LeftOut] = []
    still_open: list[str] = []
    for problem in problems:
        answer = answer_to(problem)
        chosen = answer.disposition.strip().casefold()
        reason = answer.reason.strip()
        if problem.class_ == "correct":
            marked = ", marked Mended, is still there" if chosen == "mended" else ""
            still_open.append(f"{_place(problem)}{marked}: {problem.message} {problem.action}".rstrip())
        elif chosen == "leave out" and reason:
            left_out.append(LeftOut(problem, reason))
        elif chosen == "leave out":
            still_open.append(f"{_place(problem)} is left out without a reason: write it beside the answer.")
        elif chosen == "mended":
            still_open.append(
                f"{_place(problem)}, marked Mended, is still there: mend the survey, or answer otherwise."
            )
        elif chosen in ("include", "confirmed"):
            for_client.append(problem)
        elif chosen:
            still_open.append(
                f"{_place(problem)} is answered {answer.disposition.strip()!r}: "
                "answer Mended, Include, Leave out or Confirmed."
            )
        elif problem.class_ == "confirm":
            questions.append(problem)
        else:
            for_client.append(problem)
    return Judgment(tuple(for_client), tuple(questions), tuple(left_out), tuple(still_open))


def not_ready(survey: Path, still_open: Iterable[str]) -> Unusable:
    """Return the refusal that lists what is open, one thing to a line."""
    listed = list(still_open)
    things = "One thing is" if len(listed) == 1 else f"{len(listed)} things are"
    lines = [
        f"{survey.name} was not delivered. {things} open (--draft delivers it all the same, marked DRAFT):"
    ]
    lines += [f"  - {line}" for line in listed[:MOST_LISTED]]
    if len(listed) > MOST_LISTED:
        lines.append(f"  - and {len(listed) - MOST_LISTED} more: the review workbook lists them all.")
    return Unusable("\n".join(lines))


def _place(problem: Problem) -> str:
    subject = f"{problem.subject}, " if problem.subject else ""
    where = f"{problem.sheet}!{problem.cell}" if problem.cell else problem.sheet
    return f"{where} ({subject}{problem.rule})"
