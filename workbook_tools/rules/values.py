"""Rules about what stands in a cell, whatever the sheet.

    missing-value       a required field is blank
    unreadable-value    a text that cannot be read as what the field holds
    unknown-choice      a text that is no choice of its list
    read-with-doubt     a text that was read, and could have been meant otherwise
    implausible-value   outside the range that the trade meets
    unit-suspect        a bare length that only makes sense in another unit

The Job sheet's required answers are job-detail-missing's; tags and rooms have rules of their own; N/V is
in limits, what was typed over a live cell in live_cells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column, Sheet
from workbook_tools.electrical import Length
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.in_words import either, length_as_read
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed, order_of
from workbook_tools.rules.voltage import VOLTAGE_NOT_RECOGNIZED, voltage_not_recognized
from workbook_tools.survey import Clearance, Equipment, HeadingTaken, Job, Outcome, Row, Value

__all__ = ["RULES", "SUBJECT", "UNIT_SUSPECT"]

SUBJECT = "What stands in a cell"

_NAMED = 12
"""Rows that a sentence names one by one."""


def missing_value(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for blanks in required fields; a column that the file lacks, or that is blank on every row, is said once."""
    survey = assessment.survey
    for key, rows in survey.tables.items():
        sheet = survey.template.by_key[key]
        lacking = _lacking_columns(assessment, sheet)
        for column in lacking:
            if rows and column.required:
                yield _no_column(assessment, sheet, column)
        asked = [
            column
            for column in sheet.typed
            if (column.required or column.required_for) and column not in lacking
        ]
        for column in asked:
            blank = [row for row in rows if not _answered(row, column)]
            gaps = [row for row in blank if _is_missed(assessment, row, column)]
            if len(gaps) > 1 and len(blank) == len(rows):
                yield _blank_column(assessment, sheet, column, gaps)
                continue
            for row in gaps:
                of = f" of {row.called}" if row.called else ""
                yield MISSING_VALUE.problem(row, row[column], f"{column.heading}{of} is blank.")


def _answered(row: Row, column: Column) -> bool:
    cell = row.values.get(column.field)
    return cell is not None and cell.answered


def _is_missed(assessment: Assessment, row: Row, column: Column) -> bool:
    """Whether the row must answer the column, and its blank follows from nothing else."""
    if not isinstance(row, Equipment):
        return column.is_required(None)
    return column.is_required(row.kind.value) and not _follows(assessment, row, column)


def _blank_column(assessment: Assessment, sheet: Sheet, column: Column, gaps: Sequence[Row]) -> Problem:
    """Return the one problem of a column that no row answers: it is the sheet's, and stands at its first gap."""
    named = [row.called or f"row {row.number}" for row in gaps[:_NAMED]]
    more = f" and {len(gaps) - _NAMED} more" if len(gaps) > _NAMED else ""
    every = len(gaps) == len(assessment.survey.tables[sheet.key])
    rows = f"all {len(gaps)} rows" if every else f"all {len(gaps)} rows that must answer it"
    message = f"{column.heading} is blank in {rows}: {', '.join(named)}{more}."
    action = None
    kept = _kept_for(assessment, sheet, column)
    if kept is not None:
        message += f" The column {kept.heading!r} was kept as an extra: is it that?"
        action = (
            f"If it is, copy what stands under {kept.heading!r} ({kept.cell}) into {column.heading}; if not: "
            f"{MISSING_VALUE.mend[0].lower()}{MISSING_VALUE.mend[1:]}"
        )
    first = gaps[0]
    return MISSING_VALUE.problem(first, first[column], message, subject=first.sheet, action=action)


def _kept_for(assessment: Assessment, sheet: Sheet, column: Column) -> HeadingTaken | None:
    """Return the extra column that may hold what a blank column asks for, as `new --fill` asks about it."""
    survey = assessment.survey
    rows = survey.tables[sheet.key]
    for taken in survey.headings:
        if taken.key != sheet.key or taken.field is not None:
            continue
        typed = (row.extra[taken.heading].typed for row in rows if taken.heading in row.extra)
        samples = list(dict.fromkeys(filter(None, typed)))[:_NAMED]
        if samples:
            from workbook_tools.filling.gaps import may_be

            if may_be(taken.heading, samples, column, survey.template):
                return taken
    return None


