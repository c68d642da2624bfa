"""What may go to the client, and what still stands in the way.

    judge(problems, review)       a Judgment: what goes, what is left out, what is open
    open_of_review(...)           what is open about the review workbook itself
    not_ready(survey, open)       the Unusable that lists everything that is open

What an answer in the review workbook comes to, by the class of the problem (review.answers says
which class takes which):

    correct   whatever the answer: open, since the survey is still wrong
    confirm   Tell the client: goes out as a condition. No issue, with a reason: never an issue; the
              client reads of it what the reviewer wrote as words for the client, or nothing. No
              answer: goes as a question left open
    report    Tell the client or no answer: goes to the client; so does a finding of the inspector
    note      the same, among the limits or remarks; with Tell the client as a condition
    any of the last four
              Leave out with a reason: stays in the firm's file; what is to act on now is left out,
              or ranked lower, only with a reason of some length and a second name. Ask the inspector, and Mended while it is
              still there: open. Any other word: open

Not here: writing anything (folder), the wording for the client (schedule).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from workbook_tools.definitions import PRIORITIES, spelling
from workbook_tools.errors import Unusable
from workbook_tools.review import Disposition, Entry, OwnIssue, Review, is_finding, is_name, is_same_person
from workbook_tools.review.answers import TAKEN_BY, answer_of
from workbook_tools.rules.client import Limit
from workbook_tools.rules.client_reads import card_of
from workbook_tools.rules.problems import Problem, in_sheet_order
from workbook_tools.schedule.conditions import RANKED, WORDED
from workbook_tools.schedule.model import Reviewed, ReviewersIssue
from workbook_tools.survey import Row

__all__ = ["Answered", "Judgment", "judge", "not_ready"]

MOST_LISTED = 60
"""Open things that are listed one by one; the rest is counted."""

ACT_NOW = PRIORITIES[0]
_FEWEST_WORDS, _FEWEST_LETTERS = 4, 20
"""The least that is a reason for keeping from the client what is to act on now."""
BY_REVIEWER = RANKED, WORDED


@dataclass(frozen=True, slots=True)
class Answered:
    """A problem with the reviewer's answer to it."""

    problem: Problem
    reason: str = ""
    second: str = ""
    words: str = ""


@dataclass(frozen=True)
class Judgment:
    """What becomes of every problem and finding. The delivery may go out when nothing is open.

    `for_client` holds what the client reads, `included` those of them that the reviewer wants told
    as conditions, `questions` what nobody answered, `no_issue` questions that are answered,
    `left_out` what stays in the firm's file, `open` what is to be done first, one sentence each, and
    `open_problems` the problems that these sentences are about. `findings` says what the reviewer
    made of the inspector's findings, by their rows; `own` are the reviewer's own issues; `edited` are
    the problems that the reviewer ranked or worded otherwise, as they were found, `lowered` those
    of them that were to act on now, and `answered` what was answered Tell the client, with the reason.
    """

    for_client: tuple[Problem, ...] = ()
    questions: tuple[Problem, ...] = ()
    left_out: tuple[Answered, ...] = ()
    open: tuple[str, ...] = ()
    open_problems: tuple[Problem, ...] = ()
    included: tuple[Problem, ...] = ()
    no_issue: tuple[Answered, ...] = ()
    findings: tuple[tuple[Row, Reviewed], ...] = ()
    own: tuple[ReviewersIssue, ...] = ()
    edited: tuple[tuple[Problem, str], ...] = ()
    lowered: tuple[Answered, ...] = ()
    answered: tuple[Answered, ...] = ()

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
        """What is said nowhere else: left out, answered No issue, and the notes that have become conditions."""
        notes = (problem for problem in self._raised if problem.class_ == "note")
        return [
            *(out.problem for out in (*self.left_out, *self.no_issue) if not is_finding(out.problem)),
            *notes,
        ]

    @property
    def urgent_left_out(self) -> list[Answered]:
        """What is to act on now and stays out all the same."""
        return [out for out in self.left_out if out.problem.priority == ACT_NOW]

    @property
    def told(self) -> list[tuple[str, str]]:
        """What was asked and answered, in the reviewer's words for the client: (subject, words)."""
        return [(one.problem.subject or one.problem.sheet, one.words) for one in self.no_issue if one.words]

    @property
    def _raised(self) -> dict[Problem, Problem]:
        """What the reviewer wants told, as conditions.

        A note that is raised is for the record; a confirmed question has the rank of any other condition.
        """
        unranked = {"note": "Record"}
        return {
            problem: replace(
                problem, class_="report", priority=problem.priority or unranked.get(problem.class_, "")
            )
            for problem in self.included
            if not isinstance(card_of(problem), Limit) or problem.source.endswith(BY_REVIEWER)
        }


