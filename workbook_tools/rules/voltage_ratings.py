"""Rules about the voltages that equipment is marked for.

    slash-rating-check             a device with a slash rating where a line is further from ground
    voltage-rating-below-system    equipment marked for less than its system's voltage

Not here: what the system is (voltage), whether it is grounded (grounding).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import VoltageRating, VoltageSystem, nominal_class
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import found_already
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Voltage ratings"

_GROUNDING_SAID = re.compile(r"corner|\bcg\b|ground|delta|Δ|∆|floating", re.IGNORECASE)
_DELTA_SAID = re.compile(r"delta|Δ|∆|ungrounded|floating", re.IGNORECASE)

WITH_BREAKERS = (
    "Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Enclosed circuit breaker",
    "Control panel",
)  # fmt: skip
"""Kinds that usually hold breakers: a slash rating is a breaker's, fuses have none (common practice)."""


def slash_rating_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare slash ratings with the volts to ground; where a system is said to be grounded otherwise, ask for the ratings."""
    unread: dict[tuple[Equipment | str | None, int], list[Equipment]] = {}
    begins = _Beginnings(assessment)
    for row in assessment.survey.equipment:
        rating = row.voltage_rating.value
        if rating is None:
            if _is_unread(assessment, row):
                if row.voltage_rating.outcome is not Outcome.BLANK:
                    yield from SLASH_RATING_CHECK.unanswered(row, row.voltage_rating)
                elif (system := assessment.own_system(row)) is not None:
                    unread.setdefault((begins.of(row), system.line_volts), []).append(row)
        elif rating.is_slash and row.stock_kind != "Transformer" and assessment.is_in_scope(row):
            yield from _slash_marked(assessment, row, rating)
    for rows in unread.values():
        yield _ratings_unread(assessment, rows)


def _is_unread(assessment: Assessment, row: Equipment) -> bool:
    """Whether the rating of a row's breakers matters and was not read."""
    return (
        row.stock_kind in WITH_BREAKERS
        and row.main_device.value != "Fused switch"
        and _said_otherwise(assessment, row)
        and not found_already(assessment, SLASH_RATING_CHECK.slug, row)
    )


def _ratings_unread(assessment: Assessment, rows: list[Equipment]) -> Problem:
    """Return the one question about all boards of a system."""
    first, said = rows[0], rows[0].voltage.said
    named = listed([row.called for row in rows[:_NAMED]])
    more = f" and {len(rows) - _NAMED} more" if len(rows) > _NAMED else ""
    are, they = ("is", "it is") if len(rows) == 1 else ("are", "they are")
    return SLASH_RATING_CHECK.problem(
        first,
        first.voltage_rating,
        f"{named}{more} {are} {said}, where a breaker with a slash rating ({_slash_of(first, assessment)}) may not serve "
        f"({edition(assessment)} 240.85); what {they} marked for was not recorded.",
        phrase=f"voltage rating not recorded{f' of {named}{more}' if len(rows) > 1 else ''} on a {said} system, where "
        "slash-rated breakers may not serve",
        action=_mend(assessment.own_system(first)),
    )


_NAMED = 12
"""So many boards are named in one question, the others counted."""


class _Beginnings:
    """Where the system of each row begins: the transformer or the name of the outside source; each way is walked once."""

    def __init__(self, assessment: Assessment) -> None:
        self._assessment = assessment
        self._known: dict[Equipment, Equipment | str | None] = {}

    def of(self, row: Equipment) -> Equipment | str | None:
        way: list[Equipment] = []
        at: Equipment | None = row
        found: Equipment | str | None = None
        while at is not None and at not in self._known and at not in way[:1]:
            way.append(at)
            self._known[at] = None  # a loop ends where it began
            feeder = self._assessment.supply.feeder(at)
            if feeder is None:
                found = next((plain(source.name) for source in self._assessment.supply.sources(at)), None)
            elif feeder.stock_kind == "Transformer":
                found, feeder = feeder, None
            at = feeder
        if at is not None:
            found = self._known[at]
        self._known.update(dict.fromkeys(way, found))
        return found


def _slash_of(row: Equipment, assessment: Assessment) -> str:
    system = assessment.own_system(row)
    return _SLASHES.get(system.line_volts, "480Y/277, 120/240") if system is not None else "480Y/277, 120/240"


_SLASHES = {240: "120/240", 480: "480Y/277", 600: "600Y/347"}
"""Slash ratings as breakers carry them, by the volts between the lines (common practice)."""


def _mend(system: VoltageSystem | None) -> str:
    """Return what to do, with the figures of the system."""
    slash = _SLASHES.get(system.line_volts) if system is not None else None
    example = (
        f": {system.line_volts} is straight, {slash} is a slash rating"
        if system is not None and slash
        else ""
    )
    return f"Read what the breakers are marked for, and write it in Voltage rating{example}."


