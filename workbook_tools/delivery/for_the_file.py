"""The firm's own record of a delivery: what it was made from, what the client does not get to see, and why.

    record_path(output)         where it is written: beside the client's folder, never in it
    write_record(path, record)  one table
    Record                      what it holds
    delivered_otherwise(...)    answers that an earlier delivery under the same signature had otherwise

It is a CSV file that a spreadsheet program opens as it is.

Not here: what was left out and why (gate).
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from workbook_tools.delivery.gate import Judgment
from workbook_tools.files.csv_text import unguarded, write_csv
from workbook_tools.review import Review, answers_of
from workbook_tools.review.seal import ANSWERS, Item, Seal, differences
from workbook_tools.rules.problems import Problem

__all__ = ["Record", "delivered_otherwise", "record_path", "write_record"]

_HEADINGS = ("What", "Rule", "Class", "Priority", "Sheet", "Cell", "Subject", "Read", "Message", "Reason")
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"  # without it a spreadsheet program takes the file for another alphabet
_ENDING = " - for the file.csv"
_SIGNATURE, _ANSWER = "Signature", "Answer"
_MOST_RECORDS = 500
_MOST_BYTES = 50_000_000


@dataclass(frozen=True)
class Record:
    """What is to be kept of a delivery.

    `signed` says who signed when, of which survey, or that nobody did; `made_from` names survey,
    template, code profile, reviews and photos, as (what, sentence); `signatures` are the reviews
    whose signature the delivery goes out under, each with its day; `still_open` what was open when a draft was made;
    `photos` has a sentence about each photo that was not taken.
    """

    judgment: Judgment
    signed: str
    made_from: Sequence[tuple[str, str]] = ()
    signatures: Sequence[tuple[Review, str]] = ()
    still_open: Sequence[str] = ()
    photos: Iterable[str] = ()


def record_path(output: Path) -> Path:
    """Return where the record of a delivery is written.

    Examples
    --------
    >>> record_path(Path("jobs/delivery")).name
    'delivery - for the file.csv'
    """
    return output.with_name(f"{output.name}{_ENDING}")


def write_record(path: Path, record: Record) -> None:
    """Write the record.

    Parameters
    ----------
    path : Path
        Where to write.
    record : Record
        What it holds.
    """
    judged = record.judgment
    urgent = set(judged.urgent_left_out)
    rows: list[Sequence[str]] = [_HEADINGS, _said("Sign-off", record.signed)]
    rows += [_said(what, sentence) for what, sentence in record.made_from]
    rows += [_said("Open in this draft", line) for line in record.still_open]
    for out in judged.urgent_left_out:
        rows.append(_found("Left out, to act on now", out.problem, f"{out.reason} (agreed by {out.second})"))
    for lower in judged.lowered:
        what = f"{lower.reason} (now {lower.words}; agreed by {lower.second})"
        rows.append(_found("Ranked lower, to act on now", lower.problem, what))
    rows += [_found("Left out", out.problem, out.reason) for out in judged.left_out if out not in urgent]
    rows += [_found("No issue", one.problem, one.reason) for one in judged.no_issue]
    rows += [_found("Told to the client", one.problem, one.reason) for one in judged.answered]
    rows += [_found("Changed by the reviewer", problem, what) for problem, what in judged.edited]
    rows += [
        ["Added by the reviewer", "", "", own.priority, "", "", own.subject, "", own.seen, own.action]
        for own in judged.own
    ]
    rows += [_found("Question left open", problem, "") for problem in judged.questions]
    rows += [_said("Photo", line) for line in record.photos]
    for review, day in record.signatures:
        under = _signature(review, day)
        rows.append(_line(_SIGNATURE, under, review.which.in_words, review.seal.mark))
        rows += [_line(_ANSWER, under, item, str(text)) for item, text in answers_of(review)]
    path.write_bytes(_BYTE_ORDER_MARK + write_csv(rows))


def _said(what: str, message: str) -> Sequence[str]:
    return _line(what, "", message, "")


def _line(what: str, subject: str, message: str, reason: str) -> Sequence[str]:
    return [what, *[""] * 5, subject, "", message, reason]


def _found(what: str, problem: Problem, reason: str) -> Sequence[str]:
    p = problem
    return [what, p.rule, p.class_, p.priority, p.sheet, p.cell, p.subject, p.read, p.message, reason]


def _signature(review: Review, day: str) -> str:
    return f"{' '.join(review.sign_off.reviewer.split())}, {day}, checked {review.made}"


def delivered_otherwise(review: Review, day: str, folders: Iterable[Path]) -> list[str]:
    """Return what an earlier delivery under the same signature had otherwise, one sentence for each record.

    Parameters
    ----------
    review : Review
        The review at hand, signed.
    day : str
        The day on which it was signed, 2026-10-08.
    folders : iterable of Path
        Where the records of earlier deliveries may lie.
    """
    said = []
    now = Seal().with_answers(answers_of(review))
    for path in _records(folders):
        before = _answers_in(path, review, _signature(review, day))
        if before is None:
            continue
        other = [
            f"{item}: was {was or 'not answered'}, is {is_ or 'not answered'}."
            for item, was, is_ in differences(before, now.parts[ANSWERS])
        ]
        if other:
            more = f" And {len(other) - 6} more." if len(other) > 6 else ""
            said.append(
                f"{review.name} has other answers than those delivered under the same signature ({path.name}): "
                f"{' '.join(other[:6])}{more} To sign again: clear name and date on the sheet Sign-off, run check again "
                f"with -o {review.name}, and sign."
            )
    return said


def _records(folders: Iterable[Path]) -> Iterator[Path]:
    for folder in dict.fromkeys(folder.resolve() for folder in folders):
        try:
            yield from sorted(path for path in folder.glob(f"*{_ENDING}") if path.is_file())[:_MOST_RECORDS]
        except OSError:
            continue


def _answers_in(path: Path, review: Review, under: str) -> list[Item] | None:
    """Return the answers that a record has under the signature of a review; None where it has none."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            return None
        rows = list(csv.reader(StringIO(path.read_text(encoding="utf-8-sig"), newline="")))
    except (OSError, ValueError, csv.Error):  # somebody's own file of that name
        return None
    answers: list[Item] | None = None
    for row in rows:
        if len(row) != len(_HEADINGS):
            continue
        what, *_, subject, _read, message, reason = (unguarded(text) for text in row)
        if subject != under:
            continue
        if what == _SIGNATURE and message == review.which.in_words:
            answers = answers or []
        elif what == _ANSWER and answers is not None:
            answers.append((message, reason))
    return answers
