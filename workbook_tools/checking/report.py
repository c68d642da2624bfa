"""What checking came to, as text for the terminal and as one object for --json.

    summary(checked, emphasise)        short: what was read, counts, the problems in sheet order
    as_json(checked)                   {"survey": ..., "problems": [...]}
    counts_by_class(problems)          how many of each class and priority, in words
    read_in_words(survey)              what was read, in words

Not here: what is a problem (rules).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from workbook_tools.checking.running import Checked
from workbook_tools.definitions.model import PRIORITIES
from workbook_tools.rules.problems import CLASSES, NotChecked, Problem
from workbook_tools.survey import Survey, fingerprint

__all__ = [
    "CLASS_WORDS",
    "as_json",
    "counts_by_class",
    "extra_columns_in_words",
    "not_checked_in_words",
    "off_in_words",
    "problem_lines",
    "read_in_words",
    "summary",
]

MOST_LISTED = 200
"""Problems that the terminal shows one by one; the review workbook and --json have them all."""

_COUNTED = {
    "rooms": ("room", "rooms"),
    "equipment": ("piece of equipment", "pieces of equipment"),
    "transformers": ("transformer", "transformers"),
    "clearances": ("clearance", "clearances"),
    "findings": ("finding", "findings"),
    "photos": ("photo caption", "photo captions"),
    "not_inspected": ("item not inspected", "items not inspected"),
}
CLASS_WORDS = {"correct": "to correct", "confirm": "to confirm", "report": "to report", "note": "noted"}
_MOST_MISSING, _MOST_NAMED = 4, 6
_MOST_COLUMNS, _LONGEST_HEADING = 6, 40


def read_in_words(survey: Survey) -> str:
    """Return what was read: "9 rooms, 23 pieces of equipment, ..."."""
    parts = []
    for key, rows in survey.tables.items():
        one, many = _COUNTED.get(key, (f"row of {key}", f"rows of {key}"))
        if rows:
            parts.append(f"{len(rows):,} {one if len(rows) == 1 else many}")
    return ", ".join(parts) or "no rows"


def counts_by_class(problems: Iterable[Problem]) -> str:
    """Return the counts in words: "5 to correct, 6 to confirm, 13 to report (1 Act now, 12 Correct soon), 2 noted"."""
    by_class: dict[str, Counter[str]] = {name: Counter() for name in CLASSES}
    for problem in problems:
        by_class[problem.class_][problem.priority] += 1
    parts = []
    for name, priorities in by_class.items():
        urgent = [f"{priorities[p]} {p}" for p in PRIORITIES if priorities[p]]
        parts.append(
            f"{priorities.total():,} {CLASS_WORDS[name]}" + (f" ({', '.join(urgent)})" if urgent else "")
        )
    return ", ".join(parts)


def extra_columns_in_words(survey: Survey) -> str:
    """Return the columns that no field of the template stands for: "Equipment: Sticker no., Colour; Rooms: Key"."""
    by_sheet: dict[str, list[str]] = {}
    for taken in survey.headings:
        if taken.field is None and taken.heading.strip():
            by_sheet.setdefault(taken.sheet, []).append(" ".join(taken.heading.split()))
    said = []
    for sheet, headings in by_sheet.items():
        more = len(headings) - _MOST_COLUMNS
        named = ", ".join(heading[:_LONGEST_HEADING] for heading in headings[:_MOST_COLUMNS])
        said.append(f"{sheet}: {named}" + (f" and {more} more" if more > 0 else ""))
    return "; ".join(said)


def not_checked_in_words(not_checked: Iterable[NotChecked]) -> list[tuple[str, int, str]]:
    """Return each rule that could not look everywhere, how often, and what was missing of which subjects.

    Examples
    --------
    >>> gaps = [NotChecked("some-rule", tag, "Clearances", "B5", "Opposite side") for tag in ("DP-1", "RP-1")]
    >>> not_checked_in_words(gaps)
    [('some-rule', 2, 'Opposite side (DP-1, RP-1)')]
    """
    by_rule: dict[str, dict[str, list[str]]] = {}
    for entry in not_checked:
        by_rule.setdefault(entry.rule, {}).setdefault(entry.missing, []).append(entry.subject)
    said = []
    for rule, missing in by_rule.items():
        often = sorted(missing, key=lambda what: -len(missing[what]))
        named = [f"{what}{_of_subjects(missing[what])}" for what in often[:_MOST_MISSING]]
        more = len(often) - len(named)
        times = sum(map(len, missing.values()))
        said.append((rule, times, "; ".join(named) + (f"; {more} more" if more else "")))
    return said


def _of_subjects(subjects: Sequence[str]) -> str:
    """Return in brackets of which subjects something is missing, and how often where they have no name."""
    names = list(dict.fromkeys(filter(None, subjects)))
    if not names:
        return f" ({len(subjects)})" if len(subjects) > 1 else ""
    more = len(names) - _MOST_NAMED
    listed = ", ".join(names[:_MOST_NAMED])
    return f" ({listed} and {more:,} more)" if more > 0 else f" ({listed})"


def _missing_by_rule(not_checked: Iterable[NotChecked]) -> dict[str, Counter[str]]:
    missing: dict[str, Counter[str]] = {}
    for entry in not_checked:
        missing.setdefault(entry.rule, Counter())[entry.missing] += 1
    return missing


def off_in_words(checked: Checked) -> list[str]:
    """Return a sentence for each rule that the template changes, each crash, and what else must be said."""
    said = []
    for setting in checked.off:
        did = "switched off" if setting.off else f"given the priority {setting.priority}"
        said.append(f"The rule {setting.slug} is {did} by the template: {setting.reason}")
    said += [
        f"The rule {crash.rule} failed and found nothing; the other rules ran. A fault in the tool: {crash.error}"
        for crash in checked.crashed
    ]
    return said + checked.said


def summary(checked: Checked, emphasise: Callable[[str], str] = str) -> str:
    """Return what the terminal shows."""
    survey = checked.survey
    name = survey.job.property.said
    lines = [
        emphasise(f"{survey.path.name}{f': {name}' if name else ''}"),
        f"  {read_in_words(survey)}",
        f"  thresholds of {checked.assessment.profile.title}, template {survey.template.name}",
    ]
    near = [taken for taken in survey.headings if taken.field is not None and not taken.exact]
    for taken in near[:12]:
        column = survey.template.by_key[taken.key].by_field[taken.field or ""]
        lines.append(f"  {taken.sheet}!{taken.cell}: {taken.heading} was taken for {column.heading}")
    lines += [f"  {note}" for note in survey.notes]
    kept = extra_columns_in_words(survey)
    if kept:
        lines += [f"  Kept as extra columns: {kept}"]
    lines += ["", emphasise(counts_by_class(checked.problems))]
    listed = [problem for problem in checked.problems if problem.class_ != "note"]
    for problem in listed[:MOST_LISTED]:
        lines += ["", *problem_lines(problem, emphasise)]
    if len(listed) > MOST_LISTED:
        lines += ["", f"... and {len(listed) - MOST_LISTED:,} more; -o REVIEW.xlsx or --json lists them all."]
    notes = Counter(problem.rule for problem in checked.problems if problem.class_ == "note")
    if notes:
        lines += ["", "Noted: " + ", ".join(f"{rule} {times}" for rule, times in notes.items())]
        lines += ["  -o REVIEW.xlsx or --json lists them."]
    skipped = not_checked_in_words(checked.not_checked)
    if skipped:
        lines += ["", "Not checked, which is no pass:"]
        lines += [f"  {rule} {times:,}, missing: {missing}" for rule, times, missing in skipped]
    said = off_in_words(checked)
    if said:
        lines += ["", *said]
    return "\n".join(lines)


def problem_lines(problem: Problem, emphasise: Callable[[str], str]) -> list[str]:
    """Return a problem as the terminal shows it: where and what, the message, what to do."""
    class_ = f"{problem.class_}, {problem.priority}" if problem.priority else problem.class_
    return [
        emphasise(f"{problem.place}  {problem.subject}  {problem.rule} ({class_})"),
        f"  {problem.message}",
        f"  {problem.action}",
    ]


def as_json(checked: Checked) -> dict[str, Any]:
    """Return the object that --json prints."""
    survey = checked.survey
    date = survey.job.inspection_date
    return {
        "survey": {
            "path": str(survey.path),
            "property": survey.job.property.said,
            "inspection_date": date.value.isoformat() if date.value is not None else date.typed,
            "template": survey.template.name,
            "code_profile": checked.assessment.profile.name,
            "fingerprint": fingerprint(survey),
            "counts": {key: len(rows) for key, rows in survey.tables.items()},
            "problems_by_class": {
                name: sum(problem.class_ == name for problem in checked.problems) for name in CLASSES
            },
            "headings": [
                {
                    "sheet": taken.sheet,
                    "cell": taken.cell,
                    "heading": taken.heading,
                    "table": taken.key,
                    "field": taken.field,
                    "exact": taken.exact,
                }
                for taken in survey.headings
            ],
            "missing_sheets": list(survey.missing_sheets),
            "notes": list(survey.notes),
            "not_checked": [
                {
                    "rule": entry.rule,
                    "subject": entry.subject,
                    "sheet": entry.sheet,
                    "cell": entry.cell,
                    "missing": entry.missing,
                }
                for entry in checked.not_checked
            ],
            "not_checked_by_rule": [
                {"rule": rule, "times": counted.total(), "missing": dict(counted.most_common())}
                for rule, counted in _missing_by_rule(checked.not_checked).items()
            ],
            "rules_changed": [
                {"rule": s.slug, "off": s.off, "priority": s.priority, "reason": s.reason}
                for s in checked.off
            ],
            "rules_crashed": [{"rule": crash.rule, "error": crash.error} for crash in checked.crashed],
        },
        "problems": [problem.as_json() for problem in checked.problems],
    }
