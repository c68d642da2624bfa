"""What was not looked at, not seen or not compared: the other half of the truth.

    limits_of(checked, open_questions, confirmed)   every line of "Limits of this survey"
    in_short(limits)                                the same in a few lines, for the first page

Rooms that were not entered come first, then what was left out, what was not looked at again since an earlier
survey, what could not be seen, what was not recorded, what was not compared, rules that the firm changed, open
questions, and what was mended.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace

from workbook_tools.checking import Checked
from workbook_tools.definitions import Template, plain
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition, Limit, LimitGroup, Paperwork
from workbook_tools.rules.client_reads import action, card_of, work
from workbook_tools.rules.plain_english import capital, inside, listed, plural, sentence
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.schedule.equipment_texts import place
from workbook_tools.schedule.model import LimitLine
from workbook_tools.survey import Equipment, Finding, Outcome, Room, Row
from workbook_tools.survey.written_dates import in_words

__all__ = ["GROUPS", "in_short", "limits_of"]

ROOMS, OUTSIDE = LimitGroup.ROOMS.value, LimitGroup.OUTSIDE.value
UNSEEN, UNRECORDED = LimitGroup.UNSEEN.value, LimitGroup.UNRECORDED.value
LEFT_OUT, UNCOMPARED, CHANGED = "Not inspected", "Not compared", "Rules the firm changed"
AGAIN, MENDED = "Not looked at again", "Mended since the survey before"
OPEN, ANSWERED, SCOPE = "Open questions", "Asked and answered", "Scope of the visit"
GROUPS = (
    ROOMS,
    LEFT_OUT,
    OUTSIDE,
    AGAIN,
    UNSEEN,
    UNRECORDED,
    UNCOMPARED,
    CHANGED,
    OPEN,
    ANSWERED,
    MENDED,
    SCOPE,
)

_MOST_NAMES = 24
"""Names listed in one line before the rest is counted."""

Goes = Callable[[LimitGroup, Row], bool]
"""Whether a limit of a group that speaks of a row goes to the client."""


def limits_of(
    checked: Checked,
    open_questions: Iterable[Problem] = (),
    confirmed: Iterable[Problem] = (),
    left_out: Iterable[Problem] = (),
    answered: Iterable[tuple[str, str]] = (),
) -> list[LimitLine]:
    """Return every limit of the survey, in the order of GROUPS.

    Parameters
    ----------
    checked : Checked
        The survey and what its rules came to.
    open_questions : iterable of Problem
        What nobody has answered yet (a draft).
    confirmed : iterable of Problem
        Problems that the reviewer confirmed; those about what was not recorded are limits.
    left_out : iterable of Problem
        Problems that the reviewer kept back: no line is made of them.
    answered : iterable of (subject, words)
        What was asked and answered, in the reviewer's words for the client.
    """
    left_out = list(left_out)
    kept_back = {(problem.rule, problem.row) for problem in left_out}
    limits_kept_back = {
        (card.group, problem.row) for problem in left_out if isinstance(card := card_of(problem), Limit)
    }

    def goes(group: LimitGroup, row: Row) -> bool:
        return (group, row) not in limits_kept_back

    return [
        *_named_once(_said_once(_rooms(checked, goes), _left_out(checked)), _outside_scope(checked, goes)),
        *_not_again(checked),
        *_unseen(checked, goes),
        *_unrecorded(checked, confirmed, kept_back),
        *_uncompared(checked.not_checked),
        *_changed_rules(checked),
        *_open(open_questions, checked.survey.template),
        *(LimitLine(ANSWERED, subject, sentence(words)) for subject, words in answered),
        *_mended(checked),
        *_scope(checked),
    ]


def _rooms(checked: Checked, goes: Goes) -> list[LimitLine]:
    lines = []
    for room in checked.survey.rooms:
        access = room.access.value
        if access != "Entered" and goes(LimitGroup.ROOMS, room):
            remark = room.remarks.said if room.remarks.value else ""
            reason = f"{sentence(access or 'access not recorded')} {sentence(remark)}".strip()
            lines.append(LimitLine(ROOMS, room.with_level, reason))
    return lines


def _left_out(checked: Checked) -> list[LimitLine]:
    return [
        LimitLine(
            LEFT_OUT,
            row.item.said or "Item not named",
            sentence(row.reason.typed if row.reason.value else "") or "Reason not recorded.",
            (row.specialist.value or "").strip(),
        )
        for row in checked.survey.not_inspected
        if row.item.answered or row.reason.answered
    ]


def _said_once(rooms: Sequence[LimitLine], left_out: Sequence[LimitLine]) -> list[LimitLine]:
    """Return both, a room that was left out for the reason it was not entered for in one line."""
    lines = {plain(line.what.partition(" (")[0]): line for line in rooms}
    rest = []
    for line in left_out:
        room = lines.get(plain(line.what))
        if room is None or plain(line.reason.rstrip(".")) not in plain(room.reason):
            rest.append(line)
        elif line.who and not room.who:
            lines[plain(line.what)] = replace(room, who=line.who)
    return [*(lines[plain(line.what.partition(" (")[0])] for line in rooms), *rest]


def _named_once(left_out: Sequence[LimitLine], outside: Sequence[tuple[str, LimitLine]]) -> list[LimitLine]:
    """Return both; a piece that stands by its tag among what was left out, there alone, with what could not be seen."""
    lines, rest = list(left_out), []
    for tag, line in outside:
        whole = re.compile(rf"(?<!\w){re.escape(tag)}(?!\w)", re.IGNORECASE)
        named = (n for n, one in enumerate(lines) if one.group == LEFT_OUT and whole.search(one.what))
        at = next(named, None) if tag else None
        if at is None:
            rest.append(line)
        else:
            unseen = line.reason.removeprefix(_FOR_COMPLETENESS).strip()
            lines[at] = replace(lines[at], reason=f"{lines[at].reason} {unseen}".strip())
    return [*lines, *rest]


_FOR_COMPLETENESS = "In the list so that it is complete; nobody inspected it."


def _outside_scope(checked: Checked, goes: Goes) -> list[tuple[str, LimitLine]]:
    """Return the equipment that is outside the survey, each with its tag."""
    lines = []
    for row in checked.survey.equipment:
        if not checked.assessment.is_in_scope(row) and goes(LimitGroup.OUTSIDE, row):
            unseen = _unseen_headings(row) if goes(LimitGroup.UNSEEN, row) else ""
            line = LimitLine(OUTSIDE, place(row, checked.survey), f"{_FOR_COMPLETENESS} {unseen}".strip())
            lines.append((row.called, line))
    return lines


def _not_again(checked: Checked) -> list[LimitLine]:
    """Return what was carried over from an earlier survey and not seen again: one line for each sheet and day."""
    lines = []
    survey = checked.survey
    for what, rows in (("Clearances", survey.clearances), ("Findings", survey.standing_findings)):
        groups: dict[str, list[str]] = {}
        for row in rows:
            if row.is_as_of:
                groups.setdefault(row.is_as_of, []).append(row.called or "place not recorded")
        lines += [
            LimitLine(AGAIN, f"{what}: {_names(tags)}", f"{len(tags)} of {len(rows)}, as of {when}.")
            for when, tags in groups.items()
        ]
    return lines


def _mended(checked: Checked) -> list[LimitLine]:
    """Return the findings of an earlier survey that are no issue any more."""
    return [
        LimitLine(MENDED, row.called or "Place not recorded", _mended_since(row))
        for row in checked.survey.findings
        if row.is_mended
    ]


def _mended_since(row: Finding) -> str:
    since = f" since {in_words(row.last_seen.said)}" if row.last_seen.said else ""
    return sentence(f"{inside(row.finding.said or row.seen.said or 'a finding')}: mended{since}")


def _unseen(checked: Checked, goes: Goes) -> list[LimitLine]:
    """Return what was answered N/V: one line for each set of headings, with all the tags."""
    groups: dict[str, list[str]] = {}
    for row in checked.survey.rows():
        said = _unseen_headings(row)
        if said and not _said_otherwise(checked, row) and goes(LimitGroup.UNSEEN, row):
            groups.setdefault(said, []).append(row.called or row.definition.name)
    return [LimitLine(UNSEEN, _names(subjects), said) for said, subjects in groups.items()]


def _unseen_headings(row: Row) -> str:
    """Return what of a row was answered N/V: "Maker and short-circuit rating could not be seen."."""
    unseen = [value for value in row.values.values() if value.outcome is Outcome.NOT_VISIBLE]
    if not unseen:
        return ""
    headings = [value.heading.partition(" (")[0] for value in unseen]
    headings = [text if text[:2].isupper() else text[:1].lower() + text[1:] for text in headings]
    return f"{capital(listed(headings))} could not be seen."


def _said_otherwise(checked: Checked, row: Row) -> bool:
    if isinstance(row, Room):
        return row.access.value not in (None, "Entered")
    return isinstance(row, Equipment) and not checked.assessment.is_in_scope(row)


def _unrecorded(
    checked: Checked, confirmed: Iterable[Problem], kept_back: Collection[tuple[str, Row | None]]
) -> list[LimitLine]:
    lines = []
    inspected = [row for row in checked.survey.equipment if checked.assessment.is_in_scope(row)]
    untouched = [row.called for row in inspected if row.touch_test.value == "Not touched"]
    if untouched:
        lines.append(
            LimitLine(
                UNRECORDED,
                _names(untouched),
                "Looked at without touching; no non-contact voltage test was made.",
            )
        )
    groups: dict[Limit, list[str]] = {}
    notes = [problem for problem in checked.problems if problem.class_ == "note"]
    for problem in dict.fromkeys((*confirmed, *notes)):
        card = card_of(problem)
        if not isinstance(card, Limit) or card.group is not LimitGroup.UNRECORDED:
            continue
        # What the reviewer wants told as a condition stands there, not here.
        if problem.class_ != "report" and (problem.rule, problem.row) not in kept_back:
            groups.setdefault(card, []).append(problem.subject)
    for card, subjects in groups.items():
        lines.append(
            LimitLine(UNRECORDED, _names(subjects), card.one if len(set(subjects)) == 1 else card.many)
        )
    unreached = [row for row in inspected if checked.assessment.is_entered(row) is False]
    if unreached:
        lines.append(
            LimitLine(
                UNRECORDED, _names([row.called for row in unreached]), "In a room that was not entered."
            )
        )
    if not checked.survey.clearances:
        lines.append(LimitLine(UNRECORDED, "Working space", "No clearances were measured."))
    return lines


def _uncompared(not_checked: Sequence[NotChecked]) -> list[LimitLine]:
    groups: dict[tuple[str, str], list[str]] = {}
    for one in not_checked:
        if catalogue()[one.rule].compares:
            missing = one.missing.partition(" of ")[0]
            groups.setdefault((one.rule, missing), []).append(one.subject)
    return [
        LimitLine(
            UNCOMPARED,
            f"{catalogue()[slug].compares}: {_names(subjects)}",
            f"{capital(inside(missing))} {_was(missing)} not recorded.",
        )
        for (slug, missing), subjects in groups.items()
    ]


def _was(heading: str) -> str:
    """Return the verb of a heading: "Items above were", "Hand motions were", "Access was"."""
    words = heading.split() or [heading]
    many = any(word.endswith("s") and not word.endswith("ss") for word in (words[0], words[-1]))
    return "were" if many else "was"


def _changed_rules(checked: Checked) -> list[LimitLine]:
    lines = []
    for setting in checked.off:
        rule = catalogue().get(setting.slug)
        what = rule.what if rule is not None else setting.slug
        done = "Not looked for in this survey." if setting.off else f"Given the priority {setting.priority}."
        lines.append(LimitLine(CHANGED, _title(what), f"{done} {sentence(setting.reason)}".strip()))
    for text in checked.assessment.profile.amended:
        lines.append(LimitLine(CHANGED, "Local amendment", sentence(text)))
    for crash in checked.crashed:
        rule = catalogue().get(crash.rule)
        what = rule.what if rule is not None else crash.rule
        lines.append(LimitLine(UNCOMPARED, _title(what), "The comparison failed; nothing was looked for."))
    return lines


def _title(text: str) -> str:
    """Return a sentence as the title of a line: a capital, no full stop."""
    return capital(inside(text))


def _open(problems: Iterable[Problem], template: Template) -> list[LimitLine]:
    return [
        _question(problem, template) for problem in problems if card_of(problem) != Paperwork(firms_own=True)
    ]


def _question(problem: Problem, template: Template) -> LimitLine:
    """Return a question that nobody has answered, with what to do about it and who does where it is a condition."""
    asked = sentence(problem.message)
    if not isinstance(card_of(problem), Condition):
        return LimitLine(OPEN, problem.subject or problem.sheet, asked)
    do = sentence(action(problem, template))
    return LimitLine(
        OPEN,
        problem.subject or problem.sheet,
        f"{asked} {do}",
        capital(work(problem.rule, template).trade.value),
    )


def _scope(checked: Checked) -> list[LimitLine]:
    job = checked.survey.job
    lines = [LimitLine(SCOPE, "Figures compared with", _edition(checked))]
    if job.scope_notes.value:
        lines.append(LimitLine(SCOPE, "Agreed scope", sentence(job.scope_notes.said)))
    if job.power_on.value in ("Yes", "No"):
        power = "On." if job.power_on.value == "Yes" else "Off."
        lines.append(LimitLine(SCOPE, "Power during the visit", power))
    if checked.assessment.photos is None and checked.survey.photos_named():
        lines.append(LimitLine(SCOPE, "Photos", "Photos were taken; they are not part of this delivery."))
    lines.append(LimitLine(SCOPE, "Visual survey", _what_was_done(checked)))
    return lines


def _edition(checked: Checked) -> str:
    """Return whose figures stand in the schedule, and what is not known of the edition that held."""
    unknown = (
        "The year built was not recorded, so which edition held then is not known. "
        if checked.assessment.year_built is None
        else ""
    )
    return (
        f"Figures are compared with those of {checked.assessment.profile.title}. {unknown}"
        "Which edition and which amendments apply here, the local authority decides."
    )


def _what_was_done(checked: Checked) -> str:
    """Return what a visual survey did and did not do, by what was recorded."""
    survey = checked.survey
    tested = any(row.touch_test.value in ("No alert", "ALERTED") for row in survey.equipment)
    doors = any(row.circuit_directory.value for row in survey.equipment) or any(
        row.door_opens_90.value for row in survey.clearances
    )
    said = (
        "Equipment was looked at from outside.",
        "Where it is recorded, metal surfaces were tested with a non-contact voltage tester, whose silence proves nothing and "
        "which does not detect direct current."
        if tested
        else "",
        "Doors were opened at most where that lays no live part bare (to see the circuit directory, or how far they open)."
        if doors
        else "",
        (
            "No cover was taken off, nothing was operated, and nothing else was tested or measured electrically. What is inside "
            "enclosures, walls and ceilings was not seen."
        ),
    )
    return " ".join(text for text in said if text)


def _names(subjects: Sequence[str]) -> str:
    names = list(dict.fromkeys(subject for subject in subjects if subject))
    if len(names) > _MOST_NAMES:
        return f"{', '.join(names[:_MOST_NAMES])} and {len(names) - _MOST_NAMES} more"
    return listed(names)


def in_short(limits: Sequence[LimitLine]) -> tuple[str, ...]:
    """Return the limits in a few lines: rooms and items by name, the rest counted."""
    lines = []
    for group in (ROOMS, LEFT_OUT, OUTSIDE):
        here = [line for line in limits if line.group == group]
        if group == LEFT_OUT:
            rooms = {plain(line.what.partition(" (")[0]) for line in limits if line.group == ROOMS}
            here = [line for line in here if plain(line.what) not in rooms]
        if here:
            shown = [f"{line.what} ({inside(line.reason.partition('.')[0])})" for line in here[:6]]
            if group == OUTSIDE:
                shown = [line.what.partition(",")[0] for line in here[:6]]
            more = f" and {len(here) - 6} more" if len(here) > 6 else ""
            lines.append(f"{group}: {'; '.join(shown)}{more}.")
    again = [
        f"{inside(line.what.partition(':')[0])} ({inside(line.reason)})"
        for line in limits
        if line.group == AGAIN
    ]
    if again:
        lines.append(f"{AGAIN}: {'; '.join(again)}.")
    unseen = [line for line in limits if line.group == UNSEEN]
    if unseen:
        tags = list(
            dict.fromkeys(name for line in unseen for name in line.what.replace(" and ", ", ").split(", "))
        )
        lines.append(
            f"{UNSEEN}: some values at {plural(len(tags), 'place')} ({_names(tags[:8])}{', ...' if len(tags) > 8 else ''})."
        )
    open_ones = sum(line.group == OPEN for line in limits)
    if open_ones:
        lines.append(f"{OPEN}: {plural(open_ones, 'answer')} still missing.")
    changed = sum(line.group == CHANGED for line in limits)
    if changed:
        lines.append(f"{capital(plural(changed, 'rule'))} changed by the firm.")
    lines.append(
        "The inside of enclosures, walls and ceilings was not seen. All of it stands under Limits of this survey."
    )
    return tuple(lines)
