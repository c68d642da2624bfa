"""The voltage that equipment is marked for: a plain rating, a slash rating, or no rating at all.

What a slash rating is: NFPA 70 240.85 (from memory). The texts are as labels and lists write them, common practice.
"""

import pytest

from workbook_tools.electrical import VoltageRating, read_voltage_rating


@pytest.mark.parametrize(
    ("text", "rating"),
    [
        ("600", VoltageRating(600)), ("600 V", VoltageRating(600)), ("600VAC", VoltageRating(600)), ("600 V max.", VoltageRating(600)),
        ("250", VoltageRating(250)), ("250 VDC", VoltageRating(250)), ("600VAC 250VDC", VoltageRating(600)), ("600 V AC / 250 V DC", VoltageRating(600)),
        ("15 kV", VoltageRating(15000)), ("480Y/277", VoltageRating(480, 277)), ("277/480", VoltageRating(480, 277)), ("480/277V", VoltageRating(480, 277)),
        ("480Y/277V 3PH 4W", VoltageRating(480, 277)), ("600Y/347", VoltageRating(600, 347)), ("1000Y/577", VoltageRating(1000, 577)),
        ("120/240", VoltageRating(240, 120)), ("240/120 V", VoltageRating(240, 120)), ("208Y/120", VoltageRating(208, 120)), ("600 V 60 Hz", None),
        ("100-277 V", None), ("240/600", None), ("480/240/120", None), ("twelve", None), ("22 kA", None), ("5", None), ("600 A", None), ("1e9", None),
    ],
)  # fmt: skip
def test_a_rating_is_plain_or_slash_or_none(text: str, rating: VoltageRating | None):
    if rating is None:
        with pytest.raises(ValueError, match=r"a rating like 600, 250, 480Y/277 or 120/240 is needed"):
            read_voltage_rating(text)
    else:
        assert read_voltage_rating(text) == rating


@pytest.mark.parametrize("marked", ["600", "480Y/277", "120/240", "208Y/120", "600Y/347"])
def test_a_rating_is_written_as_it_is_marked(marked: str):
    assert str(read_voltage_rating(marked)) == marked
    assert read_voltage_rating(marked).is_slash == ("/" in marked)
