"""What may go to the client, and what still stands in the way.

    judge(problems, review)       a Judgment: what goes, what is left out, what is open
    open_of_sign_off(...)         what is open about the review workbook itself
    doubts_of_sign_off(review)    what is odd about the sign-off and stops nothing
    not_ready(survey, open)       the Unusable that lists everything that is open

What an answer in the review workbook comes to, by the class of the problem:

    correct   whatever the answer: open, since the survey is still wrong
    confirm   Confirmed or Include: goes to the client. No answer: goes as a question left open
    report    Include, Confirmed or no answer: goes to the client
    note      the same, among the limits or remarks; with Include as a condition
    any of the last three
              Leave out with a reason: stays in the firm's file. Without one: open
              Mended, and still there: open. Any other word: open

Not here: writing anything (deliver), the wording for the client (schedule).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.review import DISPOSITIONS, Review, fingerprint, template_as_said
from workbook_tools.rules.client import Limit
from workbook_tools.rules.client_reads import card_of
from workbook_tools.rules.problems import Problem, in_sheet_order
from workbook_tools.survey import Survey
from workbook_tools.survey.written_dates import read_date

__all__ = ["Judgment", "LeftOut", "doubts_of_sign_off", "judge", "not_ready", "open_of_sign_off"]

MOST_LISTED = 60
"""Open things that are listed one by one; the rest is counted."""


_ANSWERS = frozenset(answer.casefold() for answer in DISPOSITIONS)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A problem that the reviewer kept from the client, and why."""

    problem: Problem
    reason: str


