"""What was not looked at, not seen or not compared: the other half of the truth.

    limits_of(checked, open_questions, confirmed)   every line of "Limits of this survey"
    in_short(limits)                                the same in a few lines, for the first page

Rooms that were not entered come first, then what was left out, what could not be seen, what
was not recorded, what was not compared, rules that the firm changed, and open questions.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import replace

from workbook_tools.checking import Checked
from workbook_tools.definitions import plain
from workbook_tools.rules import catalogue
from workbook_tools.rules.causes import is_entered, is_in_scope
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.schedule import rule_phrases
from workbook_tools.schedule.equipment_texts import place
from workbook_tools.schedule.model import LimitLine
from workbook_tools.schedule.plain_english import capital, inside, listed, plural, sentence
from workbook_tools.survey.model import Outcome, Row

__all__ = ["GROUPS", "in_short", "limits_of"]

ROOMS, LEFT_OUT, OUTSIDE = "Rooms not entered", "Not inspected", "Recorded, not inspected"
UNSEEN, UNRECORDED, UNCOMPARED = "Could not be seen", "Not recorded", "Not compared"
CHANGED, OPEN, SCOPE = "Rules the firm changed", "Open questions", "Scope of the visit"
GROUPS = (ROOMS, LEFT_OUT, OUTSIDE, UNSEEN, UNRECORDED, UNCOMPARED, CHANGED, OPEN, SCOPE)

_MOST_NAMES = 24
"""Names listed in one line before the rest is counted."""

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Goes = Callable[[str, "Row"], bool]
"""Whether a limit that a rule found in a row goes to the client."""

_NOT_COMPARED = {
    "working-depth-short": "Depth of the working space",
    "working-width-short": "Width of the working space",
    "working-height-short": "Headroom of the working space",
    "door-swing-limited": "Opening of the doors of the equipment",
    "front-projection-over": "Things that stand out past the front",
    "dedicated-space-obstructed": "Dedicated space above the equipment",
    "working-space-storage": "Things stored in the working space",
    "second-entrance-check": "Ways out of rooms with large equipment",
    "secondary-protection-check": "Protection on the secondary of transformers",
    "short-circuit-rating-low": "Short-circuit rating beside the highest fault current",
    "hand-motions-over-six": "Number of hand motions to shut off the service",
    "voltage-differs-from-source": "Voltage beside that of the source",
    "phase-exceeds-source": "Phases beside those of the source",
    "neutral-not-supplied": "Neutral beside that of the source",
    "transformer-primary-mismatch": "Primary voltage beside that of the source",
    "transformer-secondary-mismatch": "Secondary voltage beside that of the loads",
}
"""What a rule compares, in the client's words. Other rules look after the workbook, not the property."""


