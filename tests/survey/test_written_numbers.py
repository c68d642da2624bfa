"""Ratings and impedances as they stand on plates and sheets, read whole or not at all.

Spellings: common practice.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.survey.written_numbers import read_amount


@pytest.mark.parametrize(
    ("text", "kva"),
    [
        ("75", 75), ("112.5 kVA", 112.5), ("112 1/2", 112.5), ("112½ KVA", 112.5), ("37-1/2 kva", 37.5), ("1 MVA", 1000),
        ("1,500 kVA", 1500), ("500 VA", 0.5), ("75kVA 3PH", 75), ("75.0", 75), ("0.05", 0.05), ("75 k.v.a.", 75),
        ("37 – 1/2", 37.5), ("75-kVA", 75), ("112⅛", 112.125), ("7⅖ kVA", 7.4), ("75 kVA, 3 phase", 75), ("1,500 1/2", 1500.5),
    ],
)  # fmt: skip
def test_kva_as_written(text, kva):
    assert read_amount(text, "kva").number == kva


@pytest.mark.parametrize(
    ("text", "percent"),
    [
        ("5.75", 5.75), ("5.75%", 5.75), ("5.75 %Z", 5.75), ("Z = 4.2", 4.2), ("%Z 4.2", 4.2), ("IMP 3.6 %", 3.6), ("5", 5),
        ("5-3/4 %", 5.75), ("% imp. 4", 4), ("5.75 %impedance", 5.75), ("5.75 % imp.", 5.75), ("5.75% IZ", 5.75),
        ("5 pct.", 5), ("5.75 % at 75 C", 5.75), ("impedance 4", 4),
    ],
)  # fmt: skip
def test_impedance_as_written(text, percent):
    assert read_amount(text, "percent").number == percent


@pytest.mark.parametrize(
    ("text", "amps"),
    [
        ("1600", 1600), ("1600A", 1600), ("225 A", 225), ("60 amp", 60), ("60 Amps.", 60), ("1,600 A", 1600),
        ("225A 3P", 225), ("225 A/3P", 225), ("225A 4P", 225), ("225 A/4 poles", 225), ("100.0", 100), ("30 amperes", 30),
        ("225-A", 225), ("225 -amp", 225), ("22 1/2 A", 22.5), ("1,200 amps", 1200), ("400 A, 3-pole", 400),
    ],
)  # fmt: skip
def test_amperes_as_written(text, amps):
    assert read_amount(text, "amperes").number == amps


@pytest.mark.parametrize(
    ("holds", "text"),
    [
        *(("kva", text) for text in ("", "N/V", "75-112", "75 hp", "seventy", "1e3", "75/112.5", "75/100", "nan", "1-2-3/4",
                                     "112 2/1", "3/4", "112 1/0", "1,5 1/2", "75 75/45")),
        *(("percent", text) for text in ("", "N/V", "5-6", "5 ohm", "5/6")),
        *(("amperes", text) for text in ("", "N/V", "100AF/80AT", "100/80", "60 V", "sixty", "100-200", "100 480/277",
                                         "2003P", "204 P 3", "1-A-2")),
    ],
)  # fmt: skip
def test_what_is_no_one_number_is_refused(holds, text):
    with pytest.raises(ValueError, match=r"needed$"):
        read_amount(text, holds)


def test_kiloamperes_are_no_rating_in_amperes():
    # Where a rating is asked for, "65 kA" is the short-circuit rating in the wrong column.
    with pytest.raises(ValueError, match="is not in amperes"):
        read_amount("65 kA", "amperes")
    assert read_amount("65 kA", "kiloamperes").number == 65


@given(
    st.text(max_size=20) | st.text(alphabet="0123456789./,-½ kVAZ%", max_size=12),
    st.sampled_from(["kva", "percent", "amperes", "kiloamperes", "number"]),
)
def test_any_text_is_a_number_or_a_plain_refusal(text, holds):
    try:
        found = read_amount(text, holds).number
    except ValueError as refusal:
        found = str(refusal)
    assert len(found) > 10 if isinstance(found, str) else isinstance(found, float)
