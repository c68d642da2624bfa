"""What one typed cell comes to, for each thing that a column can hold."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

import pytest

from workbook_tools.definitions import load_template
from workbook_tools.electrical import Length
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey import Outcome, Value
from workbook_tools.survey.values import ColumnReader

OFFICE = load_template("office")
TAGS = frozenset({"msb", "gen-1", "rp-1", "rp-2", "a&b", "na"})


def read(where: str, cell: str | Cell, unit: str = "in") -> Value:
    sheet, name = where.split(".")
    reader = ColumnReader(OFFICE.by_key[sheet].by_field[name], OFFICE, unit, TAGS)
    return reader.read(Cell("text", cell, cell) if isinstance(cell, str) else cell, "Sheet", "B2")


def number(value: float, text: str | None = None, number_format: str | None = None) -> Cell:
    return Cell("number", value, text or f"{value:g}", None, number_format)


READ = [
    ("equipment.rating_a", "1600A", 1600.0),
    ("equipment.rating_a", "1,600 amps", 1600.0),
    ("equipment.rating_a", "225", 225.0),
    ("equipment.rating_a", number(225), 225.0),
    ("equipment.rating_a", "'225", 225.0),
    ("equipment.rating_a", "225A MLO", 225.0),
    ("equipment.rating_a", "100A 3P", 100.0),
    ("transformers.kva", "75 kVA", 75.0),
    ("transformers.kva", "112.5KVA", 112.5),
    ("transformers.kva", "112 ½", 112.5),
    ("transformers.kva", "500 VA", 0.5),
    ("transformers.kva", "1.5 MVA", 1500.0),
    ("transformers.kva", "75kVA 3 phase", 75.0),
    ("transformers.impedance_percent", "5.0%", 5.0),
    ("transformers.impedance_percent", "%Z = 5.75", 5.75),
    ("transformers.impedance_percent", "5.75 % Z", 5.75),
    ("transformers.impedance_percent", "4.2% @ 170 C", 4.2),
    ("transformers.impedance_percent", number(0.05, "0.05", "0.0%"), 5.0),
    ("equipment.short_circuit_rating_ka", "65kAIC", 65.0),
    ("equipment.short_circuit_rating_ka", "22,000 A", 22.0),
    ("equipment.short_circuit_rating_ka", "10k", 10.0),
    ("equipment.short_circuit_rating_ka", "65 kA at 480 V", 65.0),
    ("equipment.phase", "3 ph", 3),
    ("equipment.phase", "3Ø", 3),
    ("equipment.phase", "single phase", 1),
    ("equipment.phase", number(3), 3),
    ("equipment.wires", "4W", 4),
    ("equipment.wires", "3-wire", 3),
    ("equipment.hand_motions", "6 motions", 6),
    ("findings.count", "2 ea", 2),
    ("findings.count", "x3", 3),
    ("findings.count", "two", 2),
    ("findings.count", "2.0", 2),
    ("transformers.year_made", "1998", 1998),
    ("transformers.year_made", "Mar 1998", 1998),
    ("transformers.year_made", number(2006), 2006),
    ("job.inspection_date", "2026-09-16", date(2026, 9, 16)),
    ("job.inspection_date", "9/16/2026", date(2026, 9, 16)),
    ("job.inspection_date", "16/9/26", date(2026, 9, 16)),
    ("job.inspection_date", "Wed, Sept 16th, 2026", date(2026, 9, 16)),
    ("job.inspection_date", "16-Sep-26", date(2026, 9, 16)),
    ("job.inspection_date", "16.9.2026", date(2026, 9, 16)),
    ("job.inspection_date", Cell("date", date(2026, 9, 16), "2026-09-16"), date(2026, 9, 16)),
    ("job.inspection_date", Cell("date", datetime(2026, 9, 16, 8, 30), "2026-09-16T08:30:00"), date(2026, 9, 16)),
    ("job.power_on", Cell("bool", True, "TRUE"), "Yes"),
    ("job.power_on", Cell("bool", False, "FALSE"), "No"),
    ("job.power_on", number(1), "Yes"),
    ("job.power_on", "✓", "Yes"),
    ("equipment.circuit_directory", Cell("bool", True, "TRUE"), "Present"),
    ("equipment.kind", "panel", "Panelboard"),
    ("equipment.kind", "SWBD", "Switchboard"),
    ("equipment.kind", "Panelboard (flush)", "Panelboard"),
    ("equipment.wiring_method", "Cable bus", "Cable bus"),
    ("clearances.opposite_side", "block wall", "Grounded"),
    ("clearances.open_above", "structure", "Structure"),
    ("clearances.items_above", "Pipe; duct", ("Pipe", "Duct")),
    ("clearances.items_above", "pipe and duct", ("Pipe", "Duct")),
    ("clearances.items_above", "none", ("None",)),
    ("clearances.items_in_space", "ladder, boxes", ("ladder", "Storage")),
    ("equipment.voltage", "208Y/120V 3PH 4W", "208Y/120V 3PH 4W"),
    ("equipment.voltage", number(480), "480"),
    ("equipment.fed_from", "MSB; GEN-1", ("MSB", "GEN-1")),
    ("equipment.fed_from", "MSB,\nGEN-1", ("MSB", "GEN-1")),
    ("equipment.fed_from", "MSB & GEN-1", ("MSB", "GEN-1")),
    ("equipment.fed_from", "MSB and GEN-1", ("MSB", "GEN-1")),
    ("equipment.fed_from", "MSB/GEN-1", ("MSB", "GEN-1")),
    ("equipment.fed_from", "MSB and the rest", ("MSB and the rest",)),
    ("equipment.fed_from", "A&B", ("A&B",)),
    ("equipment.tag", "RP–1", "RP-1"),
    ("equipment.tag", "NV", "NV"),
    ("equipment.tag", number(7, "7", "000"), "007"),
    ("equipment.tag", "O’Brien", "O'Brien"),
    ("equipment.photos", "QS_1.jpg; QS_2.jpg", ("QS_1.jpg", "QS_2.jpg")),
    ("equipment.photos", "QS_1.jpg, QS_2.jpg", ("QS_1.jpg", "QS_2.jpg")),
    ("equipment.photos", "main, left side.jpg", ("main, left side.jpg",)),
    ("findings.seen", "illegible", "illegible"),
    ("findings.finding", "Cover screws missing", "Cover screws missing"),
    ("equipment.remarks", "lighting 277", "lighting 277"),
]  # fmt: skip


@pytest.mark.parametrize(("where", "cell", "expected"), READ)
def test_what_a_cell_is_read_as(where: str, cell: str | Cell, expected: Any) -> None:
    value = read(where, cell)
    assert (value.outcome, value.value) == (Outcome.VALUE, expected), value.why
    assert type(value.value) is type(expected)
    assert value.typed == (cell if isinstance(cell, str) else cell.text)


LENGTHS = [
    ("3'-6\"", "in", Length(42, "in")),
    ("3’–6 ½”", "in", Length(42.5, "in")),
    ("42", "in", Length(42, "in")),
    ("42", "mm", Length(42, "mm")),
    ("3.5 ft", "mm", Length(3.5, "ft")),
    ("1067mm", "in", Length(1067, "mm")),
    ("36 1/2", "in", Length(36.5, "in")),
]


@pytest.mark.parametrize(("typed", "unit", "expected"), LENGTHS)
def test_a_length_is_in_its_own_unit_or_the_jobs(typed: str, unit: str, expected: Length) -> None:
    assert read("clearances.depth", typed, unit).value == expected


@pytest.mark.parametrize(
    "typed",
    ["N/V", "n/v", "NV", "n.v.", "not visible", "Not Visible", "NOT SEEN", "n\\v", "illegible", "Unknown"],
)
def test_not_visible_in_every_spelling(typed: str) -> None:
    assert read("equipment.rating_a", typed).outcome is Outcome.NOT_VISIBLE
    assert read("equipment.maker", typed).outcome is Outcome.NOT_VISIBLE
    assert read("clearances.depth", typed).outcome is Outcome.NOT_VISIBLE


@pytest.mark.parametrize("typed", ["N/A", "n/a", "NA", "N.A.", "not applicable", " N/A "])
def test_not_applicable_in_every_spelling(typed: str) -> None:
    assert read("equipment.main_device", typed).outcome is Outcome.NOT_APPLICABLE
    assert read("transformers.impedance_percent", typed).outcome is Outcome.NOT_APPLICABLE


def test_two_bare_letters_are_a_tag_where_a_tag_is_asked_for() -> None:
    assert read("equipment.fed_from", "NA").value == ("NA",)
    assert read("equipment.fed_from", "N/A").outcome is Outcome.NOT_APPLICABLE
    assert read("equipment.tag", "NV").value == "NV"


def test_a_dash_is_asked_about_where_it_could_mean_two_things() -> None:
    assert read("equipment.rating_a", "-").outcome is Outcome.UNREADABLE
    assert "N/V" in read("equipment.maker", "—").why
    assert read("equipment.remarks", "-").outcome is Outcome.NOT_APPLICABLE
    assert read("transformers.serves", "--").outcome is Outcome.NOT_APPLICABLE


@pytest.mark.parametrize("typed", ["", "   ", "\u00a0", "\u200b"])
def test_white_space_is_blank(typed: str) -> None:
    assert read("equipment.remarks", typed).outcome is Outcome.BLANK


UNREADABLE = [
    ("equipment.rating_a", "225/400", "more than one number"),
    ("equipment.rating_a", "about 100", "no exact number"),
    ("equipment.rating_a", "75 kVA", "not in amperes"),
    ("equipment.rating_a", "big", "holds no number"),
    ("transformers.kva", "112,5", "comma"),
    ("transformers.kva", "45 A", "not in kVA"),
    ("findings.count", "several", "whole number"),
    ("findings.count", "2.5", "whole number"),
    ("findings.count", "2 in", "whole number"),
    ("transformers.year_made", "98", "four digits"),
    ("job.inspection_date", "last week", "is no date"),
    ("job.inspection_date", "2026-02-30", "calendar"),
    ("job.inspection_date", number(46281), "was it 2026-09-16?"),
    ("clearances.depth", "knee high", "knee high"),
    ("clearances.depth", "42-44", "range"),
    ("equipment.voltage", "low", "voltage"),
    ("equipment.maker", '"', "ditto"),
    ("equipment.rating_a", "?", "question mark"),
    ("equipment.rating_a", "#REF!", "spreadsheet error"),
    ("equipment.main_device", "#N/A", "spreadsheet error"),
    ("equipment.main_device", Cell("error", "#N/A", "#N/A"), "spreadsheet error"),
    ("equipment.tag", Cell("error", None, ""), "lost"),
    ("equipment.maker", Cell("picture", None, ""), "picture"),
    ("equipment.rating_a", Cell("number", None, "", "=B2*2"), "without a result"),
    ("equipment.fed_from", " ; ", "no tag"),
    ("equipment.tag", Cell("bool", True, "TRUE"), "logical value"),
    ("clearances.depth", Cell("date", date(2026, 1, 2), "2026-01-02", None, "m/d/yy"), "was it 1/2 or JAN-2?"),
    ("clearances.depth", Cell("date", date(2026, 2, 1), "2026-02-01", None, "d/m/yyyy"), "was it 1/2"),
    ("equipment.tag", Cell("date", date(2026, 9, 2), "2026-09-02", None, "d-mmm"), "was it SEP-2 or 9/2?"),
    ("equipment.rating_a", Cell("date", time(10, 0), "10:00:00", None, "h AM/PM"), "was it 10 A"),
    ("transformers.year_made", Cell("date", date(1998, 1, 1), "1998-01-01", None, "yyyy"), "was it 1998?"),
]  # fmt: skip


@pytest.mark.parametrize(("where", "cell", "says"), UNREADABLE)
def test_what_cannot_be_read_says_why(where: str, cell: str | Cell, says: str) -> None:
    value = read(where, cell)
    assert (value.outcome, value.value) == (Outcome.UNREADABLE, None)
    assert says in value.why
    assert value.typed == (cell if isinstance(cell, str) else cell.text)


@pytest.mark.parametrize(
    ("where", "typed", "nearest"),
    [
        ("equipment.kind", "Panelbord", "Panelboard"),
        ("equipment.touch_test", "maybe", None),
        ("equipment.wires", "6", None),
        ("equipment.phase", "4", None),
        ("rooms.access", "Loked", "Locked"),
    ],
)
def test_an_answer_off_a_closed_list_is_an_unknown_choice(
    where: str, typed: str, nearest: str | None
) -> None:
    value = read(where, typed)
    assert (value.outcome, value.unknown_choice) == (Outcome.UNREADABLE, True)
    assert nearest is None or nearest in value.why


@pytest.mark.parametrize(
    ("where", "typed", "says"),
    [
        ("job.inspection_date", "5/6/2026", "could also be 2026-06-05"),
        ("equipment.rating_a", "225A MLO", "the rest of the text was not read"),
        ("equipment.kind", "Panelboard?", "question mark"),
        ("equipment.kind", "Panelboard (flush)", "brackets"),
    ],
)
def test_a_doubtful_value_is_read_and_said(where: str, typed: str, says: str) -> None:
    value = read(where, typed)
    assert value.outcome is Outcome.VALUE
    assert says in value.note


def test_a_formula_in_a_typed_cell_is_kept_and_said() -> None:
    value = read("equipment.rating_a", Cell("number", 400.0, "400", "=200*2"))
    assert (value.value, value.formula) == (400.0, "=200*2")
    assert "formula" in value.note
