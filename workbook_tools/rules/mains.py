"""Rules about a main and the enclosure that holds it.

    device-larger-than-its-enclosure    fuses or a trip larger than the switch, the frame or the bus
    main-lugs-with-a-rating             no main, and the amperes of one

Not here: the bus of a panelboard beside its main (panel_protection).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition, Paperwork
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import answer_in

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Mains"

_SWITCHES = (
    "Service disconnect",
    "Disconnect switch",
    "Enclosed circuit breaker",
    "PV disconnect",
    "Transfer switch",
)
_BOARDS = ("Switchboard", "Switchgear", "Motor control center")
"""What has a frame or a bus of its own beside the device. A generator or an inverter is no enclosure of its breaker."""

_ELSEWHERE = re.compile(
    r"\b(?:breakers?|fuses?|fused|switch(?:es)?|disconnects?|feeders?|ahead|upstream|fed (?:by|from|at)|bucket|plug|tap)\b",
    re.IGNORECASE,
)


def device_larger_than_its_enclosure(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the amperes of a main with those of the switch, the frame or the bus that it stands in."""
    for row in assessment.survey.equipment:
        device, holds = row.main_or_fuse_a, row.rating_a
        if device.value is None or holds.value is None or device.value <= holds.value:
            continue
        is_board = row.stock_kind in _BOARDS
        if not (is_board or row.stock_kind in _SWITCHES) or assessment.protective_rating(row) is not device:
            continue
        if not (
            assessment.is_plausible(device) and assessment.is_plausible(holds)
        ) or not assessment.is_in_scope(row):
            continue
        fused = row.main_device.value == "Fused switch"
        what = "fuses" if fused else "a main"
        enclosure = "bus" if is_board else "switch" if fused else "frame or enclosure"
        yield DEVICE_LARGER_THAN_ITS_ENCLOSURE.problem(
            row,
            device,
            f"{row.called} is rated {holds.value:g} A and has {what} of {device.value:g} A: more than its {enclosure} is made for "
            f"({edition(assessment)} 110.3(B)).",
            phrase=f"{what} of {device.value:g} A in equipment rated {holds.value:g} A",
            expected=f"at most {holds.value:g} A",
        )


def main_lugs_with_a_rating(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for amperes of a main where no main was recorded, and nothing says where the device is."""
    for row in assessment.survey.equipment:
        said = row.main_device.value
        if row.main_or_fuse_a.value is None or said not in ("Main lugs", "Switch without fuses"):
            continue
        if not answer_in(_ELSEWHERE, row.remarks.typed).there:
            yield MAIN_LUGS_WITH_A_RATING.problem(
                row,
                row.main_or_fuse_a,
                f"Is there a main or a set of fuses after all? Main device of {row.called} reads {said}, and "
                f"{row.main_or_fuse_a.heading} {row.main_or_fuse_a.said}; the amperes may also be those of its bus, or of a device "
                "elsewhere.",
                expected=f"no amperes beside {said}, or in Remarks where the device is",
            )


_DS1 = {"tag": "DS-1", "kind": "Disconnect switch", "main_device": "Fused switch", "rating_a": "60"}
_LP1 = {"tag": "LP-1", "kind": "Panelboard", "main_device": "Main lugs", "rating_a": "225"}

DEVICE_LARGER_THAN_ITS_ENCLOSURE = Rule(
    slug="device-larger-than-its-enclosure",
    class_="confirm",
    subject="Equipment",
    what="The fuses or the trip of a main are larger than the rating of the switch, the frame or the bus that they stand in.",
    why="The switch can carry more than it is made for without anything opening.",
    mend="Read both ratings again: Rating is that of the switch, frame or bus, Main or fuse rating that of the fuses or the trip. "
    "Where both stand, answer Tell the client.",
    source="NFPA 70 110.3(B)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician compare the fuses or the main with what the equipment is made for.",
        why="The equipment can carry more current than it is made for without anything switching it off.",
    ),
    compares="Rating of fuses and mains beside that of their enclosure",
    check=device_larger_than_its_enclosure,
    fires=as_typed(equipment=[{**_DS1, "main_or_fuse_a": "100"}]),
    passes=as_typed(equipment=[{**_DS1, "main_or_fuse_a": "60"}]),
)

MAIN_LUGS_WITH_A_RATING = Rule(
    slug="main-lugs-with-a-rating",
    class_="confirm",
    subject="Equipment",
    what="Main lugs, or a switch without fuses, are recorded beside the amperes of a main.",
    why="Whether a panel has a main of its own decides what protects it.",
    mend="Correct Main device, or leave Main or fuse rating blank; where the amperes are those of a device elsewhere, say in "
    "Remarks where it is.",
    source="common practice",
    client=Paperwork(),
    check=main_lugs_with_a_rating,
    fires=as_typed(equipment=[{**_LP1, "main_or_fuse_a": "225"}]),
    passes=as_typed(equipment=[{**_LP1, "main_device": "Main breaker", "main_or_fuse_a": "225"}]),
)

RULES = (DEVICE_LARGER_THAN_ITS_ENCLOSURE, MAIN_LUGS_WITH_A_RATING)