def _follows(assessment: Assessment, row: Equipment, column: Column) -> bool:
    """Whether a blank follows from another answer, or is only asked about once that is mended.

    Phase and wires follow from the voltage text; a kind that is none of its choices may need no rating.
    """
    if row.kind.unknown_choice and column.optional_for:
        return True
    if column.field not in (Equipment.phase.name, Equipment.wires.name):
        return False
    reading = assessment.equipment(row).reading
    if reading is None:
        return row.voltage.outcome is Outcome.UNREADABLE
    said = reading.phases if column.field == Equipment.phase.name else reading.wires
    return reading.system is not None or said is not None or reading.outcome == "not nominal"


def _lacking_columns(assessment: Assessment, sheet: Sheet) -> list[Column]:
    taken = {heading.field for heading in assessment.survey.headings if heading.key == sheet.key}
    return [column for column in sheet.typed if column.field not in taken] if taken else []


def _no_column(assessment: Assessment, sheet: Sheet, column: Column) -> Problem:
    from difflib import get_close_matches

    headings = [heading for heading in assessment.survey.headings if heading.key == sheet.key]
    left_over = {heading.heading.casefold(): heading for heading in headings if heading.field is None}
    near = get_close_matches(column.heading.casefold(), list(left_over), n=1, cutoff=0.5)
    place = left_over[near[0]] if near else headings[0]
    nearest = f" The nearest is {place.heading}, at {place.cell}." if near else ""
    found = ", ".join(heading.heading for heading in headings)
    return Problem(
        MISSING_VALUE.slug,
        MISSING_VALUE.class_,
        "",
        place.sheet,
        place.cell,
        place.sheet,
        column.heading,
        found,
        f"a column {column.heading}",
        f"The sheet {place.sheet} has no column {column.heading}; it has {found}.{nearest}",
        f"Name the column {column.heading}, or add it and fill it in (N/V where it could not be seen).",
        MISSING_VALUE.source,
        order_of(sheet.position, place.cell),
    )


