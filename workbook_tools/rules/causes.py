"""What several rules must know before they speak, so that one problem is reported by one rule.

    is_in_scope, is_entered          a kind that is inspected, a room that was entered
    suspect_unit, is_reliable        a length that was likely meant in another unit, or is out of range
    feeds_itself                     a row that stands in a loop of Fed from
    findings_about                   the findings on a tag or a room
    length_as_read, needed_figure    a length as typed, and a limit as printed, for messages
    section                          a section of the code profile, as a sentence cites it
    edition                          "NFPA 70-2023"
    either(names)                    "A, B or C"

Not here: rules.
"""

from __future__ import annotations

from collections.abc import Sequence
from weakref import WeakKeyDictionary

from workbook_tools.assessment import Assessment
from workbook_tools.assessment.supply_paths import supply_loops
from workbook_tools.definitions import plain
from workbook_tools.electrical import Length, Limit, likely_unit, write_length
from workbook_tools.survey.model import Row

__all__ = [
    "edition",
    "either",
    "feeds_itself",
    "findings_about",
    "is_entered",
    "is_in_scope",
    "is_reliable",
    "is_switched_off",
    "length_as_read",
    "needed_figure",
    "range_of",
    "section",
    "suspect_unit",
]


def is_switched_off(assessment: Assessment, slug: str) -> bool:
    """Whether the template switches a rule off; then it explains nothing either."""
    setting = assessment.survey.template.rules.get(slug)
    return setting is not None and setting.off


def is_in_scope(assessment: Assessment, row: Row) -> bool:
    """Whether a kind of equipment is inspected, not only recorded. A kind that is not known counts as inspected."""
    kind = row.get("kind")
    vocabulary = assessment.survey.template.vocabularies.get("kind")
    choice = vocabulary.find(kind) if vocabulary is not None and kind is not None else None
    return choice is None or choice.in_scope


def is_entered(assessment: Assessment, row: Row) -> bool | None:
    """Whether the room of a piece of equipment was entered; None where the survey does not say."""
    room = assessment.survey.room(row.get("room") or "")
    access = room.get("access") if room is not None else None
    return None if access is None else bool(access == "Entered")


def range_of(assessment: Assessment, row: Row, field: str) -> tuple[float, float] | None:
    """Return the range that the trade meets for a field."""
    sheet = assessment.survey.template.by_key.get(row.key)
    column = sheet.by_field.get(field) if sheet is not None else None
    return column.plausible if column is not None else None


def suspect_unit(assessment: Assessment, row: Row, field: str) -> str | None:
    """Return the unit that a bare number was likely meant in, or None where its own makes sense."""
    length, limits = row.get(field), range_of(assessment, row, field)
    if not isinstance(length, Length) or length.unit_said or limits is None:
        return None
    return None if is_switched_off(assessment, "unit-suspect") else likely_unit(length, *limits)


def is_reliable(assessment: Assessment, row: Row, field: str) -> bool:
    """Whether a length is in the range that the trade meets, so that it can be compared with another."""
    length, limits = row.get(field), range_of(assessment, row, field)
    return isinstance(length, Length) and (limits is None or limits[0] <= length.inches <= limits[1])


_LOOPS: WeakKeyDictionary[Assessment, set[int]] = WeakKeyDictionary()


def feeds_itself(assessment: Assessment, row: Row) -> bool:
    """Whether a row stands in a reported loop of Fed from."""
    if assessment not in _LOOPS:
        _LOOPS[assessment] = {id(member) for loop in supply_loops(assessment) for member in loop}
    return id(row) in _LOOPS[assessment]


_FINDINGS: WeakKeyDictionary[Assessment, dict[str, list[Row]]] = WeakKeyDictionary()


def findings_about(assessment: Assessment, name: str) -> list[Row]:
    """Return the rows of Findings about a tag or a room, compared without case and spaces."""
    if assessment not in _FINDINGS:
        by_subject: dict[str, list[Row]] = {}
        for row in assessment.survey.findings:
            if row.get("subject"):
                by_subject.setdefault(plain(row.get("subject")), []).append(row)
        _FINDINGS[assessment] = by_subject
    return _FINDINGS[assessment].get(plain(name), [])


def length_as_read(row: Row, field: str) -> str:
    """Return a length as typed, with the unit that was understood: "38 in", "2 m (78.7 in)"."""
    length, typed = row.get(field), row[field].typed.strip()
    if not isinstance(length, Length):
        return typed
    text = typed if length.unit_said else f"{typed} {length.unit}"
    return f"{text} ({length.inches:.1f} in)" if length.metric else text


def needed_figure(limit: Limit, measured: Length) -> str:
    """Return the printed figure that a reading is compared with; both where it is metric."""
    if limit.own:
        return write_length(Length(round(limit.inches, 1), "in"))
    if measured.metric and limit.millimetres is not None:
        return f"{limit.millimetres:g} mm (or {limit.inches:g} in)"
    return f"{limit.inches:g} in"


def section(assessment: Assessment, cited: str, basis: str = "printed") -> str:
    """Return a section of the code profile as a sentence cites it, with what an amendment names as its basis."""
    # A depth figure is cited with its table ("110.26(A)(1), Table 110.26(A)(1)"): the first is enough.
    short = cited.partition(",")[0]
    if short.startswith("1910"):
        short = f"29 CFR {short}"
    elif not short.startswith("NFPA"):
        short = f"{assessment.profile.title} {short}"
    return short if basis == "printed" or "own" in basis else f"{short}, {basis}"


def edition(assessment: Assessment) -> str:
    """Return the edition of NFPA 70 in words, for what stands in no profile of another code.

    Only the name without an edition where the code profile is another code's.
    """
    title = assessment.profile.title
    return title if title.startswith("NFPA 70") else "NFPA 70"


def either(names: Sequence[str], word: str = "or") -> str:
    """Return the names as one would say them.

    Examples
    --------
    >>> either(["RP-1"]), either(["RP-1", "RP-2", "RP-3"]), either(["a", "b"], "and")
    ('RP-1', 'RP-1, RP-2 or RP-3', 'a and b')
    """
    *first, last = names
    return f"{', '.join(first)} {word} {last}" if first else last
