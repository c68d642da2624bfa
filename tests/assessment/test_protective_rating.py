"""Which cell holds the amperes of a row's overcurrent device.

Bus and device are two ratings: a panelboard's bus may be larger than its main, a switch's frame larger than its
fuses (NFPA 70 408.36 and 430.110, from memory; common practice).
"""

import pytest

from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import assessment_of


@pytest.mark.parametrize(
    ("cells", "heading", "amps"),
    [
        ({"main_device": "Main breaker", "rating_a": "225"}, "Rating (A)", 225),
        ({"main_device": "Main breaker", "rating_a": "225", "main_or_fuse_a": "150"}, "Main or fuse rating (A)", 150),
        ({"main_device": "Main breaker", "rating_a": "225", "main_or_fuse_a": "N/A"}, "Rating (A)", 225),
        ({"main_device": "Main breaker", "rating_a": "225", "main_or_fuse_a": "N/V"}, "Main or fuse rating (A)", None),
        ({"main_device": "Main breaker"}, "Rating (A)", None),
        ({"main_device": "Fused switch", "rating_a": "200", "main_or_fuse_a": "125"}, "Main or fuse rating (A)", 125),
        ({"main_device": "Fused switch", "rating_a": "200"}, "Rating (A)", 200),
        ({"main_device": "Main lugs", "rating_a": "225"}, None, None),
        ({"main_device": "Main lugs", "rating_a": "225", "main_or_fuse_a": "150"}, None, None),
        ({"main_device": "Switch without fuses", "rating_a": "200"}, None, None),
        ({"rating_a": "225"}, None, None),
        ({"rating_a": "225", "main_or_fuse_a": "150"}, "Main or fuse rating (A)", 150),
        ({"kind": "Enclosed circuit breaker", "rating_a": "100"}, "Rating (A)", 100),
        ({"kind": "Enclosed circuit breaker", "main_device": "Switch without fuses", "rating_a": "100"}, None, None),
        ({"kind": "Disconnect switch", "rating_a": "100"}, None, None),
    ],
)  # fmt: skip
def test_the_device_has_a_rating_of_its_own(cells: dict[str, str], heading: str | None, amps: float | None):
    assessment = assessment_of(as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", **cells}]))
    found = assessment.protective_rating(assessment.survey.equipment[0])
    assert (found and found.heading, found and found.value) == (heading, amps)
