"""Whether one text can be an answer of what a column holds: a test for each thing that a column can hold.

    fits(text, column, template)    True, False, or None for what is not tested (a number, an item)
    is_date(text), holds_any(parts, names)

The ranges are those of the template (`plausible`), the usual voltages common practice.

Not here: how many texts must fit (column_values).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection

from workbook_tools.definitions import Column, Template
from workbook_tools.electrical import read_phases, read_voltage, read_wires
from workbook_tools.filling.compound import USUAL_VOLTS, Parts, counts_of, parts_of

__all__ = ["OTHER", "QUANTITIES", "fits", "holds_any", "is_date"]

_DATE = re.compile(r"\d{4}-\d{1,2}-\d{1,2}(?:[ T].*)?|\d{1,2}[/.]\d{1,2}[/.]\d{2,4}")
_NUMBER = re.compile(r"-?\d[\d,]*(?:\.\d+)?")
_BARE = re.compile(r"-?[\d.,]+(?:\s+\d+/\d+)?")
_PICTURE = re.compile(
    r"\.(?:jpe?g|png|heic|heif|tiff?|webp|gif|bmp)\b|(?:img|dsc|photo|pic)\w*\d|^\d+$", re.IGNORECASE
)

OTHER = {
    "amperes": ("kva", "kiloamperes", "voltage"),
    "kva": ("amperes", "kiloamperes", "voltage"),
    "kiloamperes": ("kva", "voltage"),
    "voltage": ("kva", "kiloamperes"),
    "voltage_rating": ("kva", "kiloamperes"),
}
QUANTITIES = ("amperes", "kva", "kiloamperes", "voltage", "primary")


def fits(text: str, column: Column, template: Template) -> bool | None:
    """Say whether a text can be an answer of a column; None where nothing is known of what it holds."""
    test = _TESTS.get(column.holds)
    return test(text, column, template) if test is not None else None


def is_date(text: str) -> bool:
    """Whether a text is a date and nothing else."""
    return _DATE.fullmatch(text) is not None


def holds_any(parts: Parts, names: Collection[str]) -> bool:
    """Whether a cell holds any of these quantities."""
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
        not holds_any(parts, OTHER["kva"])
        and bool(_BARE.fullmatch(text))
        and _in_range(_number(text), column)
    )


def _kiloamperes(text: str, column: Column, _: Template) -> bool:
    parts = parts_of(text)
    number = _number(text)
    if number is None or holds_any(parts, OTHER["kiloamperes"]):
        return False
    if parts.kiloamperes:
        return True
    return _in_range(number, column) or 1000 <= number <= 300_000


def _voltage(text: str, _: Column, __: Template) -> bool:
    parts = parts_of(text)
    if parts.voltage or parts.primary:
        return True
    if holds_any(parts, OTHER["voltage"]):
        return False
    reading = read_voltage(text)
    return any(volts in USUAL_VOLTS for volts in reading.volts)


def _phase(text: str, column: Column, template: Template) -> bool:
    if "%" in text or len(text) > 30:
        return False
    vocabulary = template.vocabulary_of(column)
    known = vocabulary is not None and vocabulary.find(text) is not None
    return known or read_phases(text) in (1, 2, 3) or counts_of(text) is not None


def _wires(text: str, column: Column, template: Template) -> bool:
    vocabulary = template.vocabulary_of(column)
    return len(text) <= 30 and (
        (vocabulary is not None and vocabulary.find(text) is not None)
        or read_wires(text) in (2, 3, 4, 5)
        or counts_of(text) is not None
    )


def _choice(text: str, column: Column, template: Template) -> bool:
    vocabulary = template.vocabulary_of(column)
    if vocabulary is None:
        return True
    if vocabulary.open:
        return not _is_quantity(text) and any(c.isalpha() for c in text)
    return vocabulary.find(text) is not None or bool(
        column.field == "main_device" and parts_of(text).main_device
    )


def _is_quantity(text: str) -> bool:
    return is_date(text) or holds_any(parts_of(text), QUANTITIES)


def _tag(text: str, _: Column, __: Template) -> bool:
    return len(text) <= 60 and not is_date(text) and not _is_only_quantity(text)


def _is_only_quantity(text: str) -> bool:
    parts = parts_of(text)
    return holds_any(parts, QUANTITIES) and not any(c.isalpha() for c in parts.rest)


def _tags(text: str, column: Column, template: Template) -> bool:
    return _tag(text, column, template) and any(c.isalpha() for c in text) and "%" not in text


def _room(text: str, _: Column, __: Template) -> bool:
    return not _is_only_quantity(text) and not is_date(text) and len(text) <= 120


_FREE = ("remarks", "seen")
"""Columns for words: a mark from 1 to 5 is no remark."""


def _maker(text: str, column: Column, _: Template) -> bool:
    if column.field != "maker":
        return any(c.isalpha() for c in text) if column.field in _FREE else not _is_only_quantity(text)
    return not _is_only_quantity(text) and any(c.isalpha() for c in text) and not is_date(text)


def _length(text: str, column: Column, template: Template) -> bool:
    words = template.vocabulary_of(column)
    if words is not None and words.find(text) is not None:
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
    return any(c.isdigit() for c in text) and not holds_any(parts_of(text), QUANTITIES)


def _photos(text: str, _: Column, __: Template) -> bool:
    return bool(_PICTURE.search(text))


_TESTS: dict[str, Callable[[str, Column, Template], bool]] = {
    "amperes": _amperes, "kva": _kva, "kiloamperes": _kiloamperes, "voltage": _voltage, "voltage_rating": _voltage,
    "phase": _phase, "wires": _wires, "choice": _choice, "tag": _tag, "tags": _tags, "room": _room, "text": _maker,
    "length": _length, "percent": _percent, "count": _count, "year": _year, "date": _date, "photos": _photos,
}  # fmt: skip