def limits_of(
    checked: Checked,
    open_questions: Iterable[Problem] = (),
    confirmed: Iterable[Problem] = (),
    left_out: Iterable[Problem] = (),
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
    """
    kept_back = {(p.rule, p.sheet, p.cell.lstrip(_LETTERS)) for p in left_out}

    def goes(slug: str, row: Row) -> bool:
        return (slug, row.sheet, str(row.number)) not in kept_back

    return [
        *_said_once(_rooms(checked, goes), _left_out(checked)),
        *_outside_scope(checked, goes),
        *_unseen(checked, goes),
        *_unrecorded(checked, confirmed, kept_back),
        *_uncompared(checked.not_checked),
        *_changed_rules(checked),
        *_open(open_questions),
        *_scope(checked),
    ]


def _rooms(checked: Checked, goes: Goes) -> list[LimitLine]:
    lines = []
    for room in checked.survey.rooms:
        access = room.get("access")
        if access == "Entered" or not goes("room-not-entered", room):
            continue
        level = str(room.get("level") or "").strip()
        reason = access or "access not recorded"
        remark = room["remarks"].typed.strip() if room.get("remarks") else ""
        lines.append(
            LimitLine(
                ROOMS, f"{room.subject} ({level})" if level else room.subject, sentence(f"{reason}. {remark}")
            )
        )
    return lines


def _left_out(checked: Checked) -> list[LimitLine]:
    return [
        LimitLine(
            LEFT_OUT,
            row["item"].typed.strip() or "Item not named",
            sentence(row["reason"].typed) or "Reason not recorded.",
            str(row.get("specialist") or "").strip(),
        )
        for row in checked.survey.not_inspected
        if row["item"].answered or row["reason"].answered
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


def _outside_scope(checked: Checked, goes: Goes) -> list[LimitLine]:
    lines = []
    for row in checked.survey.equipment:
        if not is_in_scope(checked.assessment, row) and goes("outside-scope-item", row):
            unseen = _unseen_headings(checked, row) if goes("not-visible", row) else ""
            said = "In the list so that it is complete; nobody inspected it."
            lines.append(LimitLine(OUTSIDE, place(row), f"{said} {unseen}".strip()))
    return lines


def _unseen(checked: Checked, goes: Goes) -> list[LimitLine]:
    """Return what was answered N/V: one line for each set of headings, with all the tags."""
    groups: dict[str, list[str]] = {}
    for row in checked.survey.rows():
        said = _unseen_headings(checked, row)
        if said and not _said_otherwise(checked, row) and goes("not-visible", row):
            sheet = checked.survey.template.by_key[row.key]
            groups.setdefault(said, []).append(row.subject or sheet.name)
    return [LimitLine(UNSEEN, _names(subjects), said) for said, subjects in groups.items()]


def _unseen_headings(checked: Checked, row: Row) -> str:
    """Return what of a row was answered N/V: "Maker and short-circuit rating could not be seen."."""
    unseen = [name for name, value in row.values.items() if value.outcome is Outcome.NOT_VISIBLE]
    if not unseen:
        return ""
    columns = checked.survey.template.by_key[row.key].by_field
    headings = [columns[name].heading.partition(" (")[0] for name in unseen]
    headings = [text if text[:2].isupper() else text[:1].lower() + text[1:] for text in headings]
    return f"{capital(listed(headings))} could not be seen."


def _said_otherwise(checked: Checked, row: Row) -> bool:
    if row.key == "rooms":
        return row.get("access") not in (None, "Entered")
    return row.key == "equipment" and not is_in_scope(checked.assessment, row)


def _unrecorded(
    checked: Checked, confirmed: Iterable[Problem], kept_back: Collection[tuple[str, str, str]]
) -> list[LimitLine]:
    lines = []
    inspected = [row for row in checked.survey.equipment if is_in_scope(checked.assessment, row)]
    untouched = [row.subject for row in inspected if row.get("touch_test") == "Not touched"]
    if untouched:
        lines.append(
            LimitLine(
                UNRECORDED,
                _names(untouched),
                "Looked at without touching; no non-contact voltage test was made.",
            )
        )
    stated = {"not-visible", "room-not-entered", "outside-scope-item"}
    groups: dict[tuple[str, str], list[str]] = {}
    notes = [problem for problem in checked.problems if problem.class_ == "note"]
    for problem in dict.fromkeys((*confirmed, *notes)):
        if (problem.rule, problem.sheet, problem.cell.lstrip(_LETTERS)) in kept_back:
            continue
        if rule_phrases.kind_of(problem) == rule_phrases.LIMIT and problem.rule not in stated:
            groups.setdefault((problem.rule, _REASONS.get(problem.rule, "")), []).append(problem.subject)
    for (slug, reason), subjects in groups.items():
        rule = catalogue().get(slug)
        lines.append(
            LimitLine(UNRECORDED, _names(subjects), reason or sentence(rule.what if rule is not None else ""))
        )
    unreached = [row for row in inspected if is_entered(checked.assessment, row) is False]
    if unreached:
        lines.append(
            LimitLine(
                UNRECORDED, _names([row.subject for row in unreached]), "In a room that was not entered."
            )
        )
    if not checked.survey.clearances:
        lines.append(LimitLine(UNRECORDED, "Working space", "No clearances were measured."))
    return lines


_REASONS = {
    "touch-test-not-recorded": "Whether the enclosure was tested with a non-contact voltage tester was not recorded.",
    "no-clearance-record": "The clearances around it were not measured.",
    "ground-fault-protection-not-recorded": "Whether the service has ground-fault protection was not recorded.",
    "impedance-not-recorded": "The impedance was not recorded, so no fault current could be computed.",
    "transfer-switch-one-source": "A second source of this transfer switch was not recorded.",
    "photo-missing": "A photo that was named is not among those delivered.",
}


def _uncompared(not_checked: Sequence[NotChecked]) -> list[LimitLine]:
    groups: dict[tuple[str, str], list[str]] = {}
    for one in not_checked:
        if one.rule in _NOT_COMPARED:
            missing = one.missing.partition(" of ")[0]
            groups.setdefault((one.rule, missing), []).append(one.subject)
    return [
        LimitLine(
            UNCOMPARED,
            f"{_NOT_COMPARED[slug]}: {_names(subjects)}",
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


def _open(problems: Iterable[Problem]) -> list[LimitLine]:
    return [
        LimitLine(OPEN, problem.subject or problem.sheet, sentence(problem.message))
        for problem in problems
        if problem.rule not in rule_phrases.ABOUT_THE_FILE
    ]


def _scope(checked: Checked) -> list[LimitLine]:
    job = checked.survey.job
    lines = []
    notes = job["scope_notes"].typed.strip() if job.get("scope_notes") else ""
    if notes:
        lines.append(LimitLine(SCOPE, "Agreed scope", sentence(notes)))
    power = job.get("power_on")
    if power in ("Yes", "No"):
        lines.append(LimitLine(SCOPE, "Power during the visit", "On." if power == "Yes" else "Off."))
    lines.append(LimitLine(SCOPE, "Visual survey", _what_was_done(checked)))
    return lines


def _what_was_done(checked: Checked) -> str:
    """Return what a visual survey did and did not do, by what was recorded."""
    survey = checked.survey
    tested = any(row.get("touch_test") in ("No alert", "ALERTED") for row in survey.equipment)
    doors = any(row.get("circuit_directory") for row in survey.equipment) or any(
        row.get("door_opens_90") for row in survey.clearances
    )
    said = (
        "Equipment was looked at from outside.",
        "Where it is recorded, metal surfaces were tested with a non-contact voltage tester, whose silence proves nothing."
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
        "The inside of enclosures, walls and ceilings was not seen. All limits stand on the sheet Limits of this survey."
    )
    return tuple(lines)