def _slash_marked(
    assessment: Assessment, row: Equipment, rating: VoltageRating
) -> Iterator[Problem | NotChecked]:
    rule, system = SLASH_RATING_CHECK, assessment.own_system(row)
    volts = assessment.equipment(row).volts_to_ground
    if system is None or volts is None:
        yield from rule.ask(row)
    elif _serves(rating, volts) or _is_below(rating, system) or found_already(assessment, rule.slug, row):
        return  # the second is voltage-rating-below-system's
    elif not system.high_leg or row.stock_kind == "Enclosed circuit breaker" or _low_first(row, rating):
        # The placard of a high-leg board names its system, high figure first; 120/240 is what breakers are marked, and the
        # one on the high leg must be straight.
        yield rule.problem(
            row,
            row.voltage_rating,
            f"{row.called} is marked {rating}, for {rating.volts_to_ground:g} V to ground at most, and stands on a "
            f"system with {volts:g} V to ground as recorded ({edition(assessment)} 240.85).",
            phrase=f"marked {rating} on a system recorded with {volts:g} V to ground",
            expected=f"a straight rating of at least {system.line_volts} V"
            + ("" if system.high_leg else ", or another grounding of the system"),
            action=_mend(system),
        )


def _low_first(row: Equipment, rating: VoltageRating) -> bool:
    """Whether a slash rating was typed with its lower figure first, as breakers and not high-leg systems are marked."""
    first = re.search(r"\d+", row.voltage_rating.typed)
    return first is not None and rating.volts_to_ground == float(first.group())


def _serves(rating: VoltageRating, volts_to_ground: float) -> bool:
    most = rating.volts_to_ground
    return most is None or nominal_class(volts_to_ground) <= nominal_class(most)


def _is_below(rating: VoltageRating, system: VoltageSystem) -> bool:
    return nominal_class(rating.line_volts) < nominal_class(system.line_volts)


def _said_otherwise(assessment: Assessment, row: Equipment) -> bool:
    """Whether the voltage says in words that a corner is grounded, or nothing: a delta of three wires is one of both."""
    if not _GROUNDING_SAID.search(row.voltage.typed):
        return False
    system, volts = assessment.own_system(row), assessment.equipment(row).volts_to_ground
    if system is None or "one corner" in system.grounding:
        return system is not None
    bare = not system.has_neutral and volts is not None and volts >= system.line_volts
    return bare and _DELTA_SAID.search(row.voltage.typed) is not None


def voltage_rating_below_system(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what equipment is marked for with the voltage of its system, line to line."""
    for row in assessment.survey.equipment:
        rating, system = row.voltage_rating.value, assessment.own_system(row)
        if rating is None or row.stock_kind == "Transformer" or not assessment.is_in_scope(row):
            continue
        if system is None:
            yield from VOLTAGE_RATING_BELOW_SYSTEM.ask(row)
        elif _is_below(rating, system):
            yield VOLTAGE_RATING_BELOW_SYSTEM.problem(
                row,
                row.voltage_rating,
                f"{row.called} is marked for {rating} V and is recorded on {system.name} ({edition(assessment)} 110.4).",
                phrase=f"marked for {rating} V, recorded on {system.name}",
                expected=f"at least {system.line_volts} V",
            )


_CORNER = {"voltage": "480 corner grounded", "phase": "3", "wires": "3"}

SLASH_RATING_CHECK = Rule(
    slug="slash-rating-check",
    class_="confirm",
    subject="Equipment",
    what="A device marked with a slash rating stands on a system with more volts to ground than its lower figure, or a "
    "system is said to be corner-grounded or ungrounded and the rating of its breakers was not recorded.",
    why="One pole may have to break the full voltage between the lines, and a slash-rated breaker is not made for that.",
    mend="Read what the breakers are marked for, and write it in Voltage rating: 480 or 240 is straight, 480Y/277 or 120/240 a "
    "slash rating.",
    source="NFPA 70 240.85",
    needs=(Equipment.voltage,),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.OFF, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer compare the breakers with the grounding of the system.",
        why="A breaker may fail to clear a fault that it is not made for.",
    ),
    compares="Slash ratings beside the grounding of the system",
    check=slash_rating_check,
    fires=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard", **_CORNER, "voltage_rating": "480Y/277"}]
    ),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", **_CORNER, "voltage_rating": "480"}]),
)

VOLTAGE_RATING_BELOW_SYSTEM = Rule(
    slug="voltage-rating-below-system",
    class_="confirm",
    subject="Equipment",
    what="The equipment is marked for a lower voltage than that of the system it is recorded on.",
    why="Its insulation and its contacts are not made for that voltage.",
    mend="Read both again: Voltage is the system's, Voltage rating what the equipment is marked for. Where both stand, answer Tell the client.",
    source="NFPA 70 110.4",
    needs=(Equipment.voltage,),
    client=Condition(work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE), do="Have a licensed electrician compare the marking with the voltage that is there.",
        why="Equipment on a higher voltage than it is made for can fail when it is switched.",),
    compares="Voltage that equipment is marked for beside the system's",
    check=voltage_rating_below_system,
    fires=as_typed(
        equipment=[
            {"tag": "DS-1", "kind": "Disconnect switch", "voltage": "480Y/277", "phase": "3", "wires": "4", "voltage_rating": "240"}
        ]
    ),
    passes=as_typed(
        equipment=[
            {"tag": "DS-1", "kind": "Disconnect switch", "voltage": "208Y/120", "phase": "3", "wires": "4", "voltage_rating": "240"}
        ]
    ),
)  # fmt: skip

RULES = (SLASH_RATING_CHECK, VOLTAGE_RATING_BELOW_SYSTEM)
