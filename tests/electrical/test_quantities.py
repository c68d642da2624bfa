"""Lengths as people write them.

Spellings: common practice. The exact ratios are those of the international inch, 25.4 mm (from memory:
the 1959 agreement), which pint carries as well.
"""

import pickle
from dataclasses import FrozenInstanceError

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.electrical import Length, likely_unit, read_length, write_length
from workbook_tools.electrical.quantities import UNITS

LENGTH = st.builds(Length, st.floats(min_value=0, max_value=1e12), st.sampled_from(UNITS))


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("3'-6\"", 42), ("3’-6”", 42), ("3′ 6″", 42), ("3’ 6”", 42), ("3'6", 42), ("3'6\"", 42), ("6'-6", 78),
        ("3' - 6\"", 42), ("3'6''", 42), ("3 ft 1 in", 37), ("3ft6in", 42), ("6 ft. 6 in.", 78), ("3 feet 6 inches", 42),
        ("5'-0\"", 60), ("3'", 36), ("3.5'", 42), ("3.5 ft", 42), ("3'-6 1/2\"", 42.5), ("3’-6 ½”", 42.5),
        ("3' 1/2\"", 36.5), ("36 1/2", 36.5), ("36½", 36.5), ("36-1/2\"", 36.5), ("½", 0.5), ("1⁄2", 0.5), ("42", 42),
        ("42.0", 42), ("42\"", 42), ("42”", 42), ("42''", 42), ("42 in", 42), ("42 in.", 42), ("42 Inches", 42), ("0", 0),
        (" 42\u00a0in ", 42), ("3\u00a0ft\u00a06\u202fin", 42), ("3’–6”", 42), ("\u200b42", 42), (".5", 0.5),
    ],
)  # fmt: skip
def test_feet_and_inches(text, inches):
    length = read_length(text)
    assert length.inches == inches
    assert not length.metric


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [("1067mm", 1067), ("1067 mm.", 1067), ("1.07 m", 1070), ("2 m", 2000), ("106.7 cm", 1067), ("2 metres", 2000), ("914 MM", 914)],
)  # fmt: skip
def test_metric(text, millimetres):
    length = read_length(text)
    assert length.millimetres == pytest.approx(millimetres, abs=1e-9)
    assert length.metric
    assert length.inches == pytest.approx(millimetres / 25.4)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("knee high", "holds no number"), ("N/V", "holds no number"), ("", "no length is entered"), ("  ", "no length is entered"),
        ("42-44", "range"), ("42 – 44", "range"), ("42 to 44", "range"), ("3'6\" - 3'8\"", "one length"), ("6 – 0", "range"),
        ("-3", "negative"), ("− 3 in", "negative"), ("1,07 m", "comma"), ("1,067", "comma"), ("42 lbs", "no unit of length"),
        ("3 yx", "no unit of length"), ("~42", "one length"), ("42+", "one length"), ("3 6", "one length"), ("5/0", "fraction"),
        ("36 5/4", "fraction"), ("1e3", "one length"), ("inf", "holds no number"), ("9" * 401, "too long"), ("9" * 380 + "/7", "too large"), ("9" * 380, "from 0 up"),
        ("42 in 3 ft", "one length"),
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_the_reason(text, why):
    with pytest.raises(ValueError, match=why):
        read_length(text)


def test_a_bare_number_takes_the_jobs_unit():
    assert read_length("1067", unit="mm") == Length(1067, "mm")
    assert not read_length("1067", unit="mm").unit_said
    assert read_length("42 in", unit="mm") == Length(42, "in")
    assert read_length("42 in", unit="mm").unit_said


def test_a_wrong_unit_or_number_is_an_error_that_says_which():
    with pytest.raises(ValueError, match="unit must be one of in, ft, mm, cm, m, not 'yd'"):
        read_length("42", unit="yd")
    with pytest.raises(ValueError, match="not -1"):
        Length(-1, "in")
    with pytest.raises(ValueError, match="not nan"):
        Length(float("nan"), "in")
    with pytest.raises(ValueError, match="low_in must not be above high_in"):
        likely_unit(Length(1, "in"), 5, 2)


def test_a_length_does_not_change_and_keeps_its_value_when_copied():
    length = read_length("42")
    with pytest.raises(FrozenInstanceError, match="number"):
        length.number = 3
    copy = pickle.loads(pickle.dumps(length))
    assert (copy, hash(copy), copy.unit_said) == (length, hash(length), False)


@pytest.mark.parametrize(
    ("text", "unit", "low", "high", "meant"),
    [
        ("914", "in", 12, 240, "mm"), ("4", "in", 12, 240, "ft"), ("36", "mm", 12, 240, "in"), ("1.07", "in", 24, 120, "m"),
        ("42", "in", 12, 240, None), ("1067", "mm", 12, 240, None), ("100000", "in", 12, 240, None), ("3", "mm", 24, 120, "m"),
    ],
)  # fmt: skip
def test_the_unit_that_was_meant(text, unit, low, high, meant):
    assert likely_unit(read_length(text, unit=unit), low, high) == meant


@given(LENGTH)
def test_a_written_length_reads_back_as_itself(length):
    assert read_length(write_length(length)) == length


@given(st.integers(0, 40), st.integers(0, 11), st.sampled_from(["", " 1/2", " 1/4", " 3/8", " 15/16"]))
def test_feet_inches_and_fractions_add_up(feet, inches, fraction):
    top, _, bottom = fraction.strip().partition("/")
    total = feet * 12 + inches + (int(top) / int(bottom) if bottom else 0)
    for text in (
        f"{feet}'-{inches}{fraction}\"",
        f"{feet} ft {inches}{fraction} in",
        f"{feet}’ {inches}{fraction}”",
    ):
        assert read_length(text).inches == total


def outcome(text, unit):
    """Read a text: a length, or the words of the refusal; anything else fails the test."""
    try:
        return read_length(text, unit=unit)
    except ValueError as refusal:
        return str(refusal)


@given(
    st.text(max_size=30) | st.text(alphabet="0123456789'\"/-. ½ftinm,", max_size=20), st.sampled_from(UNITS)
)
def test_any_text_is_a_length_or_a_plain_refusal(text, unit):
    found = outcome(text, unit)
    assert found.inches >= 0 if isinstance(found, Length) else len(found) > 10


@given(LENGTH)
def test_inches_and_millimetres_tell_the_same_length(length):
    assert length.millimetres == pytest.approx(length.inches * 25.4)


@pytest.mark.parametrize(
    ("text", "inches"), [("1.5 yd", 54), ("2 yards", 72), ("9 dm", 900 / 25.4), ("0.01 km", 10_000 / 25.4)]
)
def test_another_unit_of_length_is_read_through_pint(text, inches):
    # 36 in to the yard, 100 mm to the decimetre: definitions of the units.
    assert read_length(text).inches == pytest.approx(inches, rel=1e-12)


@pytest.mark.parametrize("unit", UNITS)
def test_the_exact_ratios_are_those_of_pint(unit):
    # Differential: pint carries the definitions of the units (millimetre, inch, foot) itself.
    length, said = Length(1, unit), pint.UnitRegistry().Quantity(1, {"in": "inch"}.get(unit, unit))
    assert length.inches == pytest.approx(said.to("inch").magnitude, rel=1e-14)
    assert length.millimetres == pytest.approx(said.to("millimetre").magnitude, rel=1e-14)
