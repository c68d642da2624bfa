"""The plain forms in which live cells compare what was typed; the same steps as formula and in Python.

    TAG, LIST, SPELLING, VOLTAGE, VOLTS, LENGTH, AMOUNT   the forms: a Form each
    Form.formula(cell)        a formula expression that gives the form of a cell's text
    Form.of(text)             the same in Python
    shape_formula, shape_of   every run of digits as one 9: "3'-6 1/2" -> "9'9 9/9"
    LENGTH_SHAPES             the shapes of a length that a live cell reads, with the unit they say
    AMOUNT_SHAPES             the same for one number

A spreadsheet formula has no patterns to search with, so a live cell reads less than the tool
does. What it reads it must read alike; what it does not know it leaves to the check. That is
why every form is a list of replacements done in one order, and why a text counts as read
only when its form, or its shape, stands in a table.

Not here: what a text means (electrical, survey.values), which formulas use the forms.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

__all__ = [
    "AMOUNT",
    "AMOUNT_SHAPES",
    "AMOUNT_UNITS",
    "LENGTH",
    "LENGTH_SHAPES",
    "LIST",
    "SPELLING",
    "TAG",
    "VOLTAGE",
    "VOLTS",
    "Form",
    "all_digits",
    "quoted",
    "shape_formula",
    "shape_of",
]


def quoted(text: str) -> str:
    """Return the text as a literal of a formula."""
    return "CHAR(10)" if text == "\n" else '"' + text.replace('"', '""') + '"'


def all_digits(expression: str) -> str:
    """Return the condition that a text holds nothing but digits."""
    for digit in "0123456789":
        expression = f'SUBSTITUTE({expression},"{digit}","")'
    return f'{expression}=""'


class Form(NamedTuple):
    """Replacements done one after the other on the lower-case text, spaces trimmed before and after."""

    steps: tuple[tuple[str, str], ...]
    prefix: str = ""

    def formula(self, cell: str) -> str:
        """Return the expression that gives the form of the cell's text; blank where it is blank."""
        return self.ended(self.begun(cell, len(self.steps)), len(self.steps))

    def begun(self, cell: str, steps: int) -> str:
        """Return the expression of what the first so many steps make of the cell's text."""
        return _substituted(f"TRIM(LOWER({cell}))", self.steps[:steps])

    def ended(self, begun: str, steps: int) -> str:
        """Return the expression of the form, from what the first so many steps made."""
        inner = _substituted(begun, self.steps[steps:])
        inner = f"TRIM({inner})" if any(" " in new for _, new in self.steps) else inner
        return f"{quoted(self.prefix)}&{inner}" if self.prefix else inner

    def of(self, text: str) -> str:
        """Return the form of a text, as the formula computes it."""
        text = _trim(text.lower())
        for old, new in self.steps:
            text = text.replace(old, new)
        if any(" " in new for _, new in self.steps):
            text = _trim(text)
        return self.prefix + text


def _substituted(expression: str, steps: Iterable[tuple[str, str]]) -> str:
    for old, new in steps:
        expression = f"SUBSTITUTE({expression},{quoted(old)},{quoted(new)})"
    return expression


def _trim(text: str) -> str:
    return " ".join(part for part in text.split(" ") if part)