def judge(problems: Iterable[Problem], review: Review | None) -> Judgment:
    """Decide for each problem and finding by its class and the reviewer's answer.

    Parameters
    ----------
    problems : iterable of Problem
        Everything that the rules and the inspector found in the survey as it is now (`review.desk`).
    review : Review, optional
        The reviewer's answers; without it nothing is answered.

    Examples
    --------
    >>> found = Problem("some-rule", "note", "", "Clearances", "J3", "MSB", "Items above",
    ...                 "Sprinkler only", "", "A sprinkler is above it.", "Nothing to do.", "NFPA 70 110.26(E)")
    >>> judge([found], Review(entries=[Entry(found, "Leave out", place="Problems!C2")])).open[0]
    'Clearances!J3 (MSB, some-rule), answered at Problems!C2, is left out without a reason: write it beside the answer.'
    """
    judging = _Judging(review)
    for problem in problems:
        judging.take(problem)
    if review is not None:
        for issue in review.own:
            judging.take_own(issue)
    return judging.judgment()


class _Judging:
    """What has been decided so far."""

    def __init__(self, review: Review | None) -> None:
        self.review = review
        self.for_client: list[Problem] = []
        self.questions: list[Problem] = []
        self.left_out: list[Answered] = []
        self.no_issue: list[Answered] = []
        self.open: list[str] = []
        self.open_problems: list[Problem] = []
        self.included: list[Problem] = []
        self.findings: list[tuple[Row, Reviewed]] = []
        self.own: list[ReviewersIssue] = []
        self.edited: list[tuple[Problem, str]] = []
        self.lowered: list[Answered] = []
        self.answered: list[Answered] = []

    def take(self, problem: Problem) -> None:
        """Decide about one problem or finding."""
        entry = (self.review.answer_to(problem) if self.review is not None else None) or Entry(problem)
        chosen = answer_of(entry.disposition, problem) or None
        why_open = _why_open(problem, entry, chosen, self.review)
        if why_open:
            answered = f", answered at {entry.place}," if entry.place and any(entry.answer) else ""
            self.open.append(f"{_place(problem)}{answered}{why_open}".replace(",,", ","))
            self.open_problems.append(problem)
            return
        answer = Answered(problem, entry.reason.strip(), entry.second.strip(), entry.words.strip())
        if chosen is Disposition.LEAVE_OUT:
            self.left_out.append(answer)
            if is_finding(problem) and problem.row is not None:
                self.findings.append((problem.row, Reviewed(left_out=True)))
        elif chosen is Disposition.NO_ISSUE:
            self.no_issue.append(answer)
        elif problem.class_ == "confirm" and chosen is None:
            self.questions.append(problem)
        else:
            if chosen is Disposition.TELL:
                self.answered.append(answer)
            self._tell(problem, entry, chosen)

    def _tell(self, problem: Problem, entry: Entry, chosen: Disposition | None) -> None:
        priority, words = _priority_of(entry.priority), entry.words.strip()
        edits = [f"{BY_REVIEWER[0]}: {problem.priority or 'no priority'}, now {priority}"] if priority else []
        edits += [f"{BY_REVIEWER[1]}: {words}"] if words else []
        if edits:
            reason = f" ({entry.reason.strip()})" if entry.reason.strip() else ""
            self.edited.append((problem, "; ".join(edits) + reason))
        if problem.priority == ACT_NOW and priority not in ("", ACT_NOW):
            self.lowered.append(Answered(problem, entry.reason.strip(), entry.second.strip(), priority))
        if is_finding(problem):
            if edits and problem.row is not None:
                self.findings.append((problem.row, Reviewed(False, priority, words)))
            return
        told = problem
        if edits:
            marks = "; ".join(mark for mark, edit in zip(BY_REVIEWER, (priority, words), strict=True) if edit)
            told = replace(
                problem,
                priority=priority or problem.priority,
                phrase=words.rstrip(".") or problem.phrase,
                message=words or problem.message,
                source=f"{problem.source}; {marks}",
            )
        self.for_client.append(told)
        # Of a question or a note, words and a rank of the reviewer's say that it is to be told.
        if chosen is Disposition.TELL or (edits and problem.class_ != "report"):
            self.included.append(told)

    def take_own(self, issue: OwnIssue) -> None:
        """Decide about one issue that the reviewer added."""
        lacking = [
            name
            for name, text in (("a subject", issue.subject), ("what is wrong", issue.message))
            if not text
        ]
        priority = _priority_of(issue.priority)
        where = issue.place or "An issue of the reviewer's own"
        if lacking:
            self.open.append(
                f"{where}: what stands there matches no problem, and an issue of your own needs {' and '.join(lacking)}."
            )
        elif issue.priority.strip() and not priority:
            self.open.append(f"{where}: {issue.priority!r} is no priority: {', '.join(PRIORITIES)}.")
        else:
            self.own.append(ReviewersIssue(issue.subject, issue.message, issue.action, priority))

    def judgment(self) -> Judgment:
        """Return it all."""
        return Judgment(
            tuple(self.for_client), tuple(self.questions), tuple(self.left_out), tuple(self.open),
            tuple(self.open_problems), tuple(self.included), tuple(self.no_issue), tuple(self.findings),
            tuple(self.own), tuple(self.edited), tuple(self.lowered), tuple(self.answered),
        )  # fmt: skip


