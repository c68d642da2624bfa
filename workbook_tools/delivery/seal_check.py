"""Whether a signature holds: for this survey, for everything that it covers, for what is delivered.

    open_of_review(...)     what is open about a review, one sentence each
    unmatched(...)          problems without a row in a review, and rows that match no problem

Not here: what the answers come to (gate), what a seal is (review.seal).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from workbook_tools.definitions import spelling
from workbook_tools.review import (
    Review,
    Seal,
    changes,
    open_of_signature,
    sealed_answers_of,
    template_as_said,
)
from workbook_tools.review.columns import STATEMENT
from workbook_tools.review.model import Entry
from workbook_tools.review.seal import ANSWERS, PROFILE, RULES, TEMPLATE
from workbook_tools.review.signature import in_one_form
from workbook_tools.rules.problems import Problem
from workbook_tools.survey import Survey

__all__ = ["NO_REVIEW", "open_of_review", "unmatched"]

NO_REVIEW = (
    "There is no review workbook: make it with check -o, answer and sign it, and name it with --review."
)

_MOST_TOLD = 12


def open_of_review(
    survey: Survey, review: Review, seal: Seal, *, today: date, with_photos: bool = True
) -> list[str]:
    """Return what is open about one review: what has changed since it was made, and its signature.

    Parameters
    ----------
    survey : Survey
        As it is now.
    review : Review
        As read.
    seal : Seal
        Of what is there now.
    today : date
        The day of the delivery.
    with_photos : bool, optional
        Whether there is a photo folder; the photos in it are not compared otherwise.
    """
    inspected = survey.job.inspection_date.value
    signed = replace(review.sign_off, date=in_one_form(review.sign_off.date, inspected, today))
    now = seal.with_answers(sealed_answers_of(replace(review, sign_off=signed)))
    changed = changes(review.seal, now, survey, with_photos=with_photos)
    said = []
    if changed:
        said.append(_what_changed(survey, review, signed.date, changed))
    said += open_of_signature(review.name, signed.reviewer, signed.date, inspected, today)
    if spelling(signed.statement) != spelling(STATEMENT):
        was = "was taken away" if not signed.statement.strip() else "was changed"
        said.append(
            f"The statement on the sheet Sign-off of {review.name} {was}: run check again with -o {review.name}, which "
            "puts it back, and sign again."
        )
    return said


def _what_changed(survey: Survey, review: Review, day: str, changed: Sequence[str]) -> str:
    here, there = template_as_said(survey.template), review.template
    if there and there not in (here, survey.template.name):
        return (
            f"{review.name} was made with the template {there}, and {survey.path.name} was read with the template {here}: "
            f"name the template of the review with --template{_file_in(there)}."
        )
    signed = review.sign_off
    since = (
        f"the sign-off ({signed.reviewer}, {day}), which no longer holds"
        if signed.is_signed
        else f"{review.name} was made from it"
    )
    more = f" And {len(changed) - _MOST_TOLD} more." if len(changed) > _MOST_TOLD else ""
    beside = tuple(
        f"{part[0].upper()}{part[1:]}" for part in (TEMPLATE, PROFILE, RULES, ANSWERS, "photo", "picture")
    )
    of_survey = any(not line.startswith(beside) for line in changed)
    what = survey.path.name if of_survey else f"What was reviewed in {review.name}"
    return (
        f"{what} has changed since {since}. {' '.join(changed[:_MOST_TOLD])}{more} Run check again with "
        f"-o {review.name} (the answers are carried over), look at what is new, and sign again."
    )


def _file_in(said: str) -> str:
    """Return the file or the name of a template as it is given to --template, a space before it."""
    name, bracket, file = said.partition(" (")
    word = file.removesuffix(")") if bracket else name
    return f' "{word}"' if " " in word else f" {word}"


def unmatched(problems: Sequence[Problem], review: Review, not_looked_for: Iterable[str] = ()) -> list[str]:
    """Return what of a review and a survey does not match: one sentence for each kind.

    Parameters
    ----------
    problems : sequence of Problem
        What was found now.
    review : Review
        With its rows.
    not_looked_for : iterable of str
        Rules that did not look this time (photos that are not delivered); their rows stand for nothing.
    """
    said = []
    matched: set[Entry] = set()
    lost = []
    for problem in problems:
        entries = review.answers_to(problem)
        matched |= set(entries)
        if not entries:
            lost.append(problem)
        elif len({entry.answer for entry in entries}) > 1 and _is_one_cell(problem, entries):
            places = " and ".join(entry.place for entry in entries)
            said.append(
                f"{places} of {review.name} answer the same problem differently: keep one of the rows."
            )
    if lost:
        named = ", ".join(f"{p.place} ({p.subject or p.rule})" for p in lost[:6])
        more = f" and {len(lost) - 6} more" if len(lost) > 6 else ""
        are = (
            "One problem that was found is" if len(lost) == 1 else f"{len(lost)} problems that were found are"
        )
        said.append(
            f"{are} not in {review.name}: {named}{more}. Run check again with -o, answer, and sign again."
        )
    quiet = set(not_looked_for)
    strangers = [e for e in review.entries if e not in matched and e.problem.rule not in quiet]
    if strangers:
        rows = ", ".join(
            entry.place.rpartition("!")[2].lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") for entry in strangers
        )
        what = "row of {} matches" if len(strangers) == 1 else "rows of {} match"
        if any(any(entry.answer) for entry in strangers):
            what = "answer of {} matches" if len(strangers) == 1 else "answers of {} match"
        said.append(
            f"{len(strangers)} {what.format(review.name)} no problem: {'row' if len(strangers) == 1 else 'rows'} {rows}. "
            "Take them out, or run check again with -o."
        )
    return list(dict.fromkeys(said))


def _is_one_cell(problem: Problem, entries: Sequence[Entry]) -> bool:
    return all((e.problem.sheet, e.problem.cell) == (problem.sheet, problem.cell) for e in entries)