def _to(new: str, olds: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((old, new) for old in olds)


_NO_BREAK_SPACE = "\u00a0"
_DASHES = _to("-", "–—")
_FRACTIONS = (("½", " 1/2 "), ("¼", " 1/4 "), ("¾", " 3/4 "))  # a space behind: 6½2 is no 6 1/22
_PATTERN_SIGNS = _to("!", "*?~")  # MATCH would take them for patterns

# The k keeps a key from looking like a number or an operator: COUNTIF and MATCH take "12" for 12, and
# they take * ? ~ for patterns. A blank cell has the key k alone.
TAG = Form((*_to("", (" ", _NO_BREAK_SPACE, *"_()'’\"&:;,*?~\n")), *_DASHES), prefix="k")
"""How tags and rooms are compared: without case, spaces and punctuation other than - / . + #."""

LIST = Form((("\n", ";"), (",", ";"), (" ;", ";"), ("; ", ";"), (";;", ";"), (";;", ";")))
"""The entries of a cell that can hold several, parted by ; alone."""

SPELLING = Form(_to("", (" ", _NO_BREAK_SPACE, *"-–_()'*?~./,")), prefix="k")
"""How choices, headings and finding names are compared: letters and digits, usual punctuation left out."""

VOLTAGE = Form(
    (
        (_NO_BREAK_SPACE, " "),
        *_DASHES,
        *_to("ph", "øØφϕ∅⌀"),
        *_to(" delta ", "δ∆"),
        *_to("v", ("volts", "vac")),
        (",", " "),
        ("three", "3"),
        ("single", "1"),
        ("phase", "ph"),
        ("wire", "w"),
        ("  ", " "),
        *_to("ph", (" ph", "-ph", "ph.")),
        *_to("w", (" w", "-w", "w.")),
        *_to("ph ", ("ph-", "ph/")),
        *((f"{count}p {wires}w", f"{count}ph {wires}w") for count, wires in ("34", "33", "13", "12")),
        *((f"ph{wires}w", f"ph {wires}w") for wires in "432"),
        *((f"-{count}ph", f" {count}ph") for count in "31"),
        ("  ", " "),
        *_PATTERN_SIGNS,
    )
)  # fmt: skip
"""How voltages are compared: 208Y/120V, 3 Phase is "208y/120v 3ph"."""

# A volt sign stands behind a number: behind a word it is none (208wyev), and the text is left to the check.
VOLTS = Form(
    (
        *((f"{end}v", f"{end}!") for end in "eagh"),
        (" k", "k"),
        ("v", " "),
        ("/ ", "/"),
        (" /", "/"),
        (" /", "/"),
    )
)
"""What is left of a voltage without phases and wires, volt signs dropped: 208y/120."""

LENGTH = Form(
    (
        (_NO_BREAK_SPACE, " "),
        *_to("'", "’′"),
        *_to('"', "”″"),
        *_DASHES,
        *_FRACTIONS,
        ("''", '"'),  # before the words for feet: two of them are no inch sign
        *_to("'", ("feet", "ft.", "ft")),
        *_to('"', ("inches", "inch", "in.", "in")),
        ("  ", " "), ("  ", " "),
        *_to("'", (" '", "' ")),
        *_to("'-", ("' -", "'- ")),
        (' "', '"'),
        *_PATTERN_SIGNS,
    )
)  # fmt: skip
"""How lengths are compared: 3’ – 6½” is 3'-6 1/2" with straight signs and no space around them."""

AMOUNT = Form(((_NO_BREAK_SPACE, " "), *_FRACTIONS, ("  ", " "), ("  ", " "), *_PATTERN_SIGNS))
"""How a number with its unit is compared: 112½ kVA is "112 1/2 kva"."""


def shape_formula(cell: str) -> str:
    """Return the expression that writes every run of digits of the cell's text as one 9."""
    inner = cell
    for digit in "012345678":
        inner = f'SUBSTITUTE({inner},"{digit}","9")'
    for run in _RUNS:
        inner = f'SUBSTITUTE({inner},"{run}","9")'
    return inner


@lru_cache(maxsize=4096)
def shape_of(text: str) -> str:
    """Return the text with every run of digits as one 9, as the formula computes it.

    Examples
    --------
    >>> shape_of("3'6 1/2"), shape_of("1067mm"), shape_of("knee high")
    ("9'9 9/9", '9mm', 'knee high')
    """
    for digit in "012345678":
        text = text.replace(digit, "9")
    for run in _RUNS:
        text = text.replace(run, "9")
    return text


_RUNS = ("9999", "999", "99", "99")  # any run of up to twelve digits becomes one

_DECIMALS = ("9", "9.9", ".9", "9.")
_WITH_FRACTION = ("9/9", "9 9/9", "9-9/9")
_AMOUNTS = (*_DECIMALS, *_WITH_FRACTION)

AMOUNT_UNITS: dict[str, tuple[str, ...]] = {
    "kva": ("kva",),
    "percent": ("%z", "%"),
    "amperes": ("amps", "amp", "a"),
    "kiloamperes": ("kaic", "ka"),
    "count": (),
}
"""The signs that may stand behind a number, longer ones first."""

_NUMBERS = {holds: (*_DECIMALS, "9 9/9") for holds in ("kva", "percent")} | {
    "amperes": ("9",),
    "kiloamperes": ("9", "9.9"),
    "count": ("9",),
}
"""Shapes of the number alone."""

AMOUNT_SHAPES = {
    holds: tuple(
        f"{number}{sign}"
        for number in _NUMBERS[holds]
        for sign in ("", *(gap + unit for unit in units for gap in ("", " ")))
    )
    for holds, units in AMOUNT_UNITS.items()
}
"""Shapes of one number with or without its unit: 75, 112.5 kVA, 112 1/2; 5.75 %Z; 225 A."""

_BOTH = "feet and inches"
LENGTH_SHAPES: dict[str, str] = {
    **dict.fromkeys(_AMOUNTS, "job"),
    **{f'{amount}"': "in" for amount in _AMOUNTS},
    **{f"{amount}'": "ft" for amount in _AMOUNTS},
    **{f"9'{dash}{inches}{sign}": _BOTH for dash in ("", "-") for inches in _AMOUNTS for sign in ("", '"')},
    **{
        f"{amount}{gap}{unit}": unit for amount in _AMOUNTS for gap in ("", " ") for unit in ("mm", "cm", "m")
    },
}
"""Shape to unit; "job" is a bare number, in the unit of the Job sheet."""
