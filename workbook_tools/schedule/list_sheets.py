"""The sheets that are lists: everything, issues, clearances, transformers, limits, words.

    write_everything, write_issues, write_clearances, write_transformers, write_limits, write_words
        each takes the recorder and the ClientSchedule

A sheet that would be empty is not written; Limits of this survey says what was not recorded.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from workbook_tools.rules.plain_english import capital, listed
from workbook_tools.schedule.equipment_texts import with_level
from workbook_tools.schedule.headings import (
    BASIS,
    LIMIT_REASON,
    LIMIT_WHAT,
    LIMIT_WHO,
    NUMBER,
    OF_LIMITS,
    OF_TRANSFORMERS,
    PHOTOS,
    ROOM_LEVEL,
    WHAT_TO_DO,
    WHAT_WAS_SEEN,
    WHERE,
    WHY_IT_MATTERS,
)
from workbook_tools.schedule.model import NOT_LISTED, ROOM, ClientSchedule, Measured
from workbook_tools.schedule.printed_page import Cell, Column, PrintedPage
from workbook_tools.schedule.priorities import SHORT_STYLE, priority_style, signed
from workbook_tools.schedule.recorder import Recorder

__all__ = [
    "LINK",
    "begin",
    "begin_table",
    "photo_numbers",
    "without",
    "write_clearances",
    "write_everything",
    "write_issues",
    "write_limits",
    "write_transformers",
    "write_words",
]

LINK = {"underline": 1}
_BOLD = {"bold": True}
_CENTER = {"align": "center"}


def begin(
    recorder: Recorder,
    schedule: ClientSchedule,
    name: str,
    title: str,
    explanation: str,
    widths: Sequence[int],
) -> PrintedPage:
    """Begin a sheet of the schedule."""
    return PrintedPage(
        recorder, name, title, explanation, widths=widths, property_name=schedule.property, caution=schedule.cautions[0],
        draft=schedule.draft,
    )  # fmt: skip


def begin_table(
    recorder: Recorder,
    schedule: ClientSchedule,
    name: str,
    title: str,
    explanation: str,
    columns: Sequence[Column],
    *,
    filtered: bool = False,
) -> PrintedPage:
    """Begin a sheet that holds one table."""
    page = begin(recorder, schedule, name, title, explanation, [column.width for column in columns])
    page.headings(columns, filtered=filtered)
    return page


def without(columns: Sequence[Column], heading: str) -> tuple[Column, ...]:
    """Return the columns without one that would be empty; the widest gets its room."""
    left = [column for column in columns if column.heading != heading]
    freed = sum(column.width for column in columns) - sum(column.width for column in left)
    widest = max(left, key=lambda column: column.width)
    return tuple(
        replace(column, width=column.width + freed) if column is widest else column for column in left
    )


def _one_to_a_line(names: str) -> str:
    """Return several sources one under the other, since programs break a line after any hyphen."""
    return names.replace(", ", ",\n").replace(" and ", " and\n")


def photo_numbers(numbers: Sequence[int]) -> str:
    """Return photo numbers as printed, runs drawn together: "1, 4-6"."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{r[0]}-{r[-1]}" if len(r) > 2 else ", ".join(map(str, r)) for r in runs)


_EVERYTHING = (
    Column("Tag", 74, _BOLD),
    Column("Kind", 92),
    Column(ROOM_LEVEL, 100),
    Column("Rating", 70),
    Column("Voltage", 84),
    Column("Phase, wires", 60),
    Column("Maker", 72),
    Column("Fed from", 64),
    Column("Most urgent", 70, _CENTER),
    Column("Issues", 200),
    Column(PHOTOS, 46, _CENTER),
)


