"""The firm's own record of a delivery: what the client does not get to see, and why.

    record_path(output)   where it is written: beside the client's folder, never in it
    write_record(...)     one table: sign-off, what was left out, questions, photos not taken

It is a CSV file that a spreadsheet program opens as it is.

Not here: what was left out and why (gate).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from workbook_tools.delivery.gate import Judgment
from workbook_tools.files.csv_text import write_csv
from workbook_tools.rules.problems import Problem

__all__ = ["record_path", "write_record"]

_HEADINGS = ("What", "Rule", "Class", "Priority", "Sheet", "Cell", "Subject", "Read", "Message", "Reason")
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"  # without it a spreadsheet program takes the file for another alphabet


def record_path(output: Path) -> Path:
    """Return where the record of a delivery is written.

    Examples
    --------
    >>> record_path(Path("jobs/delivery")).name
    'delivery - for the file.csv'
    """
    return output.with_name(f"{output.name} - for the file.csv")


def write_record(
    path: Path,
    judgment: Judgment,
    *,
    signed: str,
    still_open: Sequence[str],
    photos: Iterable[str],
    doubts: Iterable[str] = (),
) -> None:
    """Write the record.

    Parameters
    ----------
    path : Path
        Where to write.
    judgment : Judgment
        What became of every problem.
    signed : str
        Who signed when, of which survey; or that nobody did.
    still_open : sequence of str
        What was open when a draft was made.
    photos : iterable of str
        A sentence about each photo that was not taken.
    doubts : iterable of str, optional
        What is odd about the sign-off.
    """
    rows: list[Sequence[str]] = [_HEADINGS, _said("Sign-off", signed)]
    rows += [_said("Sign-off", line) for line in doubts]
    rows += [_said("Open in this draft", line) for line in still_open]
    rows += [_found("Left out", out.problem, out.reason) for out in judgment.left_out]
    rows += [_found("Question left open", problem, "") for problem in judgment.questions]
    rows += [_said("Photo", line) for line in photos]
    path.write_bytes(_BYTE_ORDER_MARK + write_csv(rows))


def _said(what: str, message: str) -> Sequence[str]:
    return [what, *[""] * (len(_HEADINGS) - 3), message, ""]


def _found(what: str, problem: Problem, reason: str) -> Sequence[str]:
    p = problem
    return [what, p.rule, p.class_, p.priority, p.sheet, p.cell, p.subject, p.read, p.message, reason]
