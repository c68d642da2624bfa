"""One cell into one Value: a parser for each thing that a column can hold.

    ColumnReader(column, template, unit, tags)   .read(cell, sheet, place) -> Value
    Reading                                      outcome, value, why, unknown_choice, note

Nothing here raises for what a person typed. What could mean two things is read literally
or not at all, and said; the typed text is kept as it is. Each text is parsed once.

Not here: which cell belongs to which column.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from workbook_tools.definitions import Column, Template, Vocabulary, plain
from workbook_tools.electrical import (
    Length,
    read_length,
    read_phases,
    read_voltage,
    read_voltage_rating,
    read_wires,
)
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey.bounds import MOST_NAMES
from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.left_over import (
    COUNTED,
    OF_A_RATING,
    OF_A_VOLTAGE,
    PHASES_AND_WIRES,
    left_over,
    loose_figures,
    thousand_or_decimals,
)
from workbook_tools.survey.typed_text import (
    is_dash,
    is_ditto,
    is_error_text,
    is_not_applicable,
    is_not_visible,
    separate,
    straight,
)
from workbook_tools.survey.written_dates import read_date, what_was_typed
from workbook_tools.survey.written_numbers import read_amount, read_count, read_year

__all__ = ["ColumnReader", "Reading"]


class Reading(NamedTuple):
    """What came of parsing one text, whatever cell it stands in."""

    outcome: Outcome
    value: Any = None
    why: str = ""
    unknown_choice: bool = False
    note: str = ""


_BLANK = Reading(Outcome.BLANK)
_NOT_VISIBLE = Reading(Outcome.NOT_VISIBLE)
_NOT_APPLICABLE = Reading(Outcome.NOT_APPLICABLE)
_NAMES = ("tag", "tags", "room")
_FREE = ("text", "finding")
_SEVERAL = ("tags", "photos", "items")
_TICKS = {"✓": "yes", "✔": "yes", "☑": "yes", "✅": "yes", "✗": "no", "✘": "no", "❌": "no", "☐": "no"}
_AMPERES_BESIDE = re.compile(
    r"^\s*\d{2,4}\s*-?\s*(?:amps?\b|a\b)?\s*|\s*-?\s*\b\d{2,4}\s*(?:amps?|a)?\s*$", re.IGNORECASE
)
LONGEST_ANSWER = 300  # characters; a number, a length or a voltage takes far fewer
_FREE_TEXTS = (*_FREE, *_NAMES, *_SEVERAL)
_FIRST_SERIAL, _LAST_SERIAL = 32874, 73050  # 1990 to 2099: the days a survey can have


def _unreadable(why: str, *, unknown_choice: bool = False) -> Reading:
    return Reading(Outcome.UNREADABLE, None, why, unknown_choice)


def _value(value: Any, note: str = "") -> Reading:
    return Reading(Outcome.VALUE, value, "", False, note)


class ColumnReader:
    r"""Reads the cells of one column.

    Parameters
    ----------
    column : Column
        What the cells hold.
    template : Template
        Whose vocabularies are used.
    unit : str
        Unit of a bare length.
    tags : collection of str
        The tags of the survey, as `plain` makes them: "A & B" is two of them only where
        both are known.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> office = load_template("office")
    >>> depth = ColumnReader(office.by_key["clearances"].by_field["depth"], office, "in", ())
    >>> depth.read(Cell("text", "3 ft 6½", "3 ft 6½"), "Clearances", "C5").value.inches
    42.5
    >>> depth.read(Cell("text", "knee high", "knee high"), "Clearances", "C6").outcome
    <Outcome.UNREADABLE: 'unreadable'>
    """

    def __init__(self, column: Column, template: Template, unit: str, tags: Collection[str]) -> None:
        self.column, self.field = column, column.field
        self.template = template
        self.unit = unit
        self.tags = tags
        self.vocabulary: Vocabulary | None = template.vocabulary_of(column)
        self._parse: Callable[[str], Reading] = getattr(self, f"_{column.holds}", self._text)
        self._read: dict[str, Reading] = {}
        choices = self.vocabulary.choices if self.vocabulary is not None else ()
        self._like = {choice.name: choice.like for choice in choices if choice.like}

    def read(self, cell: Cell, sheet: str, place: str) -> Value[Any]:
        """Return the value of a cell. Never raises."""
        typed, formula = cell.text, cell.formula
        if cell.kind == "text" and formula is None:
            reading = self._read.get(typed) or self.read_text(typed)
        else:
            reading = self._read_cell(cell)
        outcome, value, why, unknown_choice, note = reading
        if formula is not None and outcome is not Outcome.UNREADABLE:
            said = "A formula stands in this cell; its result was taken."
            note = f"{said} {note}" if note else said
        like = self._like.get(value, "") if self._like else ""
        # By place, not by name: this is done for every cell.
        return Value(
            outcome, typed, value, sheet, place, why, unknown_choice, note, formula or "", like, self.column
        )

    def read_text(self, text: str) -> Reading:
        """Return what a typed text comes to."""
        if len(text) > LONGEST_ANSWER and self.column.holds not in _FREE_TEXTS:
            return _unreadable(f"{len(text)} characters stand here, too many for an answer")
        reading = self._answer(text) or self._parse(straight(text))
        if isinstance(reading.value, tuple) and len(reading.value) > MOST_NAMES:
            reading = _unreadable(
                f"{len(reading.value):,} entries stand in this cell, more than the {MOST_NAMES} that are read; part them on rows"
            )
        self._read[text] = reading
        return reading

    def _read_cell(self, cell: Cell) -> Reading:
        kind, value, column = cell.kind, cell.value, self.column
        if kind == "picture" and column.holds == "photos":
            return _value(())  # names no file; the picture itself is taken with its row
        if kind == "picture":
            return _unreadable(
                "a picture is in this cell; keep photos as files and name them here or in Photos"
            )
        if kind == "error":
            what = f"{cell.text} is a spreadsheet error" if cell.text else "the text of this cell is lost"
            return _unreadable(f"{what}, not an answer; type the answer again")
        if value is None and not cell.text:
            return _unreadable("a formula without a result stands in this cell; type the answer itself")
        if kind == "bool":
            return self._boolean(bool(value))
        if kind == "date":
            return self._calendar(cell)
        if kind == "number" and isinstance(value, float | int):
            shown = cell.number_format or ""
            if column.holds == "percent" and "%" in shown:
                return _value(round(value * 100, 10))
            if column.holds == "date":
                return _serial(cell.text, value)
            if column.holds in (*_NAMES, "text", "choice") and len(shown) > 1 and not shown.strip("0"):
                return self.read_text(cell.text.zfill(len(shown)))
            if column.holds == "choice" and value in (0, 1) and self._yes_or_no:
                return self._boolean(bool(value))
            return self._stored_number(cell.text)
        return self.read_text(cell.text)

    def _stored_number(self, text: str) -> Reading:
        """Read a number that the program stored as one: its point parts decimals, whatever the country."""
        reading = self.read_text(text)
        if reading.note and reading.note == thousand_or_decimals(text):
            return reading._replace(note="")
        return reading

    @property
    def _yes_or_no(self) -> bool:
        return self.vocabulary is not None and {"Yes", "No"} == set(self.vocabulary.names)

    def _boolean(self, ticked: bool) -> Reading:
        if self.vocabulary is not None:
            choice = self.vocabulary.find("yes" if ticked else "no")
            if choice is not None:
                return _value(choice.name)
        logical = "TRUE" if ticked else "FALSE"
        if self.column.holds == "text" and self.vocabulary is None:
            return _value(logical)
        return _unreadable(f"{logical} is a logical value, not an answer to {self.column.heading}")

    def _calendar(self, cell: Cell) -> Reading:
        value = cell.value
        if self.column.holds == "date":
            if isinstance(value, datetime):
                return _value(value.date())
            if isinstance(value, date):
                return _value(value)
            return _unreadable(f"{cell.text} is no day of the calendar; a date like 2026-09-16 is needed")
        guesses = what_was_typed(value, cell.number_format)
        if self.column.holds == "year" and isinstance(value, date):
            guesses = (str(value.year),)
        elif self.column.holds in _NAMES:
            guesses = guesses[::-1]
        made = "a time" if not isinstance(value, date) and guesses else "a date"
        asked = f": was it {' or '.join(guesses)}?" if guesses else ""
        ends = "" if asked else "."
        return _unreadable(
            f"the spreadsheet program turned what was typed into {made}, {cell.text}{asked}{ends} Type it again as text"
        )

    def _answer(self, text: str) -> Reading | None:
        """Return what the text says whatever the column holds: nothing, N/V, N/A, an error, a ditto mark."""
        bare = straight(text)
        if not bare:
            return _BLANK
        holds = self.column.holds
        if holds in ("choice", "items") and self.vocabulary is not None and self.vocabulary.find(bare):
            return None
        if is_error_text(bare):
            return _unreadable(f"{bare} is a spreadsheet error, not an answer; type the answer again")
        name = holds in _NAMES
        if name and plain(bare) in self.tags:
            return None
        doubted = f"{bare!r} was read without the question mark" if "?" in bare else ""
        if is_not_visible(bare, of_a_name=name, free=holds in _FREE and not self.column.required):
            return _NOT_VISIBLE._replace(note=doubted)
        if is_not_applicable(bare, of_a_name=name):
            return _NOT_APPLICABLE._replace(note=doubted)
        if is_ditto(bare) and not (holds == "text" and any(c.isalpha() for c in bare)):
            return _unreadable("a ditto mark is not read; write the answer itself")
        if is_dash(bare):
            if holds in ("text", "photos", "items", "tags") and not self.column.required:
                return _NOT_APPLICABLE
            return _unreadable(
                "a dash can mean not visible, not applicable or none; write N/V, N/A or the answer"
            )
        if not bare.strip("?! "):
            return _unreadable("a question mark is no answer; write N/V where it cannot be seen")
        return None

    # -- one parser for each Column.holds; each takes a text with straight quotes

    def _text(self, text: str) -> Reading:
        if self.vocabulary is not None:
            choice = self.vocabulary.find(text)
            if choice is not None:
                return _value(choice.name)
        return _value(text)

    def _tag(self, text: str) -> Reading:
        return _value(" ".join(text.split()))

    _room = _tag
    _finding = _tag

    def _tags(self, text: str) -> Reading:
        if not self.column.required and plain(text) in ("none", "nothing"):
            return _NOT_APPLICABLE
        entries: list[str] = []
        for entry in separate(text):
            entries.extend(self._known_parts(entry) or [entry])
        return _value(tuple(entries)) if entries else _unreadable("no tag stands between the separators")

    def _known_parts(self, entry: str) -> list[str] | None:
        """Part "A & B", "A and B", "A / B", "A + B" where every part is a tag of the survey and the whole is none."""
        if plain(entry) in self.tags:
            return None
        for separator in (" & ", " and ", " AND ", "&", "/", "+"):
            parts = [part.strip() for part in entry.split(separator)]
            if len(parts) > 1 and all(plain(part) in self.tags for part in parts):
                return parts
        return None

    def _choice(self, text: str) -> Reading:
        vocabulary = self.vocabulary
        if vocabulary is None:
            return _value(text)
        choice = vocabulary.find(_TICKS.get(text, text))
        if choice is not None:
            doubted = "?" in text
            return _value(
                choice.name, f"{text!r} was read as {choice.name}; a question mark stands beside it" * doubted
            )
        inside = text.partition("(")[0]
        choice = vocabulary.find(inside) if inside != text and inside.strip() else None
        if choice is not None:
            return _value(
                choice.name, f"{text!r} was read as {choice.name}; the words in brackets were not read"
            )
        without = _AMPERES_BESIDE.sub("", text)
        choice = vocabulary.find(without) if without != text else None
        if choice is not None:
            return _value(
                choice.name, f"{text!r} was read as {choice.name}; the figure beside it was not read"
            )
        if vocabulary.open:
            return _value(text)
        nearest = vocabulary.nearest(text)
        near = f"; the nearest is {nearest}" if nearest else ""
        return _unreadable(
            f"{text!r} is none of the choices of {self.column.heading}{near}", unknown_choice=True
        )

    def _spelled(self, text: str) -> str:
        """Return the choice that stands in words in place of a number, "" for none."""
        if self.vocabulary is None or "?" in text or not any(c.isalpha() for c in text):
            return ""
        choice = self.vocabulary.find(text)
        return choice.name if choice is not None else ""

    def _items(self, text: str) -> Reading:
        vocabulary = self.vocabulary
        whole = vocabulary.find(text) if vocabulary is not None else None
        if whole is not None:
            return _value((whole.name,))
        found: list[str] = []
        for entry in separate(text):
            for part in self._known_items(entry) or [entry]:
                choice = vocabulary.find(part) if vocabulary is not None else None
                found.append(choice.name if choice is not None else part)
        return (
            _value(tuple(dict.fromkeys(found)))
            if found
            else _unreadable("nothing stands between the separators")
        )

    def _known_items(self, entry: str) -> list[str] | None:
        if self.vocabulary is None or self.vocabulary.find(entry):
            return None
        for separator in (" & ", " and ", "&", "/", "+"):
            parts = [part.strip() for part in entry.split(separator)]
            if len(parts) > 1 and all(self.vocabulary.find(part) for part in parts):
                return parts
        return None

    def _photos(self, text: str) -> Reading:
        if plain(text) in ("none", "nophoto", "nophotos"):
            return _NOT_APPLICABLE
        entries: list[str] = []
        for entry in separate(text, at_commas=False):
            parts = separate(entry)
            # A comma may be part of a file name: it parts only what is alike on both sides.
            alike = len({"." in part for part in parts}) == 1
            entries.extend(parts if alike else [entry])
        return (
            _value(tuple(entries)) if entries else _unreadable("no file name stands between the separators")
        )

    def _voltage(self, text: str) -> Reading:
        reading = read_voltage(text)
        if reading.outcome == "not a voltage":
            return _unreadable(reading.says)
        return _value(text, _voltage_left_over(text))

    def _voltage_rating(self, text: str) -> Reading:
        try:
            rating = read_voltage_rating(text)
        except ValueError as error:
            return _unreadable(str(error))
        return _value(rating, left_over(text, rating, OF_A_RATING) or loose_figures(text))

    def _phase(self, text: str) -> Reading:
        return self._small_number(text, read_phases(text), "phases")

    def _wires(self, text: str) -> Reading:
        return self._small_number(text, read_wires(text), "wires")

    def _small_number(self, text: str, number: int | None, what: str) -> Reading:
        listed = self.vocabulary.names if self.vocabulary is not None else ()
        if number is not None and (not listed or str(number) in listed):
            return _value(number, left_over(text, number, PHASES_AND_WIRES))
        spelled = self._spelled(text) if number is None else ""
        if spelled.isdecimal():
            return _value(int(spelled))
        said = (
            f"{text!r} names no number of {what}"
            if number is None
            else f"{number} is none of the numbers of {what}"
        )
        needed = " or ".join(filter(None, (", ".join(listed[:-1]), *listed[-1:])))
        return _unreadable(f"{said}; {needed} is needed", unknown_choice=number is not None)

    def _amount(self, text: str) -> Reading:
        try:
            written = read_amount(text, self.column.holds)
        except ValueError as error:
            return _unreadable(str(error))
        # No percentage goes into thousands, and no rating into thousands of kA; in A it may.
        sure = self.column.holds == "percent" or (self.column.holds == "kiloamperes" and written.number >= 1)
        return _value(written.number, written.note or ("" if sure else thousand_or_decimals(text)))

    _amperes = _kva = _percent = _kiloamperes = _number = _amount

    def _count(self, text: str) -> Reading:
        try:
            number = int(read_count(text).number)
        except ValueError as error:
            return _unreadable(str(error))
        return _value(number, left_over(text, number, COUNTED) or thousand_or_decimals(text))

    def _year(self, text: str) -> Reading:
        try:
            written = read_year(text)
        except ValueError as error:
            return _unreadable(str(error))
        return _value(int(written.number), written.note)

    def _date(self, text: str) -> Reading:
        if text.replace(".", "", 1).isdigit() and len(text) <= 7:
            return _serial(text, float(text))
        try:
            written = read_date(text)
        except ValueError as error:
            return _unreadable(str(error))
        return _value(written.day, written.note)

    def _length(self, text: str) -> Reading:
        spelled = self._spelled(text)
        if spelled and not spelled.isdecimal():
            return _value(spelled)
        try:
            length = read_length(spelled or text, self.unit)
        except ValueError as error:
            words = [name for name in (self.vocabulary.names if self.vocabulary else ()) if name.isalpha()]
            return _unreadable(f"{error}{', or ' * bool(words)}{' or '.join(words)}")
        small = isinstance(length, Length) and length.unit in ("mm", "cm")
        return _value(length, thousand_or_decimals(text) if small else "")


def _voltage_left_over(text: str) -> str:
    return left_over(text, "a voltage", OF_A_VOLTAGE) or loose_figures(text) or _thousand_volts(text)


def _thousand_volts(text: str) -> str:
    """Ask where 4.160 stands without kV: as volts it would be none that a building has."""
    return "" if "kv" in text.casefold() else thousand_or_decimals(text)


def _serial(text: str, number: float) -> Reading:
    if _FIRST_SERIAL <= number <= _LAST_SERIAL:
        day = date(1899, 12, 30) + timedelta(days=int(number))
        return _unreadable(f"{text} is how a spreadsheet stores a date: was it {day}? Type the date again")
    return _unreadable(f"{text} is no date; a date like 2026-09-16 is needed")
