"""Whether the cells below a heading can be what a column holds: a veto, and a tie-break.

    fitness(column, texts, template)    -1 for a veto, 0 where the cells say nothing, up to 1 where they agree
    agrees(column, texts, template)     whether cells fit, without good will
    plausible_lengths(column, ...)      whether lengths are ones that the column can meet
    name_sources(texts, tags, outside)  whether cells name what feeds a piece
    same_answer(column, one, other, ...)  whether two texts say the same
    looks_electrical(texts)             whether cells name switchboards, panels, transformers
    says_transformer(text)              whether a text names a transformer

Cells never place a column: its heading does. Volts in a column of rooms, "30% Design" as a phase and kVA
under amperes forbid what the heading would allow.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from workbook_tools.definitions import Column, Template, plain, spelling
from workbook_tools.electrical import read_length, read_voltage
from workbook_tools.filling.cell_kinds import OTHER, QUANTITIES, fits, holds_any, is_date
from workbook_tools.filling.compound import parts_of
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey.typed_text import is_error_text
from workbook_tools.survey.values import ColumnReader

__all__ = [
    "agrees",
    "fitness",
    "looks_electrical",
    "name_sources",
    "named_by_the_trade",
    "plausible_lengths",
    "said_in",
    "same_answer",
    "says_transformer",
]

_MOST_READ = 60
_OF_CHOICES = ("choice", "phase", "wires")
_YEAR = re.compile(r"\b(?:19|20)\d\d\b")
_NO_SOURCE = frozenset(
    (
        "normal",
        "emergency",
        "emerg",
        "standby",
        "critical",
        "lifesafety",
        "top",
        "bottom",
        "side",
        "yes",
        "no",
        "new",
        "existing",
    )
)
_NO_ANSWER = frozenset(
    ("", "nv", "na", "unknown", "unk", "none", "tbd", "nil", "notvisible", "notapplicable", "varies")
)
_WORDS_OF_THE_TRADE = re.compile(
    r"panel ?board|switch ?board|switch ?gear|load ?cent|transformer|xfmr|disconnect|\bpanel\b|transfer switch|\bats\b|\bmcc\b"
    r"|motor control|busway|tablero|cuadro|verteil|tableau|quadro|generator",
    re.IGNORECASE,
)


def said_in(texts: Sequence[str]) -> list[str]:
    """Return the first different answers among texts, those left out that answer nothing."""
    seen: dict[str, None] = {}
    for text in texts:
        if spelling(text) not in _NO_ANSWER and not is_error_text(text.strip()):
            seen.setdefault(text.strip(), None)
            if len(seen) >= _MOST_READ:
                break
    return list(seen)


def fitness(column: Column, texts: Sequence[str], template: Template, *, own_words: bool = False) -> float:
    """Say how well cells fit a column.

    Parameters
    ----------
    column : Column
        What they would be answers of.
    texts : sequence of str
        The cells below the heading.
    template : Template
        For the choices of the column.
    own_words : bool
        Whether the heading is the column's own: then only cells that all contradict forbid it.

    Returns
    -------
    fitness : float
        -1 forbids, 0 is silence, 1 full agreement. [-]

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> office = load_template("office")
    >>> of = office.by_key["equipment"].by_field
    >>> fitness(of["room"], ["480 V", "208 V"], office), fitness(of["phase"], ["30% Design", "60% Design"], office)
    (-1, -1)
    >>> fitness(of["rating_a"], ["225", "100A"], office)
    1.0
    """
    said = said_in(texts)
    if not said:
        return 0.0
    if fits(said[0], column, template) is None:
        return 0.0
    good = sum(bool(fits(text, column, template)) for text in said) / len(said)
    least = 0.0 if own_words else _LEAST.get(column.holds, 0.5)
    if good > least or (good == least and good and not own_words) or good == 1:
        return good
    contrary = sum(_contradicts(text, column) for text in said) / len(said)
    if len(texts) == 1 and not contrary and (own_words or column.holds not in _OF_CHOICES):
        return 0.0
    return -1


def agrees(column: Column, texts: Sequence[str], template: Template) -> bool:
    """Whether at least a third of the cells fit a column, judged without good will."""
    said = said_in(texts)
    return bool(said) and sum(bool(fits(text, column, template)) for text in said) * 3 >= len(said)


def name_sources(texts: Sequence[str], tags: Collection[str], outside: Collection[str]) -> bool:
    """Whether cells name what feeds a piece: tags of the list, outside sources, or words that look like tags.

    Parameters
    ----------
    texts : sequence of str
        The cells.
    tags, outside : collection of str
        The tags of the list, and the sources outside of it, as `plain` makes them.

    Examples
    --------
    >>> name_sources(["DP-1", "MSB"], (), ()), name_sources(["Field survey", "Drawing"], (), ()), name_sources(["TOP"], (), ())
    (True, False, False)
    """
    said = said_in(texts)
    good = sum(
        plain(text) in tags
        or any(plain(text).startswith(source) for source in outside)
        or (
            spelling(text) not in _NO_SOURCE
            and (any(map(str.isdigit, _YEAR.sub("", text))) or text.isupper())
        )
        for text in said
    )
    return good * 5 >= len(said) * 2


def same_answer(column: Column, one: str, other: str, template: Template) -> bool:
    """Whether two texts are the same answer of a column, however they are written.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> office = load_template("office")
    >>> of = office.by_key["equipment"].by_field
    >>> same_answer(of["rating_a"], "225A", "225", office), same_answer(of["kind"], "Panel", "Panelboard", office)
    (True, True)
    """
    if column.holds == "voltage":
        first, second = read_voltage(one), read_voltage(other)
        return bool(first.volts) and (first.volts, first.system) == (second.volts, second.system)
    reader = ColumnReader(column, template, template.dimension_unit, ())
    read = [reader.read(Cell("text", text, text), "", "A1") for text in (one, other)]
    return read[0].value is not None and read[0].value == read[1].value


def plausible_lengths(column: Column, texts: Sequence[str], unit: str) -> bool:
    """Whether half of the lengths are in the range that the column meets; bare ones in `unit`, inches or millimetres."""
    said = said_in(texts)
    low, high = column.plausible or (0.0, float("inf"))
    units = (unit,) if unit else ("in", "mm")
    good = 0
    for text in said:
        try:
            good += any(low <= read_length(text, one).inches <= high for one in units)
        except ValueError:
            continue
    return good * 2 >= len(said)


def named_by_the_trade(heading: str) -> bool:
    """Whether a heading itself names electrical equipment: "Panel", and not "Name" or "Asset"."""
    return _WORDS_OF_THE_TRADE.search(heading) is not None


def says_transformer(text: str) -> bool:
    """Whether a text names a transformer.

    Examples
    --------
    >>> says_transformer("Dry-type transformer"), says_transformer("Transfer switch"), says_transformer("XFMR 3")
    (True, False, True)
    """
    return (
        re.search(r"transformer|transform(?:ador|ateur|atore)|\bxf(?:o?r)?mr|\btrafo", text, re.IGNORECASE)
        is not None
    )


def looks_electrical(texts: Sequence[str]) -> bool:
    """Whether cells name electrical equipment or what is written on it."""
    said = said_in(texts)
    return bool(said) and sum(bool(_WORDS_OF_THE_TRADE.search(text)) for text in said) * 3 >= len(said)


_LEAST = {"choice": 1 / 3, "tags": 0.4, "room": 0.4, "text": 0.4, "photos": 0.2, "items": 0.2}


def _contradicts(text: str, column: Column) -> bool:
    parts = parts_of(text)
    return is_date(text) or holds_any(parts, OTHER.get(column.holds, QUANTITIES))
