"""What the cards say to the client: who mends a condition, under which heading a limit stands, and what stays inside."""

import pytest

from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition, Limit, Paperwork, Remark

WHO_MENDS = {
    "no-service-disconnect": "the utility, or a licensed electrician",
    "hand-motions-over-six": "licensed electrician",
    "voltage-differs-from-source": "licensed electrician",
    "phase-exceeds-source": "licensed electrician",
    "neutral-not-supplied": "licensed electrician",
    "pv-disconnect-not-recorded": "photovoltaic installer",
    "transformer-primary-mismatch": "licensed electrician",
    "transformer-secondary-mismatch": "licensed electrician",
    "secondary-protection-check": "licensed electrician",
    "short-circuit-rating-low": "licensed electrical engineer",
    "working-depth-short": "licensed electrician",
    "working-width-short": "licensed electrician",
    "working-height-short": "licensed electrician",
    "door-swing-limited": "licensed electrician",
    "front-projection-over": "licensed electrician",
    "dedicated-space-obstructed": "licensed electrician",
    "working-space-storage": "the owner's own people",
    "second-entrance-check": "licensed electrical engineer",
    "touch-test-alerted": "licensed electrician",
}
LIMITS = {
    "not-visible": "Could not be seen",
    "room-not-entered": "Rooms not entered",
    "outside-scope-item": "Recorded, not inspected",
    "no-clearance-record": "Not recorded",
    "ground-fault-protection-not-recorded": "Not recorded",
    "transfer-switch-one-source": "Not recorded",
    "impedance-not-recorded": "Not recorded",
    "touch-test-not-recorded": "Not recorded",
    "photo-missing": "Not recorded",
}
BESIDE_THE_EQUIPMENT = {
    "high-leg-present": False,
    "isolation-transformer": False,
    "sprinkler-above": False,
    "condition-without-finding": True,
}
FIRMS_OWN = {
    "formula-overtyped", "nameplate-photo-missing", "finding-not-in-library", "finding-without-photo", "photo-unused",
}  # fmt: skip


def test_every_condition_names_who_mends_it():
    cards = {slug: rule.client for slug, rule in catalogue().items()}
    assert {
        slug: card.trade.value for slug, card in cards.items() if isinstance(card, Condition)
    } == WHO_MENDS


def test_every_limit_stands_under_its_heading():
    cards = {slug: rule.client for slug, rule in catalogue().items()}
    assert {slug: card.group.value for slug, card in cards.items() if isinstance(card, Limit)} == LIMITS


def test_of_the_remarks_only_a_condition_that_no_finding_speaks_of_is_an_issue():
    cards = {slug: rule.client for slug, rule in catalogue().items()}
    found = {slug: card.an_issue for slug, card in cards.items() if isinstance(card, Remark)}
    assert found == BESIDE_THE_EQUIPMENT


def test_what_is_the_firms_own_never_reaches_the_client():
    cards = {slug: rule.client for slug, rule in catalogue().items()}
    assert {
        slug for slug, card in cards.items() if isinstance(card, Paperwork) and card.firms_own
    } == FIRMS_OWN


def test_only_metal_that_may_be_live_is_marked_so():
    live = [
        s for s, rule in catalogue().items() if isinstance(rule.client, Condition) and rule.client.may_be_live
    ]
    assert live == ["touch-test-alerted"]


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
    assert Condition().do == "Have a licensed electrician look at it and say what is there."
    assert (Condition().trade.value, Condition().measures, Condition().too) == (
        "licensed electrician", (), "too small",
    )  # fmt: skip
    assert (Condition().why, Condition().in_short, Condition().may_be_live) == ("", "", False)
    assert (Limit().group.value, Limit().one, Limit().many) == ("Not recorded", "", "")


COMPARED = {
    "hand-motions-over-six": "Number of hand motions to shut off the service",
    "voltage-differs-from-source": "Voltage beside that of the source",
    "phase-exceeds-source": "Phases beside those of the source",
    "neutral-not-supplied": "Neutral beside that of the source",
    "transformer-primary-mismatch": "Primary voltage beside that of the source",
    "transformer-secondary-mismatch": "Secondary voltage beside that of the loads",
    "secondary-protection-check": "Protection on the secondary of transformers",
    "short-circuit-rating-low": "Short-circuit rating beside the highest fault current",
    "working-depth-short": "Depth of the working space",
    "working-width-short": "Width of the working space",
    "working-height-short": "Headroom of the working space",
    "door-swing-limited": "Opening of the doors of the equipment",
    "front-projection-over": "Things that stand out past the front",
    "dedicated-space-obstructed": "Dedicated space above the equipment",
    "working-space-storage": "Things stored in the working space",
    "second-entrance-check": "Ways out of rooms with large equipment",
}


def test_what_a_rule_compares_is_said_in_the_clients_words():
    assert {slug: rule.compares for slug, rule in catalogue().items() if rule.compares} == COMPARED