@dataclass(frozen=True)
class Judgment:
    """What becomes of every problem, in sheet order. The delivery may go out when nothing is open.

    `for_client` holds what the client reads, `included` those of them that the reviewer
    answered with Include, `questions` what nobody answered, `left_out`
    what stays in the firm's file, `open` what is to be done first, one sentence each, and
    `open_problems` the problems that these sentences are about.
    """

    for_client: tuple[Problem, ...] = ()
    questions: tuple[Problem, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    open: tuple[str, ...] = ()
    open_problems: tuple[Problem, ...] = ()
    included: tuple[Problem, ...] = ()

    @property
    def conditions(self) -> list[Problem]:
        """What the client reads as conditions and limits, in sheet order.

        What the reviewer wants in is a condition, whatever its class; what was not seen stays a
        limit. In a draft the reader sees what is open too.
        """
        raised = self._raised
        open_ones = [problem for problem in self.open_problems if problem.class_ in ("report", "note")]
        return in_sheet_order([*(raised.get(p, p) for p in self.for_client), *open_ones])

    @property
    def asked(self) -> list[Problem]:
        """The questions that the client reads as left open, in sheet order."""
        open_ones = [problem for problem in self.open_problems if problem.class_ in ("correct", "confirm")]
        return in_sheet_order([*self.questions, *open_ones])

    @property
    def unsaid(self) -> list[Problem]:
        """What is said nowhere else: what was left out, and the notes that have become conditions."""
        notes = (problem for problem in self._raised if problem.class_ == "note")
        return [*(out.problem for out in self.left_out), *notes]

    @property
    def _raised(self) -> dict[Problem, Problem]:
        """What the reviewer answered with Include, as conditions.

        A note that is raised is for the record; a confirmed question has the rank of any other condition.
        """
        unranked = {"note": "Record"}
        return {
            problem: replace(
                problem, class_="report", priority=problem.priority or unranked.get(problem.class_, "")
            )
            for problem in self.included
            if not isinstance(card_of(problem), Limit)
        }


def judge(problems: Iterable[Problem], review: Review | None) -> Judgment:
    """Decide for each problem by its class and the reviewer's answer.

    Parameters
    ----------
    problems : iterable of Problem
        Everything that the rules found in the survey as it is now.
    review : Review, optional
        The reviewer's answers; without it nothing is answered.

    Examples
    --------
    >>> from workbook_tools.review import Entry
    >>> found = Problem("some-rule", "note", "", "Clearances", "J3", "MSB", "Items above",
    ...                 "Sprinkler only", "", "A sprinkler is above it.", "Nothing to do.", "NFPA 70 110.26(E)")
    >>> judge([found], Review(entries=[Entry(found, "Leave out")])).open[0]
    'Clearances!J3 (MSB, some-rule) is left out without a reason: write it beside the answer.'
    """
    for_client: list[Problem] = []
    questions: list[Problem] = []
    left_out: list[LeftOut] = []
    still_open: list[str] = []
    open_problems: list[Problem] = []
    included: list[Problem] = []
    for problem in problems:
        answer = review.answer_to(problem) if review is not None else None
        chosen = answer.disposition.strip().casefold() if answer is not None else ""
        reason = answer.reason.strip() if answer is not None else ""
        why_open = _why_open(problem, chosen, reason)
        if why_open:
            still_open.append(f"{_place(problem)}{why_open}")
            open_problems.append(problem)
        elif chosen == "leave out":
            left_out.append(LeftOut(problem, reason))
        elif problem.class_ == "confirm" and not chosen:
            questions.append(problem)
        else:
            for_client.append(problem)
            if chosen == "include":
                included.append(problem)
    return Judgment(
        tuple(for_client),
        tuple(questions),
        tuple(left_out),
        tuple(still_open),
        tuple(open_problems),
        tuple(included),
    )


def _why_open(problem: Problem, chosen: str, reason: str) -> str:
    """Return what is to be done about a problem before the survey can go out, or nothing."""
    if problem.class_ == "correct":
        marked = ", marked Mended, is still there" if chosen == "mended" else ""
        return f"{marked}: {problem.message} {problem.action}".rstrip()
    if chosen == "leave out" and not reason:
        return " is left out without a reason: write it beside the answer."
    if chosen == "mended":
        return ", marked Mended, is still there: mend the survey, or answer otherwise."
    if chosen and chosen not in _ANSWERS:
        return f" is answered {chosen!r}: answer {', '.join(DISPOSITIONS[:-1])} or {DISPOSITIONS[-1]}."
    return ""


def open_of_sign_off(survey: Survey, review: Review | None) -> list[str]:
    """Return what is open about the review workbook: none, not signed, or not of this survey."""
    if review is None:
        return [
            "There is no review workbook: make it with check -o, answer and sign it, and name it with --review."
        ]
    name = review.path.name if review.path is not None else "the review workbook"
    signed = review.sign_off
    still_open = []
    if signed.fingerprint != fingerprint(survey):
        since = (
            f"the sign-off ({signed.reviewer}, {signed.date})"
            if signed.is_signed
            else f"{name} was made from it"
        )
        here, there = template_as_said(survey.template), review.template
        if there and there not in (here, survey.template.name):
            still_open.append(
                f"{name} was made with the template {there}, and {survey.path.name} was read with the template {here}: "
                f"name the template of the review with --template{_file_in(there)}."
            )
        else:
            still_open.append(
                f"{survey.path.name} has changed since {since}: run check again with -o {name} "
                "(the answers are carried over), look at what is new, and sign again."
            )
    if not signed.reviewer.strip():
        still_open.append(f"The sign-off of {name} names no reviewer.")
    if not signed.date.strip():
        still_open.append(f"The sign-off of {name} has no date.")
    return still_open


def _file_in(said: str) -> str:
    """Return the file or the name of a template as it is given to --template, a space before it."""
    name, bracket, file = said.partition(" (")
    word = file.removesuffix(")") if bracket else name
    return f' "{word}"' if " " in word else f" {word}"


def doubts_of_sign_off(review: Review | None, today: date | None = None) -> list[str]:
    """Return what is odd about a sign-off and stops no delivery: a date that is still to come.

    Examples
    --------
    >>> from workbook_tools.review import SignOff
    >>> signed = Review(sign_off=SignOff("R. Reviewer (invented)", "2026-10-02"))
    >>> doubts_of_sign_off(signed, date(2026, 9, 30))
    ['The sign-off is dated 2026-10-02, which is after today (2026-09-30).']
    """
    said = review.sign_off.date.strip() if review is not None else ""
    now = today or date.today()
    try:
        day = read_date(said).day
    except ValueError:  # nothing there, or a text that is no date
        return []
    if day <= now:
        return []
    return [f"The sign-off is dated {said}, which is after today ({now.isoformat()})."]


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
    return f"{problem.place} ({subject}{problem.rule})"
