"""How the ratings of one piece of equipment read on paper."""

import pytest

from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import assessment_of
from workbook_tools.schedule.equipment_texts import rating


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"rating_a": "400"}, "400 A"),
        ({"rating_a": "400", "main_or_fuse_a": "400"}, "400 A"),
        ({"rating_a": "400", "main_or_fuse_a": "225", "main_device": "Main breaker"}, "400 A, main 225 A"),
        ({"rating_a": "200", "main_or_fuse_a": "125", "main_device": "Fused switch"}, "200 A, fuses 125 A"),
        ({"rating_a": "N/V", "main_or_fuse_a": "125"}, "not visible, main 125 A"),
        ({"rating_a": "400", "main_or_fuse_a": "N/V"}, "400 A"),
    ],
)
def test_the_main_stands_beside_the_bus_where_it_is_another(cells: dict[str, str], said: str):
    assessment = assessment_of(as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", **cells}]))
    assert rating(assessment.survey.equipment[0], assessment) == said
