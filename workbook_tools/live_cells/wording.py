"""What live cells say in words; formulas and their Python results both take it from here."""

from __future__ import annotations

__all__ = [
"AGAINST_SOURCE", "COMPARED_OK", "DOUBTED", "FILL_IN", "ITSELF", "LOADS_DIFFER", "MARKED_OTHERWISE", "NOT_A_CHOICE",
    "NOT_A_TRANSFORMER", "NOT_COMPARED", "NOT_LISTED", "OK", "ONE_SOURCE", "PRIMARY_DIFFERS", "READ_AS", "READ_AT_CHECK", "READ_LATER",
    "RECORDED_TWICE", "ROW_BELOW", "SHORT", "SIDES_SWAPPED", "STILL_OPEN", "SYSTEM_WORDS", "UNUSUAL", "WHICH_VOLTAGE", "no_row", "not_in",
    "of_last_time", "twice",
]  # fmt: skip

OK = "OK"
COMPARED_OK = " OK"
"""After the headings that were compared, "Depth, Width, Height OK": nothing else of the row was looked at."""

READ_AT_CHECK = "Read at the check"
ROW_BELOW = ". Row below: read at the check"
"""Behind a row check, where the next row was put in between and has none of its own."""

FILL_IN = "Fill in: "
SYSTEM_WORDS = {
    "ambiguous": "Two systems fit: Phase? Wires?",
    "conflict": "Voltage, Phase, Wires disagree",
    "not nominal": "No nominal voltage",
}
"""What stands for the volts to ground, by the outcome of reading the voltage."""

WHICH_VOLTAGE = "Which voltage is connected?"
NOT_LISTED = "Not in the list"
SHORT = "short"
NOT_COMPARED = "Not compared: "
READ_LATER = "Only the check reads: "
DOUBTED = "Unit? "
"""Before a length that only makes sense in another unit than the job's."""

NOT_A_CHOICE = "Not one of the choices: "
UNUSUAL = "Outside the usual range: "
STILL_OPEN = "Still open: "
READ_AS = ", read as "
"""Behind OK, before what a free answer was taken for."""

ITSELF = "Fed from itself"
ONE_SOURCE = "A transfer switch has two sources"
AGAINST_SOURCE = {
    "voltage": "Its source gives another voltage",
    "phase": "Its source is single-phase",
    "neutral": "Its source has no neutral",
}
"""What stands against a feeder, by the reason."""

PRIMARY_DIFFERS = "Primary is not what feeds it"
SIDES_SWAPPED = "Sides swapped? What feeds it is the secondary"
LOADS_DIFFER = "What it feeds has another voltage"
MARKED_OTHERWISE = "Marked direction is another"
NOT_A_TRANSFORMER = "In Equipment this is no transformer"
RECORDED_TWICE = "Recorded twice"


def no_row(sheet: str) -> str:
    """Say that what has to be on another sheet too is not."""
    return f"No row in {sheet}"


def of_last_time(choice: str, heading: str) -> str:
    """Ask what a row is this year that was carried over from an earlier survey."""
    return f"{choice}? Answer {heading}"


def twice(heading: str) -> str:
    """Say that a name stands on two rows."""
    return f"{heading} twice"


def not_in(heading: str, sheets: list[str]) -> str:
    """Say that a name is on none of the sheets it must be on."""
    return f"{heading} not in {' or '.join(sheets)}"