def _priority_of(text: str) -> str:
    return next((name for name in PRIORITIES if spelling(name) == spelling(text)), "")


def _why_open(problem: Problem, entry: Entry, chosen: Disposition | None, review: Review | None) -> str:
    """Return what is to be done about a problem before the survey can go out, or nothing."""
    said, reason = entry.disposition.strip(), entry.reason.strip()
    if problem.class_ == "correct":
        marked = ", marked Mended, is still there" if chosen is Disposition.MENDED else ""
        marked = " waits for the inspector" if chosen is Disposition.ASK else marked
        return f"{marked}: {problem.message} {problem.action}".rstrip()
    taken = TAKEN_BY.get(problem.class_, ())
    if said and chosen is None:
        return f" is answered {said!r}: answer {', '.join(taken[:-1])} or {taken[-1]}."
    if chosen is not None and chosen not in taken:
        return (
            f" is answered {chosen}, which is for questions: answer {', '.join(taken[:-1])} or {taken[-1]}."
        )
    if chosen is Disposition.ASK:
        return f" waits for the inspector: {problem.message}"
    if chosen is Disposition.MENDED:
        return ", marked Mended, is still there: mend the survey, or answer otherwise."
    if chosen is Disposition.LEAVE_OUT and not reason:
        return " is left out without a reason: write it beside the answer."
    if chosen is Disposition.NO_ISSUE and not reason:
        return " is answered No issue without a reason: write it beside the answer."
    if entry.priority.strip() and not _priority_of(entry.priority):
        return (
            f" is ranked {entry.priority.strip()!r}: write {', '.join(PRIORITIES[:-1])} or {PRIORITIES[-1]}."
        )
    edited = bool(entry.priority.strip() or entry.words.strip())
    if chosen is None and not edited and problem.class_ != "note" and (reason or entry.second.strip()):
        return " has a reason and no answer: choose one in the column Disposition."
    if chosen is None and problem.class_ == "confirm" and edited:
        return " is ranked or worded by you and has no answer: choose one in the column Disposition."
    if problem.priority == ACT_NOW:
        return _why_not_out(entry, chosen, review)
    return ""


def _why_not_out(entry: Entry, chosen: Disposition | None, review: Review | None) -> str:
    """Return what keeps something to act on now from being left out, or from being ranked lower."""
    lower = _priority_of(entry.priority) not in ("", ACT_NOW)
    if chosen is not Disposition.LEAVE_OUT and not lower:
        return (
            " is to act on now and is told in your words: the reason has to tell why."
            if entry.words.strip() and not entry.reason.strip()
            else ""
        )
    done = "left out" if chosen is Disposition.LEAVE_OUT else "ranked lower"
    words = entry.reason.split()
    if len(words) < _FEWEST_WORDS or len("".join(words)) < _FEWEST_LETTERS:
        return f" is to act on now and is {done}: the reason has to tell why, in a sentence."
    reviewer = review.sign_off.reviewer if review is not None else ""
    if not is_name(entry.second) or is_same_person(entry.second, reviewer):
        return (
            f" is to act on now and is {done}: a second person, other than the reviewer, has to agree; "
            "that name belongs in the column Second name."
        )
    return ""


def not_ready(survey: Path, still_open: Iterable[str]) -> Unusable:
    """Return the refusal that lists what is open, one thing to a line."""
    listed: Sequence[str] = list(still_open)
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
