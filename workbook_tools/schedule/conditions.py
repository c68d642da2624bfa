"""The conditions of the property: what the inspector found and what the rules found, said once.

    conditions_of(checked, problems, photos)   Found, most urgent first, each with the row it speaks of
    Found                                      a Condition, and the row of Equipment or Rooms it belongs to

A finding and a rule that saw the same thing (the library says which: `disagrees_with`) become
one condition, with the figures of the rule and the photos of the finding.

Not here: how the phrases read (sentences, rule_phrases).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES, FindingType, plain
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule import rule_phrases
from workbook_tools.schedule.equipment_texts import place
from workbook_tools.schedule.model import Condition
from workbook_tools.schedule.plain_english import sentence
from workbook_tools.schedule.sentences import basis, finding_headline, finding_phrase, telling_words
from workbook_tools.survey.model import Row, Survey

__all__ = ["Found", "PhotoNumbers", "by_row", "conditions_of", "names_in"]

_UNRANKED = "Correct soon"
"""Priority of an inspector's own wording that has none: nobody has said that it can wait."""

_ALERTED = "touch-test-alerted"

_OWN_ACTION = "Have a licensed electrician look at it."


class PhotoNumbers(Protocol):
    """The numbers of the photos of a row."""

    def __call__(self, row: Row) -> tuple[int, ...]:
        """Return the numbers, in order."""


@dataclass(frozen=True, slots=True)
class Found:
    """A condition, with the rows it belongs to (none where its subject is not in the lists).

    `cause` is the slug of the rule that found it, `read_from` the row that the rule read;
    `may_be_live` marks metal on which a tester alerted.
    """

    condition: Condition
    rows: tuple[Row, ...]
    cause: str = ""
    read_from: Row | None = None
    may_be_live: bool = False


def conditions_of(checked: Checked, problems: Iterable[Problem], photos: PhotoNumbers) -> list[Found]:
    """Return the conditions, most urgent first, then in the order of the sheets."""
    survey = checked.survey
    names = names_in(survey)
    by_place = {(row.sheet, row.number): row for row in survey.rows()}
    ruled = [
        _from_rule(checked, problem, by_place[place_of], photos)
        for problem in problems
        if rule_phrases.kind_of(problem) == rule_phrases.CONDITION
        and (place_of := (problem.sheet, _row_number(problem.cell))) in by_place
    ]
    ruled = _with_remarks(ruled)
    by_cause = _by_cause(ruled)
    taken: set[int] = set()
    found: list[Found] = []
    for row in survey.findings:
        if not (row["finding"].answered or row["seen"].answered):
            continue
        entry = survey.template.find_finding(str(row.get("finding") or ""))
        finding = _from_finding(survey, row, entry, names, photos)
        same = _same_cause(entry, finding, by_cause, taken)
        found.append(finding if same is None else _merged(finding, same))
    found += [rule for rule in ruled if id(rule) not in taken]
    return sorted(found, key=lambda f: _rank(f.condition.priority))


def names_in(survey: Survey) -> frozenset[str]:
    """Return the words that keep their capital: makers, rooms, tags, in small letters."""
    words: set[str] = set()
    for row in survey.equipment:
        for field in ("maker", "tag"):
            words.update(row[field].typed.casefold().split()[:1])
    return frozenset(words)


def _rank(priority: str) -> int:
    return PRIORITIES.index(priority) if priority in PRIORITIES else len(PRIORITIES)


def _row_number(cell: str) -> int:
    digits = cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return int(digits) if digits.isdigit() else 0


def _from_finding(
    survey: Survey, row: Row, entry: FindingType | None, names: frozenset[str], photos: PhotoNumbers
) -> Found:
    typed, seen = row["finding"].typed.strip(), row["seen"].typed.strip() if row.get("seen") else ""
    count = row.get("count")
    subject = row["subject"].typed.strip()
    rows, where = _subject(survey, subject)
    headline = finding_headline(entry, typed, count if isinstance(count, int) else None)
    said = sentence(headline) + (f" {sentence(seen)}" if seen else "")
    condition = Condition(
        priority=row.get("priority") or (entry.priority if entry is not None else _UNRANKED),
        subject=subject,
        place=where,
        phrase=finding_phrase(entry, typed, count if isinstance(count, int) else None, seen, names),
        seen=said,
        why=sentence(entry.why if entry is not None else ""),
        action=sentence(str(row.get("action") or (entry.action if entry is not None else _OWN_ACTION))),
        basis=basis(entry.section) if entry is not None and entry.section else "The inspector's observation",
        photos=photos(row),
    )
    return Found(condition, rows, may_be_live=entry is not None and _ALERTED in entry.disagrees_with)


