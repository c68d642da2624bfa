"""Whether the cells below a heading can be what a column holds: a veto, and a tie-break.

    fitness(column, texts, template)    -1 for a veto, 0 where the cells say nothing, up to 1 where they agree
    agrees(column, texts, template)     whether cells fit, without good will
    plausible_lengths(column, ...)      whether lengths are ones that the column can meet
    same_answer(column, one, other, ...)  whether two texts say the same
    looks_electrical(texts)             whether cells name switchboards, panels, transformers
    says_transformer(text)              whether a text names a transformer

Cells never place a column: its heading does. Volts in a column of rooms, "30% Design" as a phase and kVA
under amperes forbid what the heading would allow.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence

from workbook_tools.definitions import Column, Template, spelling
from workbook_tools.electrical import read_length, read_phases, read_voltage, read_wires
from workbook_tools.filling.compound import USUAL_VOLTS, Parts, parts_of
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey.typed_text import is_error_text
from workbook_tools.survey.values import ColumnReader

__all__ = [
    "agrees",
    "fitness",
    "looks_electrical",
    "named_by_the_trade",
    "plausible_lengths",
    "said_in",
    "same_answer",
    "says_transformer",
]

_MOST_READ = 60
_NO_ANSWER = frozenset(
    ("", "nv", "na", "unknown", "unk", "none", "tbd", "nil", "notvisible", "notapplicable", "varies")
)
_DATE = re.compile(r"\d{4}-\d{1,2}-\d{1,2}(?:[ T].*)?|\d{1,2}[/.]\d{1,2}[/.]\d{2,4}")
_NUMBER = re.compile(r"-?\d[\d,]*(?:\.\d+)?")
_BARE = re.compile(r"-?[\d.,]+(?:\s+\d+/\d+)?")
_PICTURE = re.compile(
    r"\.(?:jpe?g|png|heic|heif|tiff?|webp|gif|bmp)\b|(?:img|dsc|photo|pic)\w*\d|^\d+$", re.IGNORECASE
)
_WORDS_OF_THE_TRADE = re.compile(
    r"panel ?board|switch ?board|switch ?gear|load ?cent|transformer|xfmr|disconnect|\bpanel\b|transfer switch|\bats\b|\bmcc\b"
    r"|motor control|busway|tablero|cuadro|verteil|tableau|quadro|generator",
    re.IGNORECASE,
)
_OTHER = {
    "amperes": ("kva", "kiloamperes", "voltage"),
    "kva": ("amperes", "kiloamperes", "voltage"),
    "kiloamperes": ("kva", "voltage"),
    "voltage": ("kva", "kiloamperes"),
    "voltage_rating": ("kva", "kiloamperes"),
}
_QUANTITIES = ("amperes", "kva", "kiloamperes", "voltage", "primary")


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
    fits = _TESTS.get(column.holds)
    if fits is None:
        return 0.0
    good = sum(fits(text, column, template) for text in said) / len(said)
    least = 0.0 if own_words else _LEAST.get(column.holds, 0.5)
    if good > least or (good == least and good and not own_words) or good == 1:
        return good
    contrary = sum(_contradicts(text, column) for text in said) / len(said)
    if len(texts) == 1 and not contrary:
        return 0.0
    return -1


def agrees(column: Column, texts: Sequence[str], template: Template) -> bool:
    """Whether at least a third of the cells fit a column, judged without good will."""
    said, fits = said_in(texts), _TESTS.get(column.holds)
    return (
        bool(said)
        and fits is not None
        and sum(fits(text, column, template) for text in said) * 3 >= len(said)
    )


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
    return bool(_DATE.fullmatch(text)) or _holds_any(parts, _OTHER.get(column.holds, _QUANTITIES))


def _holds_any(parts: Parts, names: Collection[str]) -> bool:
    return any(getattr(parts, name) for name in names)


def _number(text: str) -> float | None:
    found = _NUMBER.search(text)
    return float(found[0].replace(",", "")) if found else None


def _in_range(number: float | None, column: Column) -> bool:
    if number is None:
        return False
    low, high = column.plausible or (0.0, float("inf"))
    return low <= number <= high


def _amperes(text: str, column: Column, _: Template) -> bool:
    parts = parts_of(text)
    if parts.amperes or parts.main_device:
        return True
    return bool(_BARE.fullmatch(text)) and _in_range(_number(text), column) and not _is_voltage_pair(text)


def _is_voltage_pair(text: str) -> bool:
    return "/" in text


def _kva(text: str, column: Column, _: Template) -> bool:
    parts = parts_of(text)
    if parts.kva:
        return True
    return (
        not _holds_any(parts, _OTHER["kva"])
        and bool(_BARE.fullmatch(text))
        and _in_range(_number(text), column)
    )


def _kiloamperes(text: str, column: Column, _: Template) -> bool:
    parts = parts_of(text)
    number = _number(text)
    if number is None or _holds_any(parts, _OTHER["kiloamperes"]):
        return False
    if parts.kiloamperes:
        return True
    return _in_range(number, column) or 1000 <= number <= 300_000


def _voltage(text: str, _: Column, __: Template) -> bool:
    parts = parts_of(text)
    if parts.voltage or parts.primary:
        return True
    if _holds_any(parts, _OTHER["voltage"]):
        return False
    reading = read_voltage(text)
    return any(volts in USUAL_VOLTS for volts in reading.volts)


def _phase(text: str, column: Column, template: Template) -> bool:
    if "%" in text or len(text) > 30:
        return False
    vocabulary = template.vocabulary_of(column)
    return (vocabulary is not None and vocabulary.find(text) is not None) or read_phases(text) in (1, 2, 3)


def _wires(text: str, column: Column, template: Template) -> bool:
    vocabulary = template.vocabulary_of(column)
    return len(text) <= 30 and (
        (vocabulary is not None and vocabulary.find(text) is not None) or read_wires(text) in (2, 3, 4, 5)
    )


def _choice(text: str, column: Column, template: Template) -> bool:
    vocabulary = template.vocabulary_of(column)
    if vocabulary is None:
        return True
    if vocabulary.open:
        return not _is_quantity(text)
    return vocabulary.find(text) is not None or bool(
        column.field == "main_device" and parts_of(text).main_device
    )


def _is_quantity(text: str) -> bool:
    return bool(_DATE.fullmatch(text)) or _holds_any(parts_of(text), _QUANTITIES)


def _tag(text: str, _: Column, __: Template) -> bool:
    return len(text) <= 60 and not _DATE.fullmatch(text) and not _is_only_quantity(text)


def _is_only_quantity(text: str) -> bool:
    parts = parts_of(text)
    return _holds_any(parts, _QUANTITIES) and not any(c.isalpha() for c in parts.rest)


def _tags(text: str, column: Column, template: Template) -> bool:
    return _tag(text, column, template) and any(c.isalpha() for c in text) and "%" not in text


def _room(text: str, _: Column, __: Template) -> bool:
    return not _is_only_quantity(text) and not _DATE.fullmatch(text) and len(text) <= 120


def _maker(text: str, column: Column, _: Template) -> bool:
    if column.field != "maker":
        return not _is_only_quantity(text) or column.field in ("remarks", "seen")
    return not _is_only_quantity(text) and any(c.isalpha() for c in text) and not _DATE.fullmatch(text)


def _length(text: str, column: Column, _: Template) -> bool:
    if column.words and spelling(text) in {spelling(word) for word in column.words}:
        return True
    return any(c.isdigit() for c in text) and not _is_quantity(text)


def _percent(text: str, column: Column, _: Template) -> bool:
    return not _is_quantity(text) and _in_range(_number(text), column)


def _count(text: str, column: Column, _: Template) -> bool:
    return (
        not _is_quantity(text)
        and len(text) <= 30
        and (_number(text) is None or _in_range(_number(text), column))
    )


def _year(text: str, _: Column, __: Template) -> bool:
    return bool(re.search(r"(?<!\d)(?:18|19|20)\d\d(?!\d)", text)) and len(text) <= 24


def _date(text: str, _: Column, __: Template) -> bool:
    return any(c.isdigit() for c in text) and not _holds_any(parts_of(text), _QUANTITIES)


def _photos(text: str, _: Column, __: Template) -> bool:
    return bool(_PICTURE.search(text))


_TESTS: dict[str, Callable[[str, Column, Template], bool]] = {
    "amperes": _amperes, "kva": _kva, "kiloamperes": _kiloamperes, "voltage": _voltage, "voltage_rating": _voltage,
    "phase": _phase, "wires": _wires, "choice": _choice, "tag": _tag, "tags": _tags, "room": _room, "text": _maker,
    "length": _length, "percent": _percent, "count": _count, "year": _year, "date": _date, "photos": _photos,
}  # fmt: skip
