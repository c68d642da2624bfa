"""The answers that a reviewer can give, what each means, and which class of problem takes which.

    Disposition               Mended, Ask the inspector, No issue, Tell the client, Leave out
    DISPOSITIONS              their words, in the order of the drop-down
    TAKEN_BY[class_]          those that a class of problem takes
    answer_of(text, problem)  the answer that a text spells for a problem, or None
    FINDING, YOUR_OWN         the classes of what the rules did not find

Mended: the survey was corrected. Ask the inspector: it waits for an answer from the site. No
issue: the question is answered, nothing is wrong. Tell the client: it goes out. Leave out: it
stays in the firm's file, for the reason given.

Not here: what an answer does to a delivery (delivery).
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from workbook_tools.definitions import spelling
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Limit
from workbook_tools.rules.problems import Problem

__all__ = ["DISPOSITIONS", "FINDING", "TAKEN_BY", "YOUR_OWN", "Disposition", "answer_of"]

FINDING = "finding"
"""The class of what the inspector wrote down on the sheet Findings."""
YOUR_OWN = "your own"
"""The class of what the reviewer adds."""


class Disposition(StrEnum):
    """One answer, in the words of the drop-down."""

    MENDED = "Mended"
    ASK = "Ask the inspector"
    NO_ISSUE = "No issue"
    TELL = "Tell the client"
    LEAVE_OUT = "Leave out"


DISPOSITIONS = tuple(answer.value for answer in Disposition)

_OF_A_CONDITION = (Disposition.TELL, Disposition.LEAVE_OUT, Disposition.ASK, Disposition.MENDED)
TAKEN_BY: dict[str, tuple[Disposition, ...]] = {
    "correct": (Disposition.MENDED, Disposition.ASK),
    "confirm": (
        Disposition.NO_ISSUE,
        Disposition.TELL,
        Disposition.LEAVE_OUT,
        Disposition.ASK,
        Disposition.MENDED,
    ),
    "report": _OF_A_CONDITION,
    FINDING: _OF_A_CONDITION,
    "note": _OF_A_CONDITION,
}
"""No issue answers a question; what was measured or seen is told or left out."""

_SPELLED = {
    Disposition.MENDED: "mended mend fixed fix corrected done repaired",
    Disposition.ASK: "asktheinspector askinspector ask asked asktheinspectors inspector query",
    Disposition.NO_ISSUE: "noissue noissues notanissue nothingwrong allright fine noproblem",
    Disposition.TELL: "telltheclient tellclient tell told client include included inc report reported keep yes",
    Disposition.LEAVE_OUT: "leaveout leftout leave omit omitted exclude excluded drop no",
}
_BY_SPELLING = {word: answer for answer, words in _SPELLED.items() for word in words.split()}
_CONFIRMED = frozenset(["confirmed", "confirm", "ok", "okay", "right", "asrecorded", "stands", "checked"])
"""How earlier workbooks said that what was recorded is right."""


def answer_of(text: str, problem: Problem) -> Disposition | Literal[""] | None:
    """Return the answer that a text spells for a problem; "" for no answer, None for a text that spells none.

    "Confirmed", of earlier workbooks, answers a question with No issue, and lets stand what is no
    question: a condition is told, a note is no more than that.

    Examples
    --------
    >>> asked, measured = Problem.from_record({"class_": "confirm"}), Problem.from_record({"class_": "report"})
    >>> answer_of(" leave-out", asked), answer_of("Include", asked), answer_of("later", asked)
    (<Disposition.LEAVE_OUT: 'Leave out'>, <Disposition.TELL: 'Tell the client'>, None)
    >>> answer_of("OK", asked), answer_of("Confirmed", measured)
    (<Disposition.NO_ISSUE: 'No issue'>, <Disposition.TELL: 'Tell the client'>)
    """
    said = spelling(text)
    if said in _CONFIRMED:
        rule = catalogue().get(problem.rule)
        a_question = problem.class_ == "confirm" and not (rule and isinstance(rule.client, Limit))
        stands: Disposition | Literal[""] = "" if problem.class_ == "note" else Disposition.TELL
        return Disposition.NO_ISSUE if a_question else stands
    return _BY_SPELLING.get(said) if text.strip() else ""
