"""The conditions of the property: what the inspector found and what the rules found, said once.

    conditions_of(checked, problems, photos)   Found, most urgent first, each with the row it speaks of
    Found                                      a Condition, and the row of Equipment or Rooms it belongs to

A finding and a rule that saw the same thing (the library says which: `disagrees_with`) become
one condition, with the figures of the rule and the photos of the finding.

Not here: how the phrases read (sentences, cards), the numbers of the issues (issue_numbers).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES, FindingType, plain
from workbook_tools.definitions.work import USUAL, Work
from workbook_tools.rules import catalogue, client_reads
from workbook_tools.rules.client import Condition as Card
from workbook_tools.rules.in_words import cited_edition
from workbook_tools.rules.plain_english import as_of, capital, inside, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.equipment_texts import kind_of, level_of, place, room_of
from workbook_tools.schedule.model import ROOM, Condition, Reviewed, ReviewersIssue
from workbook_tools.schedule.sentences import (
    basis,
    edition_of,
    finding_headline,
    finding_phrase,
    telling_words,
)
from workbook_tools.survey import Clearance, Equipment, Finding, Room, Row, Survey, Transformer

__all__ = ["RANKED", "WORDED", "Found", "PhotoNumbers", "conditions_of", "names_in", "urgency"]

_UNRANKED = "Correct soon"
"""Priority of an inspector's own wording that has none: nobody has said that it can wait."""

RANKED, WORDED = "ranked by the reviewer", "worded by the reviewer"
"""What stands behind the basis of a condition that the reviewer ranked or worded."""

_OWN_ACTION = "Have a licensed electrician look at it."


class PhotoNumbers(Protocol):
    """The numbers of the photos of a row."""

    def __call__(self, row: Row) -> tuple[int, ...]:
        """Return the numbers, in order."""


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """A condition, with the rows it belongs to (none where its subject is not in the lists).

    `about` is what is wrong, as its number is drawn from it; `work` by whom it is mended and how;
    `finding` is the inspector's finding as typed, `cause` the slug of the rule that found it, `field` the heading
    and `read_from` the row that the rule read;
    `may_be_live` marks metal on which a tester alerted, `switching_off` what makes it uncertain how
    the building is switched off, `ranked` a priority of the reviewer's; `as_of` when it was last seen,
    where this visit did not see it again.
    """

    condition: Condition
    rows: tuple[Row, ...]
    about: str
    work: Work = USUAL
    cause: str = ""
    read_from: Row | None = None
    field: str = ""
    finding: str = ""
    may_be_live: bool = False
    switching_off: bool = False
    ranked: bool = False
    as_of: str = ""


def conditions_of(
    checked: Checked,
    problems: Iterable[Problem],
    photos: PhotoNumbers,
    reviewed: Mapping[Row, Reviewed] | None = None,
    own: Iterable[ReviewersIssue] = (),
) -> list[Found]:
    """Return the conditions, most urgent first, then in the order of the sheets.

    `reviewed` says what the reviewer made of the inspector's findings, by their rows; `own` are the
    issues that the reviewer adds.
    """
    survey, made_of = checked.survey, reviewed or {}
    names = names_in(survey)
    ruled = [
        _from_rule(checked, problem, problem.row, photos)
        for problem in problems
        if problem.row is not None and client_reads.is_condition(problem)
    ]
    ruled = _with_remarks(ruled)
    by_cause = _by_cause(ruled)
    taken: set[Found] = set()
    found: list[Found] = []
    for row in survey.standing_findings:
        if not (row.finding.answered or row.seen.answered):
            continue
        desk = made_of.get(row, Reviewed())
        if desk.left_out:
            continue
        entry = survey.template.find_finding(row.finding.value or "")
        finding = _dated(_as_reviewed(_from_finding(survey, row, entry, names, photos), desk), row)
        same = _same_cause(entry, finding, by_cause, taken)
        found.append(finding if same is None else _merged(finding, same))
    found += [rule for rule in ruled if rule not in taken]
    found += [_from_reviewer(survey, issue) for issue in own]
    return sorted(found, key=lambda f: urgency(f.condition.priority))


def names_in(survey: Survey) -> frozenset[str]:
    """Return the words that keep their capital: makers, rooms, tags, in small letters."""
    words: set[str] = set()
    for row in survey.equipment:
        for cell in (row.maker, row.tag):
            words.update(cell.typed.casefold().split()[:1])
    return frozenset(words)


