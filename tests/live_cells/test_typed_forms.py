"""What a live cell takes for readable means to the tool exactly what the cell makes of it.

The texts are put together from the pieces that people type, in any order, so most are nonsense;
whatever passes for a length, a voltage or a choice on the sheet must be one to the tool. So few
pass for a length or a voltage that those are drawn by the ten thousand, with the seed of the samples.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tests.sampling import sampled_property, seed
from workbook_tools.definitions import load_template, plain
from workbook_tools.electrical import (
    SYSTEMS,
    read_length,
    read_transformer_side,
    read_voltage,
)
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.typed_forms import AMOUNT, LENGTH, LENGTH_SHAPES, TAG, VOLTAGE, shape_of
from workbook_tools.live_cells.voltage_table import (
    PHASES,
    SEVERAL,
    WIRES,
    said_beside,
    system_numbers,
    voltage_rows,
)
from workbook_tools.survey import Outcome, Value
from workbook_tools.survey.written_numbers import read_amount

OFFICE = load_template("office")
READABLE = Readable(OFFICE)


def cell(sheet: str, field: str, text: str) -> Value[Any]:
    return Value(Outcome.VALUE, text, column=OFFICE.by_key[sheet].by_field[field])


TO_INCHES = {"in": 1, "ft": 12, "mm": 1 / 25.4, "cm": 1 / 2.54, "m": 1 / 0.0254}


def pieces(*texts: str) -> st.SearchStrategy[str]:
    return st.lists(st.sampled_from(texts), min_size=1, max_size=7).map("".join)


def put_together(texts: tuple[str, ...], times: int) -> Iterator[str]:
    dice = Random(seed())
    return ("".join(dice.choices(texts, k=dice.randint(1, 7))) for _ in range(times))


LENGTHS = (*"0123456789", " ", "  ", ".", "/", "-", "–", "'", "’", '"', "”", "''", " ft ", "ft.", "feet", "in", " in.", " inches",
                 "inch", "mm", " m", "cm", "½", "1/2", "3/4", "?", "*", "\u00a0", "N/V", "1 1/2", "3'-6\"")  # fmt: skip
VOLTAGES = ("208", "480", "120", "240", "277", "Y", "y/", "/", " / ", "v", "V", " V", " volts", "vac", " 3ph", "3Ø", " 3 phase", "-4w",
                  " 4 wire", " 3W", " ", ",", " delta", "Δ", " high leg", "k", "12.47", " 1", "three", "single phase", "-", "?", "wye")  # fmt: skip
WORDS = pieces(
    "clear",
    "Grounded",
    " ",
    "live",
    " parts",
    "-",
    "/",
    "(",
    ")",
    ".",
    "'",
    "condition 2",
    "concrete",
    "wall",
    "?",
    "2",
    "b",
)
TAGS = pieces(
    "DP", "dp", "rp", "-", "–", " ", "  ", "1", "2", "/", "(", ")", ".", "+", "#", "_", "'", "&", "\u00a0"
)


def _amount(text: str) -> float:
    whole, _, fraction = text.replace("-", " ").rpartition(" ") if "/" in text else ("", "", text)
    top, _, bottom = fraction.partition("/")
    return float(whole or 0) + float(top) / float(bottom or 1)


def _inches(form: str) -> float:
    """Return what the formulas make of a form: feet and inches, or one amount and its unit."""
    unit = LENGTH_SHAPES[shape_of(form)]
    if unit == "feet and inches":
        feet, _, inches = form.partition("'")
        return float(feet) * 12 + _amount(inches.removeprefix("-").replace('"', ""))
    unit = "in" if unit == "job" else unit
    return _amount(form.rstrip("'\"mc ")) * TO_INCHES[unit]


def test_a_length_that_the_sheet_reads_is_that_length() -> None:
    lengths = {
        text for text in put_together(LENGTHS, 30_000) if READABLE.length(text, unit_read=True) == "known"
    }
    assert len(lengths) >= 1_000
    for text in lengths:
        read = read_length(text.removeprefix("'"), "in")
        form = LENGTH.of(text)
        assert abs(read.inches - _inches(form)) < 1e-9 * max(1, read.inches), text
        assert read.metric == (LENGTH_SHAPES[shape_of(form)] in ("mm", "cm", "m")), text
        assert read.unit_said == (LENGTH_SHAPES[shape_of(form)] != "job"), text


def test_a_voltage_that_the_sheet_reads_is_that_system() -> None:
    voltages = {text for text in put_together(VOLTAGES, 100_000) if READABLE.voltage(text) == "known"}
    assert len(voltages) >= 500
    for text in voltages:
        for phases in PHASES:
            for wires in WIRES:
                _the_voltage_is_that_system(text, phases, wires)


def _the_voltage_is_that_system(text: str, phases: int, wires: int) -> None:
    said = (text, phases, wires)
    base, said_phases, said_wires = said_beside(VOLTAGE.of(text))
    read = read_voltage(text, phases or None, wires or None)
    if (said_phases and phases and said_phases != phases) or (said_wires and wires and said_wires != wires):
        assert read.outcome == "conflict", said
        return
    row = voltage_rows()[base]
    place = 4 * PHASES.index(phases or said_phases) + WIRES.index(wires or said_wires)
    meant = system_numbers()[read.system.key] if read.system is not None else read.outcome
    assert row.systems[place] == meant, said
    if not wires:
        side = read_transformer_side(text, phases or None)
        assert row.lines[place] == (SEVERAL if side.line_volts is None else side.line_volts), said


@sampled_property(max_examples=300, suppress_health_check=[HealthCheck.filter_too_much])
@given(WORDS)
def test_a_choice_that_the_sheet_reads_is_that_choice(text: str) -> None:
    found = READABLE.choice_of(cell("clearances", "opposite_side", text))
    assume(found not in ("", "?"))
    choice = OFFICE.vocabularies["opposite_side"].find(text)
    assert choice is not None
    assert choice.name == found


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(TAGS, TAGS)
def test_names_are_the_same_on_the_sheet_when_they_are_to_the_tool(one: str, other: str) -> None:
    assert (TAG.of(one) == TAG.of(other)) == (plain(one) == plain(other))


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(pieces(*"0123456789", " ", ".", "/", "½", "1/2", " kVA", "kva", "%", " %Z", "-", "?"))
def test_a_number_that_the_sheet_reads_is_that_number(text: str) -> None:
    for field, holds in (("kva", "kva"), ("impedance_percent", "percent")):
        if READABLE.amount(cell("transformers", field, text)) == "known":
            digits = AMOUNT.of(text).rstrip("kva%z ")
            assert read_amount(text, holds).number == pytest.approx(_amount(digits))


def test_every_nominal_system_can_be_read_in_a_usual_spelling() -> None:
    numbers = {entry for row in voltage_rows().values() for entry in row.systems if isinstance(entry, int)}
    assert numbers == set(range(1, len(SYSTEMS) + 1))
