"""The words that trade people type: what each choice is called on a phone, and what no word may be taken for.

The spellings are common practice. A word that could mean two choices stands in ASKED: it must spell none.
"""

import pytest

from workbook_tools.definitions import Choice, Vocabulary, load_template, stock_templates
from workbook_tools.electrical import KINDS

OFFICE = load_template("office")

SPELLED = {
    "kind": {
        "Service disconnect": "main disc | svc disc | Main Switch",
        "Switchboard": "swbd | MSB | switch board",
        "Switchgear": "switchgear | swgr | sw gear",
        "Panelboard": "dist panel | pnl | ltg panel | load center | breaker box",
        "Transformer": "xfmr | dry xfmr | padmount",
        "Disconnect switch": "fused sw | disc | safety sw | nf disc",
        "Enclosed circuit breaker": "encl cb | enclosed bkr",
        "Transfer switch": "ATS | xfer switch | mts",
        "Meter center": "meter stack | meter can",
        "CT cabinet": "ct cabinet | CT can | current transformer cabinet",
        "Busway": "bus duct | buss duct",
        "EV charging equipment": "ev charger | EVSE",
    },
    "opposite_side": {
        "Clear": "nothing | gyp bd | drywall | condition 1 | open space",
        "Grounded": "conc | block | brick | cmu | conc block wall | tile | gnd | condition 2",
        "Live parts": "live | exposed bus | condition 3",
    },
    "main_device": {
        "Main breaker": "mcb | MCCB | main bkr",
        "Main lugs": "mlo | MLO. | main lugs only",
        "Fused switch": "fused sw | fuses | fusible sw",
        "Switch without fuses": "nf switch | no fuses | unfused sw",
    },
    "touch_test": {
        "No alert": "no beep | quiet | didn't alert | no voltage detected",
        "ALERTED": "beeped | went off | hot",
        "Not touched": "not tested | didn't touch",
    },
    "access": {
        "Entered": "went in | yes",
        "Seen from the door": "from doorway | looked in",
        "Locked": "no key | door locked",
        "Refused": "tenant refused",
        "Unsafe to enter": "standing water",
    },
    "circuit_directory": {"Present": "typed", "Missing": "not filled out", "Outdated": "wrong", "Unreadable": "can't read"},
    "door_hardware": {"Panic hardware": "crash bar | panic bars", "No latch": "push plate", "Lever or knob": "door lever"},
    "wiring_method": {"EMT": "emt pipe", "Rigid conduit": "grc", "PVC conduit": "sch 40 pvc", "Flexible metal conduit": "flex"},
    "marked_direction": {"Step-down": "step dn", "Step-up": "step up", "Not marked": "no label"},
    "priority": {"Act now": "asap", "Correct soon": "med", "Upkeep": "maint", "Record": "fyi"},
    "yes_no": {"Yes": "yep", "No": "nope"},
    "open_above": {"Structure": "to deck | slab"},
    "front_projection": {"0": "none | flush"},
}  # fmt: skip

ASKED = {
    "kind": (
        "bus plug",
        "meter main",
        "main breaker",
        "gear",
        "mdp",
        "elevator panel",
        "switch",
        "step-up transformer",
        "ct",
    ),
    "opposite_side": (
        "other gear",
        "panel",
        "another panel",
        "wall",
        "fence",
        "glass",
        "pipe",
        "not grounded",
        "door",
    ),
    "main_device": ("main", "switch", "bolted pressure switch"),
    "touch_test": ("tested", "yes", "no", "clear", "dead", "done", "safe", "not live"),
    "access": ("limited", "safe", "window", "not entered"),
    "circuit_directory": ("handwritten", "see remarks"),
    "door_hardware": ("none", "magnetic lock", "pull handle"),
    "open_above": ("clear", "open", "ceiling tiles"),
}
"""Words that could mean two choices; some of them are of life and limb."""


@pytest.mark.parametrize(
    ("vocabulary", "name", "typed"),
    [(v, name, text) for v, names in SPELLED.items() for name, texts in names.items() for text in texts.split(" | ")],
)  # fmt: skip
def test_what_trade_people_type_is_known(vocabulary: str, name: str, typed: str):
    found = OFFICE.vocabularies[vocabulary].find(typed)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize(("vocabulary", "typed"), [(v, text) for v, texts in ASKED.items() for text in texts])
def test_what_could_mean_two_choices_is_asked_about(vocabulary: str, typed: str):
    assert OFFICE.vocabularies[vocabulary].find(typed) is None
    assert OFFICE.vocabularies[vocabulary].nearest(typed) is None


@pytest.mark.parametrize("name", sorted(stock_templates()))
def test_the_kinds_of_a_stock_template_are_known_to_the_tool_or_like_one_that_is(name: str):
    kinds = load_template(name).vocabularies["kind"].choices
    assert [kind.name for kind in kinds if (kind.like or kind.name) not in KINDS] == []
    assert set(KINDS) <= {kind.name for kind in kinds}


# -- the nearest choice


@pytest.mark.parametrize(
    ("vocabulary", "typed", "nearest"),
    [
        ("kind", "Panelbord", "Panelboard"),
        ("kind", "panelbaord", "Panelboard"),
        ("kind", "swithgear", "Switchgear"),
        ("kind", "disconnet swich", "Disconnect switch"),
        ("opposite_side", "grownded", "Grounded"),
        ("opposite_side", "ungrouded", "Clear"),
        ("opposite_side", "brik", "Grounded"),
        ("opposite_side", "live prts", "Live parts"),
        ("main_device", "unfusd switch", "Switch without fuses"),
        ("touch_test", "alrt", "ALERTED"),
        ("access", "inaccesible", "Locked"),
        # As near to a choice that it would be dangerous to take it for, turned round by what stands before, or far.
        ("opposite_side", "ngrounded", None),
        ("opposite_side", "no live parts", None),
        ("touch_test", "did alert", None),
        ("touch_test", "n alert", None),
        ("access", "unentered", None),
        ("access", "unaccessible", None),
        ("main_device", "mco", None),
        ("kind", "transformer switch", None),
        ("kind", "", None),
    ],
)
def test_the_nearest_choice_is_a_slip_away_and_no_other_is_as_near(
    vocabulary: str, typed: str, nearest: str | None
):
    assert OFFICE.vocabularies[vocabulary].nearest(typed) == nearest


def test_no_choice_is_suggested_between_two_of_one_slip():
    two = Vocabulary("side", (Choice("Grounded"), Choice("Bounded")))
    assert two.nearest("Groundd") == "Grounded"
    assert two.nearest("Bgounded") is None


@pytest.mark.parametrize("name", sorted(stock_templates()))
def test_a_slip_in_the_name_of_a_choice_never_suggests_another(name: str):
    for vocabulary in load_template(name).vocabularies.values():
        for choice in vocabulary.choices:
            for place in range(len(choice.name)):
                typed = choice.name[:place] + choice.name[place + 1 :]
                if vocabulary.find(typed) is None:
                    assert vocabulary.nearest(typed) in (None, choice.name), typed
