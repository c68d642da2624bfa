"""What live cells say in words; formulas and their Python results both take it from here."""

from __future__ import annotations

__all__ = [
"COMPARED_OK", "DOUBTED", "FILL_IN", "NOT_COMPARED", "NOT_LISTED", "OK", "READ_AT_CHECK", "READ_LATER", "SHORT",
    "SYSTEM_WORDS", "WHICH_VOLTAGE", "not_in", "twice",
]  # fmt: skip

OK = "OK"
COMPARED_OK = " OK"
"""After the headings that were compared, "Depth, Width, Height OK": nothing else of the row was looked at."""

READ_AT_CHECK = "Read at the check"
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
READ_LATER = "Read at the check: "
DOUBTED = "Unit? "
"""Before a length that only makes sense in another unit than the job's."""


def twice(heading: str) -> str:
    """Say that a name stands on two rows."""
    return f"{heading} twice"


def not_in(heading: str, sheets: list[str]) -> str:
    """Say that a name is on none of the sheets it must be on."""
    return f"{heading} not in {' or '.join(sheets)}"
