"""What stands beside a number is never swallowed: it is read as a usual spelling, or asked about with its text.

The usual spellings are common practice.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.definitions import load_template
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey import Outcome, Value
from workbook_tools.survey.values import ColumnReader

OFFICE = load_template("office")
UNITS = {"clearances.depth": "mm"}

USUAL = {
    "equipment.rating_a": ("225 A", "225", "1,600 A", "60 amp", "225-A", "22 1/2 A", "0.125", "225.0", "1,200.5"),
    "equipment.hand_motions": ("2", "2 ea", "two", "x3", "6 motions", "2.0", "2 motions of the hand"),
    "equipment.phase": ("3", "3 ph", "3Ø", "single phase", "3 phase, 4 wire"),
    "equipment.wires": ("4", "4W", "3W + gnd", "4+G", "3-wire"),
    "equipment.voltage": (
        "480Y/277", "208Y/120V 3PH 4W", "120/240 1Ø 3W", "480 V", "240/120 high leg delta", "13.8 kV", "4.160 kV",
        "480Y/277 60 Hz", "277/480", "480 V L-L", "480V 3-phase 3-wire", "corner grounded 480 delta",
    ),
    "equipment.voltage_rating": ("600", "600 V", "600VAC", "480Y/277", "600Y/347 V", "600 V max"),
    "equipment.short_circuit_rating_ka": ("65", "65 kA", "65kAIC", "22,000 A", "22.000", "10.5 kA"),
    "transformers.kva": ("75 kVA", "75", "112.5", "112½", "1.5 MVA", "1,500"),
    "transformers.impedance_percent": ("5.75 %Z", "5.75", "%Z = 4.2", "5.750"),
    "transformers.year_made": ("1998", "Mar 1998", "06/2019", "2019-06", "March 2021"),
    "clearances.depth": ("1200", "1200 mm", "1.200 m", "42 in", "3'-6\""),
    "findings.count": ("2", "12 ea", "two"),
}  # fmt: skip

SWALLOWED = {
    "equipment.rating_a": ("1.200", "1.200 A", "12.500", "225A N/V", "225 A HOT", "225 A or more"),
    "equipment.hand_motions": ("2 or more", "2 HOT", "2 N/V", "2 n.v.", "1.000"),
    "equipment.phase": ("3 ph N/V", "3 ph, not sure", "3 ph?"),
    "equipment.wires": ("4 wire n/v", "4 wire HOT"),
    "equipment.voltage": (
        "480 N/V", "480Y/277 (N/V)", "480Y/277?", "480 or 208", "480/277 2", "208Y/120 HOT", "480.277", "208Y/120 n/a",
    ),
    "equipment.voltage_rating": ("600 N/V", "600V HOT", "600?", "600 or less"),
    "equipment.short_circuit_rating_ka": ("65 kA or more", "22.000 A", "65kAIC HOT"),
    "transformers.kva": ("1.500", "112.500 kVA", "75 kVA HOT"),
    "transformers.impedance_percent": ("5.75 % or so", "5.75% n/v"),
    "transformers.year_made": ("2021/3", "2021/03", "2021-3", "2021 3"),
    "clearances.depth": ("1.200", "1.200 mm"),
    "findings.count": ("2 or more", "2 N/V", "2 HOT"),
    "equipment.touch_test": ("N/V?", "No alert?", "No alert (hot)"),
}  # fmt: skip


def read(where: str, text: str, kind: str = "text") -> Value:
    sheet, name = where.split(".")
    reader = ColumnReader(OFFICE.by_key[sheet].by_field[name], OFFICE, UNITS.get(where, "in"), ())
    value = float(text) if kind == "number" else text
    return reader.read(Cell("number" if kind == "number" else "text", value, text), "Sheet", "B2")


@pytest.mark.parametrize(
    ("where", "text"), [(where, text) for where, texts in USUAL.items() for text in texts]
)
def test_a_usual_spelling_is_read_without_a_question(where, text):
    value = read(where, text)
    assert (value.outcome, value.note) == (Outcome.VALUE, "")


@pytest.mark.parametrize(
    ("where", "text"), [(where, text) for where, texts in SWALLOWED.items() for text in texts]
)
def test_what_was_not_understood_whole_is_asked_about_with_its_text(where, text):
    value = read(where, text)
    assert text in value.note


def test_a_number_that_the_program_stored_has_one_meaning():
    assert read("transformers.kva", "112.125", "number").note == ""
    assert "could also be 112125" in read("transformers.kva", "112.125").note


BESIDE = (
    "HOT",
    "N/V",
    "n/a",
    "or more",
    "?",
    "maybe",
    "MLO locked",
    "(hot)",
    "see photo",
    "+",
    "min",
    "~",
    "x2",
    "/3",
)


@sampled_property(max_examples=600)
@given(
    st.sampled_from([(where, texts[0]) for where, texts in USUAL.items()]),
    st.sampled_from(BESIDE),
    st.sampled_from([" ", "", ", ", " - ", "\n"]),
)
def test_a_word_beside_any_number_is_asked_about_or_stops_it(usual, beside, between):
    where, text = usual
    value = read(where, f"{text}{between}{beside}")
    plain = read(where, text)
    assert value.note or value.outcome is not Outcome.VALUE or value.value != plain.value