def unreadable_value(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for texts that could not be read, and for damage that reading met."""
    survey = assessment.survey
    for row, value in survey.unsettled:
        if value.outcome is Outcome.UNREADABLE and not value.unknown_choice:
            yield UNREADABLE_VALUE.problem(row, value, _of_heading(value, _cannot_be_read(value)))
    keys = {heading.sheet: heading.key for heading in survey.headings}
    for value in survey.damage:
        sheet = survey.template.by_key.get(keys.get(value.sheet, ""))
        yield Problem(
            UNREADABLE_VALUE.slug,
            UNREADABLE_VALUE.class_,
            "",
            value.sheet,
            value.cell,
            value.sheet,
            "",
            value.typed,
            "a value that can be read",
            _cannot_be_read(value),
            UNREADABLE_VALUE.mend,
            UNREADABLE_VALUE.source,
            order_of(sheet.position if sheet is not None else len(survey.template.sheets), value.cell),
        )


def _of_heading(value: Value[Any], says: str) -> str:
    """Return a sentence that begins with what was typed behind the heading that it was typed under."""
    return f"{value.heading}: {says}" if says.startswith(("'", '"')) and value.heading else says


def _cannot_be_read(value: Value[Any]) -> str:
    why = value.why.rstrip(".")
    return f"{why[0].upper()}{why[1:]}." if why else f"{value.typed!r} cannot be read."


def unknown_choice(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for texts that no choice of the field's list spells."""
    for row, value in assessment.survey.unsettled:
        if not value.unknown_choice:
            continue
        vocabulary = assessment.survey.template.vocabulary_of(value.column)
        choices = list(vocabulary.names) if vocabulary is not None else []
        near = vocabulary.nearest(value.typed) if vocabulary is not None else None
        says = f"{value.heading} reads {value.said!r}, which is none of its choices"
        yield UNKNOWN_CHOICE.problem(
            row,
            value,
            f"{says}; the nearest is {near}." if near else f"{says}.",
            expected=either(choices) if choices else None,
            action=f"Write {near} if that is meant, or choose from the list." if near else None,
        )


def read_with_doubt(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for cells that were read although something in them was left aside or could mean two things."""
    strange = set()
    if not VOLTAGE_NOT_RECOGNIZED.is_off(assessment.survey.template):  # that quotes the whole text
        strange = {found.place for found in voltage_not_recognized(assessment)}
    for row, value in assessment.survey.unsettled:
        if value.note and value.place not in strange:
            says = value.note.rstrip(".")
            yield READ_WITH_DOUBT.problem(row, value, _of_heading(value, f"{says[0].upper()}{says[1:]}."))


def implausible_value(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for numbers outside the range of their column, and for years after the visit."""
    survey = assessment.survey
    visit = survey.job.inspection_date.value
    year = visit.year if visit is not None else None
    for sheet in survey.template.sheets:
        columns = [column for column in sheet.typed if column.plausible is not None]
        rows = survey.tables.get(sheet.key, ()) if sheet.key != Job.key else (survey.job,)
        for row in rows if columns else ():
            for column in columns:
                cell = row.values.get(column.field)
                message = _implausible(assessment, row, cell, year) if cell is not None else ""
                if cell is not None and message:
                    yield IMPLAUSIBLE_VALUE.problem(row, cell, message)
    for row in survey.equipment if visit is not None else ():
        dated = row.values.get(Equipment.fault_current_date.name)
        if visit is not None and dated is not None and dated.value is not None and dated.value > visit:
            message = (
                f"{dated.heading} reads {dated.value:%Y-%m-%d}, which is after the visit on {visit:%Y-%m-%d}."
            )
            yield IMPLAUSIBLE_VALUE.problem(row, dated, message)


def _implausible(assessment: Assessment, row: Row, cell: Value[Any], visit: int | None) -> str:
    value, column = cell.value, cell.column
    if column.plausible is None or value is None:
        return ""
    low, high = column.plausible
    if isinstance(value, Length):
        if low <= value.inches <= high or assessment.suspect_unit(cell):
            return ""
        if value.inches < low and _is_reported_short(assessment, row, column):
            return ""
        read, unit = length_as_read(cell), " in"
    elif isinstance(value, (int, float)):
        if column.holds == "year" and visit is not None and value > visit:
            return f"{column.heading} reads {value}, which is after the visit in {visit}."
        if low <= value <= high:
            return ""
        read, unit = f"{value:g}", f" {column.unit}" if column.unit else ""
        read += unit
        if column.holds == "kiloamperes" and low <= value / 1000 <= high:  # the amperes of the mark
            unit += f". {value:,.0f} A is {value / 1000:g} kA"
    else:
        return ""
    return f"{column.heading} reads {read}; the usual range is {low:g} to {high:g}{unit}."


def _is_reported_short(assessment: Assessment, row: Row, column: Column) -> bool:
    """Whether a clearance rule reports this reading as too small: then that is the problem."""
    if not isinstance(row, Clearance):
        return False
    lengths = (Clearance.depth, Clearance.width, Clearance.height)
    length = next((length for length in lengths if length.name == column.field), None)
    facts = assessment.clearance(row)
    if length is None or facts.equipment is None or not facts.worked_on_live:
        return False
    compared = facts.comparison(length)
    return compared is not None and not compared.enough and assessment.is_in_scope(facts.equipment)


def unit_suspect(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for bare lengths that only make sense in another unit."""
    for row in assessment.survey.clearances:
        for value in row.values.values():
            unit, length = assessment.suspect_unit(value), value.value
            if unit is None or not isinstance(length, Length):
                continue
            yield UNIT_SUSPECT.problem(
                row,
                value,
                f"{value.heading} reads {value.said}; {_in_both_units(length, unit)}. It is compared with nothing "
                "until the unit is settled.",
                action=f"Write the unit beside the number: {length.number:g} {unit}, or {length.number:g} {length.unit} "
                "if that was measured.",
            )


_UNIT_WORDS = {"in": "inches", "ft": "feet", "mm": "millimetres", "cm": "centimetres", "m": "metres"}


def _in_both_units(length: Length, unit: str) -> str:
    """Return a bare number as it stands and in the unit that was likely meant.

    Examples
    --------
    >>> _in_both_units(Length(914, "in"), "mm"), _in_both_units(Length(36, "mm"), "in")
    ('in inches that is 76 ft 2 in, as 914 mm it would be 36.0 in', 'in millimetres that is 1.4 in, 36 in would make sense')
    """
    feet, inches = divmod(length.inches, 12)
    if length.inches >= 24:
        stands = f"{feet:.0f} ft {inches:.0f} in" if 0.5 <= inches < 11.5 else f"{length.inches / 12:.0f} ft"
    else:
        stands = f"{length.inches:.1f} in" if length.unit != "in" else f"only {length.number:g} in"
    meant = Length(length.number, unit)
    would = f"as {length.number:g} {unit} it would be {meant.inches:.1f} in"
    if unit == "in":
        would = f"{length.number:g} in would make sense"
    return f"in {_UNIT_WORDS.get(length.unit, length.unit)} that is {stands}, {would}"


MISSING_VALUE = Rule(
    slug="missing-value",
    class_="correct",
    subject="any row",
    what="A field that the template marks required is blank. N/V and N/A are answers, blank is not. A column that is blank "
    "on every row is one problem, at its first row.",
    why="Nobody can tell a thing that was not there from one that was forgotten.",
    mend="Fill it in; N/V where it could not be seen, N/A where there is none.",
    source="common practice",
    client=Paperwork(),
    check=missing_value,
    fires=as_typed(rooms=[{"room": "Boiler room"}]),
    passes=as_typed(rooms=[{"room": "Boiler room", "access": "N/V"}]),
)

UNREADABLE_VALUE = Rule(
    slug="unreadable-value",
    class_="correct",
    subject="any cell",
    what="The text cannot be read as what the field holds. An error value of the spreadsheet (#N/A, #REF!) never can.",
    why="What cannot be read is neither checked nor delivered.",
    mend="Write it as the column asks; the typed text is kept until then.",
    source="common practice",
    client=Paperwork(),
    check=unreadable_value,
    fires=as_typed(clearances=[{"tag": "DP-1", "depth": "knee high"}]),
    passes=as_typed(clearances=[{"tag": "DP-1", "depth": "3'-6\""}]),
)

UNKNOWN_CHOICE = Rule(
    slug="unknown-choice",
    class_="correct",
    subject="any cell",
    what="The text is not one of the field's choices nor a known spelling of one.",
    why="The rules and the schedule go by the choices.",
    mend="Choose from the list.",
    source="common practice",
    client=Paperwork(),
    check=unknown_choice,
    fires=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelbord"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "pnl"}]),
)

READ_WITH_DOUBT = Rule(
    slug="read-with-doubt",
    class_="confirm",
    subject="any cell",
    what="The cell was read, but it could mean two things (5/6/2026), holds more than what was read (225A MLO, "
    "Panelboard?), bears a comment, or is computed by a formula that somebody put there.",
    why="A reading that nobody looked at again is a guess.",
    mend="Write the one answer alone, the rest in Remarks; or answer No issue where the reading is right.",
    source="common practice",
    client=Paperwork(),
    check=read_with_doubt,
    fires=as_typed(equipment=[{"tag": "DP-1", "rating_a": "225A MLO"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "rating_a": "225A"}]),
)

IMPLAUSIBLE_VALUE = Rule(
    slug="implausible-value",
    class_="confirm",
    subject="any measured value",
    what="A number is outside the range that the trade meets: a year or a date after the visit, a 9000 A panel, 40 ft of depth.",
    why="Most often a digit too many, or the wrong column.",
    mend="Look at the photo or the nameplate again; mend it, or answer No issue where it stands.",
    source="common practice",
    client=Paperwork(),
    check=implausible_value,
    fires=as_typed(equipment=[{"tag": "DP-1", "rating_a": "9000"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "rating_a": "6000"}]),
)

UNIT_SUSPECT = Rule(
    slug="unit-suspect",
    class_="confirm",
    subject="lengths",
    what="A number without a unit only makes sense in another one: 914 or 4 in an inch column, 36 in a millimetre column.",
    why="Read in the wrong unit, a good clearance looks short and a short one good.",
    mend="Write the unit beside the number.",
    source="common practice",
    client=Paperwork(),
    check=unit_suspect,
    fires=as_typed(clearances=[{"tag": "DP-1", "depth": "914"}]),
    passes=as_typed(clearances=[{"tag": "DP-1", "depth": "914 mm"}]),
)

RULES = (
    MISSING_VALUE,
    UNREADABLE_VALUE,
    UNKNOWN_CHOICE,
    READ_WITH_DOUBT,
    IMPLAUSIBLE_VALUE,
    UNIT_SUSPECT,
)
