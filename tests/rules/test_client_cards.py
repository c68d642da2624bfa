"""What a card says to the client beyond the catalogue page: which lengths it judges, and what a card says that says nothing."""

import pytest

from workbook_tools.definitions.work import USUAL
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition, Limit


@pytest.mark.parametrize(
    ("slug", "length", "too"),
    [
        ("working-depth-short", "depth", "too small"),
        ("working-width-short", "width", "too small"),
        ("working-height-short", "height", "too small"),
        ("front-projection-over", "front_projection", "too large"),
    ],
)
def test_a_measured_length_is_too_small_or_too_large(slug: str, length: str, too: str):
    card = catalogue()[slug].client
    assert isinstance(card, Condition)
    assert ([field.name for field in card.measures], card.too) == ([length], too)


def test_a_condition_without_words_of_its_own_is_looked_at_by_an_electrician():
    card = Condition(work=USUAL)
    assert card.do == "Have a licensed electrician look at it and say what is there."
    assert (card.measures, card.too, card.why, card.in_short) == ((), "too small", "", "")
    assert not card.may_be_live
    assert not card.switching_off
    assert (USUAL.trade.value, USUAL.power.value) == ("licensed electrician", "decided on site")
    assert (USUAL.effort.value, USUAL.danger.rank, USUAL.ladder) == ("one visit", 0, False)
    assert (Limit().group.value, Limit().one, Limit().many) == ("Not recorded", "", "")