def _subject(survey: Survey, subject: str) -> tuple[tuple[Row, ...], str]:
    tagged = survey.tagged(subject)
    if tagged:
        return tuple(tagged), place(tagged[0])
    room = survey.room(subject)
    if room is not None:
        level = str(room.get("level") or "").strip()
        return (room,), f"{room.subject} ({level})" if level else room.subject
    return (), f"{subject} (not in the list of equipment)" if subject else "Place not recorded"


def _from_rule(checked: Checked, problem: Problem, row: Row, photos: PhotoNumbers) -> Found:
    survey, assessment = checked.survey, checked.assessment
    rows: tuple[Row, ...]
    if row.key in ("equipment", "rooms"):
        rows, where = (row,), place(row) if row.key == "equipment" else row.subject
    else:
        rows, where = _subject(survey, row.subject)
    phrase = rule_phrases.phrase(problem, row, assessment)
    condition = Condition(
        priority=problem.priority or _UNRANKED,
        subject=row.subject or problem.subject,
        place=where,
        phrase=phrase,
        seen=sentence(phrase),
        why=sentence(rule_phrases.why(problem)),
        action=sentence(rule_phrases.action(problem, survey.template)),
        basis=basis(problem.source),
        photos=photos(row) or tuple(number for equipment in rows for number in photos(equipment)),
    )
    return Found(condition, rows, problem.rule, row, problem.rule == _ALERTED)


def _with_remarks(ruled: Sequence[Found]) -> list[Found]:
    """Add what the inspector remarked in a row to that of its conditions which it speaks of, or to the first."""
    of_row: dict[int, list[int]] = {}
    for at, one in enumerate(ruled):
        if one.read_from is not None and one.read_from.get("remarks"):
            of_row.setdefault(id(one.read_from), []).append(at)
    result = list(ruled)
    for places in of_row.values():
        row = ruled[places[0]].read_from
        remark = row["remarks"].typed if row is not None else ""
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
        for name in {plain(one.condition.subject), *(plain(row.subject) for row in one.rows)}:
            found.setdefault((one.cause, name), []).append(one)
    return found


def _same_cause(
    entry: FindingType | None,
    finding: Found,
    by_cause: Mapping[tuple[str, str], Sequence[Found]],
    taken: set[int],
) -> Found | None:
    if entry is None:
        return None
    for cause in entry.disagrees_with:
        for rule in by_cause.get((cause, plain(finding.condition.subject)), ()):
            if id(rule) not in taken:
                taken.add(id(rule))
                return rule
    return None


def _merged(finding: Found, rule: Found) -> Found:
    ours, theirs = finding.condition, rule.condition
    urgent = min(ours.priority, theirs.priority, key=_rank)
    merged = replace(
        ours,
        priority=urgent,
        place=theirs.place,
        phrase=theirs.phrase,
        seen=f"{sentence(theirs.phrase)} {ours.seen}",
        basis=basis("; ".join(part.replace(", ", "; ") for part in (theirs.basis, ours.basis))),
        photos=tuple(dict.fromkeys((*ours.photos, *theirs.photos))),
    )
    return Found(
        merged,
        finding.rows or rule.rows,
        rule.cause,
        may_be_live=finding.may_be_live or rule.may_be_live,
    )


def by_row(found: Iterable[Found]) -> Mapping[int, list[Condition]]:
    """Return the conditions of each row, by the row's identity."""
    result: dict[int, list[Condition]] = {}
    for one in found:
        for row in one.rows:
            result.setdefault(id(row), []).append(one.condition)
    return result