def urgency(priority: str) -> int:
    """Return the place of a priority, most urgent first; what has none comes last."""
    return PRIORITIES.index(priority) if priority in PRIORITIES else len(PRIORITIES)


def _from_finding(
    survey: Survey, row: Finding, entry: FindingType | None, names: frozenset[str], photos: PhotoNumbers
) -> Found:
    typed, seen = row.finding.said, row.seen.said if row.seen.value else ""
    count = row.count.value
    where = _subject(survey, row.subject.said)
    headline = finding_headline(entry, typed, count)
    said = sentence(headline) + (f" {sentence(seen)}" if seen else "")
    condition = where.condition(
        priority=row.priority.value or (entry.priority if entry is not None else _UNRANKED),
        subject=row.subject.said,
        phrase=finding_phrase(entry, typed, count, seen, names),
        seen=said,
        why=sentence(entry.why if entry is not None else ""),
        action=sentence(row.action.value or (entry.action if entry is not None else _OWN_ACTION)),
        basis=basis(entry.section, edition_of(entry.source))
        if entry is not None and entry.section
        else "The inspector's observation",
        photos=photos(row),
        count=max(count or 1, 1),
    )
    if entry is None:
        return Found(condition, where.rows, typed or seen, finding=typed or seen)
    cards = _cards_of_the_same(entry)
    return Found(
        condition,
        where.rows,
        client_reads.cause(entry, survey.template),
        entry.work,
        finding=typed,
        may_be_live=any(card.may_be_live for card in cards),
        switching_off=any(card.switching_off for card in cards),
    )


def _as_reviewed(found: Found, desk: Reviewed) -> Found:
    """Return a finding as the reviewer ranked and worded it, marked as the reviewer's."""
    if not (desk.priority or desk.words):
        return found
    condition = found.condition
    marks = [mark for mark, edit in ((RANKED, desk.priority), (WORDED, desk.words)) if edit]
    condition = replace(
        condition,
        priority=desk.priority or condition.priority,
        phrase=inside(desk.words) if desk.words else condition.phrase,
        seen=sentence(desk.words) if desk.words else condition.seen,
        basis="; ".join((condition.basis, *marks)),
    )
    return replace(found, condition=condition, ranked=bool(desk.priority))


def _dated(found: Found, row: Row) -> Found:
    """Return what rests on a row that was not seen again on this visit as of the day when it was."""
    when, condition = row.is_as_of, found.condition
    if not when:
        return found
    dated = replace(
        condition, phrase=as_of(when, condition.phrase), seen=capital(as_of(when, condition.seen))
    )
    return replace(found, condition=dated, as_of=when)


def _from_reviewer(survey: Survey, issue: ReviewersIssue) -> Found:
    where = _subject(survey, issue.subject)
    condition = where.condition(
        priority=issue.priority or _UNRANKED,
        subject=issue.subject,
        phrase=inside(issue.seen),
        seen=sentence(issue.seen),
        why="",
        action=sentence(issue.action or _OWN_ACTION),
        basis="The reviewer's observation",
    )
    return Found(condition, where.rows, issue.seen)


def _cards_of_the_same(entry: FindingType) -> list[Card]:
    """Return what the rules that look for the same thing say to the client."""
    causes = (catalogue().get(cause) for cause in entry.disagrees_with)
    return [rule.client for rule in causes if rule is not None and isinstance(rule.client, Card)]


@dataclass(frozen=True, slots=True)
class _Where:
    """What an issue is about: its rows, and how the place reads."""

    rows: tuple[Row, ...]
    place: str
    kind: str = ""
    room: str = ""
    level: str = ""

    def condition(self, **said: Any) -> Condition:
        """Return a condition there; its number comes when all of them are known."""
        return Condition(id="", place=self.place, kind=self.kind, room=self.room, level=self.level, **said)


def _subject(survey: Survey, subject: str) -> _Where:
    tagged = survey.tagged(subject)
    if tagged:
        return _of_equipment(survey, *tagged)
    room = survey.room(subject)
    if room is not None:
        return _of_room(room)
    return _Where((), f"{subject} (not in the list of equipment)" if subject else "Place not recorded")


def _of_equipment(survey: Survey, *rows: Equipment) -> _Where:
    first = rows[0]
    return _Where(rows, place(first, survey), kind_of(first), room_of(first), level_of(first, survey))