def write_everything(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Schedule: every piece of equipment in one list."""
    page = begin_table(
        recorder, schedule, "Schedule", "Schedule of equipment",
        f"{_how_many(schedule)}, in the order in which the power flows: the service first, then what it feeds; a generator or an "
        "inverter stands before what it feeds. Issues are told in full on the sheet Issues, by the numbers in brackets; numbers under Photos are those of the sheet Photos.",
        _EVERYTHING,
        filtered=bool(schedule.rows),
    )  # fmt: skip
    top = page.row - 1
    for place, row in enumerate(schedule.rows):
        page.cells(
            (
                Cell(row.tag, LINK, ("issue", row.issue_ids[0])) if row.issue_ids else row.tag, row.kind, with_level(row.room, row.level), row.rating, row.voltage, row.phase_wires.replace(", ", "\n"), row.maker,
                _one_to_a_line(row.fed_from), Cell(signed(row.priority), priority_style(row.priority)),
                row.issues, _photos(row.photos),
            ),
            target=("row", place),
        )  # fmt: skip
    if schedule.rows:
        page.sheet.worksheet.autofilter(top, 0, page.row - 1, page.last)
    else:
        page.paragraph("No equipment was recorded.")
    page.end()


def _photos(numbers: Sequence[int]) -> Cell:
    """Return the numbers of photos; they lead to the first."""
    return Cell(photo_numbers(numbers), LINK, ("photo", min(numbers))) if numbers else Cell("")


def _how_many(schedule: ClientSchedule) -> str:
    """Return what stands in the list: "42 pieces of equipment and 3 rooms"."""
    rooms = sum(row.kind.startswith(ROOM) for row in schedule.rows)
    others = sum(row.kind == NOT_LISTED for row in schedule.rows)
    pieces = len(schedule.rows) - rooms - others
    counted = (
        (pieces, "piece of equipment", "pieces of equipment"),
        (rooms, "room", "rooms"),
        (others, "thing outside the lists", "things outside the lists"),
    )
    said = [f"{number} {one if number == 1 else many}" for number, one, many in counted if number]
    return listed(said) or "Nothing"


_PICTURE = 110, 83
"""Room for the picture beside an issue, across and down [pixels]."""

_ABOVE = 18
"""Where the picture begins: below the numbers of the photos [pixels]."""

_ISSUES = (
    Column(NUMBER, 64, _CENTER),
    Column(WHERE, 108, _BOLD),
    Column(WHAT_WAS_SEEN, 154),
    Column(WHY_IT_MATTERS, 122),
    Column(WHAT_TO_DO, 150),
    Column("By whom", 102),
    Column(BASIS, 118),
    Column(PHOTOS, _PICTURE[0] + 4, {**_CENTER, "valign": "top"}),
)


def write_issues(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Issues: grouped by priority, most urgent first."""
    page = begin_table(
        recorder, schedule, "Issues", "Issues, most urgent first",
        "Basis names sections to look up; it is no ruling. Whether a section applies to this building is for the local "
        "authority. The number of an issue stays the same in a later edition and in the next survey of the building.",
        _ISSUES,
    )  # fmt: skip
    photos = {photo.number: photo for photo in schedule.photos}
    shown = ""
    for condition in schedule.conditions:
        if condition.priority != shown:
            shown = condition.priority
            count = sum(other.priority == shown for other in schedule.conditions)
            page.band(
                f"{signed(shown)} ({count})",
                keep=110,
                style={**priority_style(shown), "bottom": 0, "font_size": 10},
            )
        pictured = next((photos[number] for number in condition.photos if number in photos), None)
        row = page.cells(
            (
                Cell(condition.id, LINK, ("row", condition.rows[0])) if condition.rows else condition.id,
                condition.place, condition.seen, condition.why, condition.action,
                "\n".join((f"{capital(condition.trade)}.", f"Power: {condition.power}.", f"{capital(condition.effort)}.")),
                condition.basis.replace("; ", ";\n"),
                _photos(condition.photos) if condition.photos else "No photo of it.",
            ),
            least=(_PICTURE[1] + _ABOVE + 4) * 72 / 96 if pictured is not None else 0,
            target=("issue", condition.id),
        )  # fmt: skip
        if pictured is not None:
            page.picture(row, len(_ISSUES) - 1, pictured.picture, (pictured.width, pictured.height), _PICTURE,
                         down=_ABOVE, name=pictured.file, says=capital(condition.phrase))  # fmt: skip
    if not schedule.conditions:
        page.paragraph("No issues were seen.")
    page.end()


_CLEARANCES = (
    Column("Tag", 62, _BOLD),
    Column(ROOM_LEVEL, 102),
    Column("Volts to ground", 48, _CENTER),
    Column("Opposite side", 66, _CENTER),
    Column("Depth measured", 72, _CENTER),
    Column("Depth needed", 60, _CENTER),
    Column("Width measured", 72, _CENTER),
    Column("Width needed", 60, _CENTER),
    Column("Height measured", 72, _CENTER),
    Column("Height needed", 60, _CENTER),
    Column("Front projection", 70, _CENTER),
    Column("Above", 80),
    Column("Result and remarks", 108),
)


def write_clearances(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Clearances: measured beside needed."""
    if not schedule.clearances:
        return
    page = begin_table(
        recorder, schedule, "Clearances", "Clearances: measured beside needed",
        f"{schedule.clearance_note} \u25bc marks a figure that falls short; Result says it in words.",
        _CLEARANCES,
    )  # fmt: skip
    for row in schedule.clearances:
        volts = row.volts_to_ground
        page.cells(
            (
                row.tag, with_level(row.room, row.level), Cell(volts, {"num_format": "0"} if isinstance(volts, (int, float)) else {}),
                row.opposite, *_pair(row.depth), *_pair(row.width), *_pair(row.height), _pair(row.projection)[0],
                row.above, Cell(" ".join(filter(None, (row.result, row.remarks))), _BOLD if row.short else {}),
            ),
        )  # fmt: skip
    page.end()


def _pair(measured: Measured) -> tuple[Cell, Cell]:
    said, needed = (text.replace(" (", "\n(") for text in (measured.measured, measured.needed))
    if measured.enough is False:
        return Cell(f"\u25bc {said}", SHORT_STYLE), Cell(needed, SHORT_STYLE)
    return Cell(said), Cell(needed)


_TRANSFORMERS = (
    Column("Tag", 56, _BOLD),
    Column(ROOM_LEVEL, 98),
    Column("kVA", 46, {**_CENTER, "num_format": "0.##"}),
    Column("Phase", 44, _CENTER),
    Column("Primary (V)", 64),
    Column("Secondary (V)", 82),
    Column("Direction", 76),
    Column("Ratio", 56, {**_CENTER, "num_format": '0.00" : 1"'}),
    Column("Primary at full load (A)", 60, {**_CENTER, "num_format": "0.0"}),
    Column("Secondary at full load (A)", 72, {**_CENTER, "num_format": "0.0"}),
    Column("Impedance (%)", 74, {**_CENTER, "num_format": "0.0#"}),
    Column("Highest fault current (kA)", 66, {**_CENTER, "num_format": "0.0"}),
    Column("Remarks", 90),
    Column(PHOTOS, 48, _CENTER),
)


def write_transformers(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Transformers: direction, ratio, currents."""
    if not schedule.transformers:
        return
    remarks = any(row.remarks for row in schedule.transformers)
    page = begin_table(
        recorder, schedule, "Transformers", "Transformers",
        OF_TRANSFORMERS,
        _TRANSFORMERS if remarks else without(_TRANSFORMERS, "Remarks"),
    )  # fmt: skip
    for row in schedule.transformers:
        page.cells(
            (
                row.tag, with_level(row.room, row.level), _figure(row.kva, "0.###"), row.phase, row.primary, row.secondary, row.direction,
                row.ratio, row.primary_amps, row.secondary_amps, row.impedance, row.highest_fault_ka, *((row.remarks,) if remarks else ()), _photos(row.photos),
            ),
        )  # fmt: skip
    page.end()


def _figure(value: Any, number_format: str) -> Cell:
    """Return a number without a trailing point where it is whole."""
    whole = isinstance(value, float) and value.is_integer()
    return Cell(value, {"num_format": "0" if whole else number_format})


_LIMITS = (
    Column(LIMIT_WHAT, 260, _BOLD),
    Column(LIMIT_REASON, 530),
    Column(LIMIT_WHO, 142),
)


def write_limits(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Limits of this survey."""
    page = begin_table(
        recorder, schedule, "Limits of this survey", "Limits of this survey",
        OF_LIMITS,
        _LIMITS if any(line.who for line in schedule.limits) else without(_LIMITS, LIMIT_WHO),
    )  # fmt: skip
    whole = len(page.widths) == len(_LIMITS)
    group = ""
    for line in schedule.limits:
        if line.group != group:
            group = line.group
            count = sum(other.group == group for other in schedule.limits)
            page.band(group, keep=min(36 * count, 144), style={"font_size": 10})
        page.cells((line.what, line.reason, line.who) if whole else (line.what, line.reason))
    page.end()


_TOGETHER = 6
"""Last rows that stay on one page: no page holds one or two alone."""

_WORDS = (Column("Word", 190, _BOLD), Column("What it means here", 742))


def write_words(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Words used."""
    page = begin_table(recorder, schedule, "Words used", "Words used", "", _WORDS)
    for place, (word, meaning) in enumerate(schedule.words):
        if place == len(schedule.words) - _TOGETHER:
            page.keep(_TOGETHER * 18)
        page.cells((word, meaning))
    page.end()
