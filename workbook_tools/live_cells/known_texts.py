"""The texts that live cells know beside the choices of the template.

    ANSWERS, NO_AMOUNT       answers that there is no value; the same where a number is asked for
    NONE                     what stands on Lists beside such an answer
    number_spellings(...)    the spellings of "phase" or "wires", each with its number

Not here: the choices and their spellings (definitions), lengths and voltages (typed_forms, voltage_table).
"""

from __future__ import annotations

from collections.abc import Callable

from workbook_tools.definitions import Template
from workbook_tools.live_cells.typed_forms import SPELLING

__all__ = ["ANSWERS", "NONE", "NO_AMOUNT", "number_spellings"]

ANSWERS = ("N/V", "not visible", "not seen", "unknown", "illegible", "N/A", "not applicable")
"""Answers that there is no value, as live cells know them; the tool knows more spellings."""

NO_AMOUNT = (
    "n/v",
    "nv",
    "n.v.",
    "not visible",
    "not seen",
    "unknown",
    "illegible",
    "n/a",
    "na",
    "n.a.",
    "not applicable",
)
"""The same where a number is asked for."""

NONE = "none"


def number_spellings(
    template: Template, name: str, read: Callable[[str], int | None]
) -> list[tuple[str, float]]:
    """Return the spellings of "phase" or "wires" that live cells know, with the number that `read` makes of each."""
    words = (
        ("{}", "{} ph", "{} phase", "{} phases", "{}ø", "{} p")
        if name == "phase"
        else ("{}", "{} w", "{} wire", "{} wires")
    )
    texts = [word.format(number) for number in (1, 2, 3, 4) for word in words]
    texts += ["single phase", "three phase"] if name == "phase" else ["two wire", "three wire", "four wire"]
    vocabulary = template.vocabularies.get(name)
    if vocabulary:
        texts += [text for choice in vocabulary.choices for text in (*choice.also_called, choice.name)]
    rows: dict[str, float] = {}
    for text in texts:
        number = read(text)
        if number is None and vocabulary is not None:
            choice = vocabulary.find(text)
            number = int(choice.name) if choice is not None and choice.name.isdecimal() else None
        if number and (vocabulary is None or str(number) in vocabulary.names):
            rows.setdefault(SPELLING.of(text), float(number))
    return list(rows.items())