def _of_room(room: Room) -> _Where:
    return _Where((room,), room.with_level, ROOM, room.called, room.storey)


def _from_rule(checked: Checked, problem: Problem, row: Row, photos: PhotoNumbers) -> Found:
    survey = checked.survey
    if isinstance(row, Equipment):
        where = _of_equipment(survey, row)
    elif isinstance(row, Room):
        where = _of_room(row)
    else:
        where = _subject(survey, row.called)
    phrase = client_reads.phrase(problem)
    condition = where.condition(
        priority=problem.priority or _UNRANKED,
        subject=row.called or problem.subject,
        phrase=phrase,
        seen=sentence(phrase),
        why=sentence(client_reads.why(problem)),
        action=sentence(client_reads.action(problem, survey.template)),
        basis=basis(problem.source, cited_edition(checked.assessment)),
        photos=photos(row) or tuple(number for equipment in where.rows for number in photos(equipment)),
    )
    found = Found(
        condition,
        where.rows,
        client_reads.cause(problem, survey.template),
        client_reads.work(problem.rule, survey.template),
        problem.rule,
        row,
        problem.field,
        may_be_live=client_reads.condition_of(problem).may_be_live,
        switching_off=client_reads.condition_of(problem).switching_off,
        ranked=RANKED in problem.source,
    )
    return _dated(found, row)


def _remarks_of(row: Row | None) -> str:
    """Return what the inspector remarked in a row, as typed; "" where nothing was."""
    if isinstance(row, (Equipment, Transformer, Clearance, Room)) and row.remarks.value:
        return row.remarks.typed
    return ""


def _with_remarks(ruled: Sequence[Found]) -> list[Found]:
    """Add what the inspector remarked in a row to that of its conditions which it speaks of, or to the first."""
    of_row: dict[Row, list[int]] = {}
    for at, one in enumerate(ruled):
        if one.read_from is not None and _remarks_of(one.read_from):
            of_row.setdefault(one.read_from, []).append(at)
    result = list(ruled)
    for row, places in of_row.items():
        remark = _remarks_of(row)
        near = telling_words(remark)
        best = max(places, key=lambda at: (len(near & telling_words(ruled[at].condition.phrase)), -at))
        condition = ruled[best].condition
        result[best] = replace(
            ruled[best], condition=replace(condition, seen=f"{condition.seen} {sentence(remark)}")
        )
    return result


def _by_cause(ruled: Sequence[Found]) -> dict[tuple[str, str], list[Found]]:
    """Return what rules found, by rule and subject."""
    found: dict[tuple[str, str], list[Found]] = {}
    for one in ruled:
        for name in {plain(one.condition.subject), *(plain(row.called) for row in one.rows)}:
            found.setdefault((one.cause, name), []).append(one)
    return found


def _same_cause(
    entry: FindingType | None,
    finding: Found,
    by_cause: Mapping[tuple[str, str], Sequence[Found]],
    taken: set[Found],
) -> Found | None:
    if entry is None:
        return None
    for cause in entry.disagrees_with:
        for rule in by_cause.get((cause, plain(finding.condition.subject)), ()):
            if rule not in taken:
                taken.add(rule)
                return rule
    return None


def _merged(finding: Found, rule: Found) -> Found:
    ours, theirs = finding.condition, rule.condition
    # A rank of the reviewer's counts, whichever of the two it was given to.
    by_reviewer = [one.condition.priority for one in (finding, rule) if one.ranked]
    urgent = min(by_reviewer or [ours.priority, theirs.priority], key=urgency)
    merged = replace(
        ours,
        priority=urgent,
        place=theirs.place,
        kind=theirs.kind,
        room=theirs.room,
        level=theirs.level,
        phrase=theirs.phrase,
        seen=f"{sentence(theirs.phrase)} {ours.seen}",
        basis=basis(f"{theirs.basis}; {ours.basis}", ""),  # each names its edition already
        photos=tuple(dict.fromkeys((*ours.photos, *theirs.photos))),
    )
    return Found(
        merged,
        finding.rows or rule.rows,
        finding.about,
        finding.work,
        rule.cause,
        finding=finding.finding,
        may_be_live=finding.may_be_live or rule.may_be_live,
        switching_off=finding.switching_off or rule.switching_off,
        ranked=finding.ranked or rule.ranked,
        as_of=finding.as_of if rule.as_of else "",
    )
