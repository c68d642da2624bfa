"""How live cells write a length, and how they say that they cannot read one.

MM_IN_UNIT, METRIC, DECIMALS   the units of the Job sheet
TIES_UP                        so that halves are rounded up in every program
UNREADABLE                     what a working cell holds where the text is left to the check
"""

__all__ = ["DECIMALS", "METRIC", "MM_IN_UNIT", "TIES_UP", "UNREADABLE"]

UNREADABLE = "?"
"""What a working cell holds where the text is left to the check."""

MM_IN_UNIT = {"in": 25.4, "ft": 304.8, "mm": 1.0, "cm": 10.0, "m": 1000.0}
METRIC = ("mm", "cm", "m")
DECIMALS = {"in": 2, "ft": 2, "mm": 0, "cm": 1, "m": 3}
"""How a length is rounded where a live cell shows it."""


TIES_UP = "0.000001"
"""Added before a figure is rounded, so that halves go up whatever the last digit of the arithmetic was."""
