"""How the client reads what a rule found.

    phrase(problem, row, assessment)   "depth in front 38 in where 42 in is needed"
    why(problem)                       why it matters to the owner
    action(problem, template)          what to do, addressed to the owner
    remark(problem, row, assessment)   a note about one piece: "A sprinkler is above it: ..."
    kind_of(problem)                   CONDITION, LIMIT or PAPERWORK

What the rules say themselves is addressed to the inspector ("measure again"). A rule that has
no phrase here is told by its own message.

Not here: findings (sentences); whether a problem goes out at all (delivery).
"""

from __future__ import annotations

import re
from collections.abc import Callable

from workbook_tools.assessment import Assessment, Comparison
from workbook_tools.definitions import Template
from workbook_tools.rules import catalogue
from workbook_tools.rules.causes import either, length_as_read, needed_figure
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.plain_english import in_words, inside, sentence
from workbook_tools.survey.model import Row

__all__ = [
    "ABOUT_THE_FILE",
    "CONDITION",
    "LIMIT",
    "PAPERWORK",
    "PHRASES",
    "REMARKS",
    "action",
    "kind_of",
    "phrase",
    "remark",
    "why",
]

CONDITION, LIMIT, PAPERWORK = "condition", "limit", "paperwork"

_LIMITS = (
    "not-visible", "room-not-entered", "outside-scope-item", "touch-test-not-recorded", "no-clearance-record",
    "ground-fault-protection-not-recorded", "impedance-not-recorded", "photo-missing", "transfer-switch-one-source",
)  # fmt: skip
"""What these found was not looked at, or not recorded: it stands among the limits of the survey."""

ABOUT_THE_FILE = (
    "finding-without-photo", "finding-not-in-library", "nameplate-photo-missing", "photo-unused", "formula-overtyped",
)  # fmt: skip
"""Questions that are the firm's own: the client gains nothing from them."""

_PAPERWORK = (
    *ABOUT_THE_FILE, "read-with-doubt", "rating-not-standard", "kva-not-standard", "voltage-not-recognized", "finding-disagrees", "implausible-value", "unit-suspect", "sprinkler-above", "isolation-transformer",
    "high-leg-present", "condition-without-finding", "serves-disagrees",
)  # fmt: skip
"""An answered question about the workbook, or a remark that stands beside the figures: no condition of the property."""

DIRECTORY = "Circuit directory recorded as"

REMARKS = ("high-leg-present", "isolation-transformer", "sprinkler-above", "condition-without-finding")
"""Notes that stand beside the equipment, after its issues."""

_ELECTRICIAN = "Have a licensed electrician look at it and say what is there."

_ACTIONS = {
    "short-circuit-rating-low": "Keep the covers closed and people away; have a licensed electrical engineer study the "
    "fault current and the rating.",
    "second-entrance-check": "Have a licensed electrical engineer and the local authority look at the ways out.",
    "secondary-protection-check": "Have a licensed electrician compare the protection with the transformer's nameplate.",
    "voltage-differs-from-source": _ELECTRICIAN,
    "phase-exceeds-source": _ELECTRICIAN,
    "neutral-not-supplied": _ELECTRICIAN,
    "transformer-primary-mismatch": "Have a licensed electrician compare nameplate, taps and supply.",
    "transformer-secondary-mismatch": "Have a licensed electrician compare nameplate, taps and loads.",
    "pv-disconnect-not-recorded": "Ask the photovoltaic installer where the supply is cut off from the building, and have it "
    "marked.",
    "no-service-disconnect": "Ask the utility or a licensed electrician where the building is switched off, and have it "
    "marked.",
}


def why(problem: Problem) -> str:
    """Return why it matters: the rule's own reason, or one addressed to the owner where that speaks of the workbook."""
    rule = catalogue().get(problem.rule)
    return _WHYS.get(problem.rule) or (rule.why if rule is not None else "")


def remark(problem: Problem, row: Row, assessment: Assessment) -> str:
    """Return what a note says about the equipment of a row."""
    if row.key == "rooms":
        return "No working light over the equipment was recorded."
    if problem.rule == "condition-without-finding":
        return sentence(f"{DIRECTORY} {str(row.get('circuit_directory') or '').lower()}")
    system = assessment.equipment(row).system
    if problem.rule == "high-leg-present" and system is not None:
        return (
            f"One conductor (phase B) is a high leg, {system.volts_to_ground} V to ground; the others have "
            f"{system.neutral_volts} V."
        )
    return sentence(problem.message)


_DIFFERS = (
    "Something between the two was not seen, or one of them is not what it seems: an electrician can tell."
)

_WHYS = {
    "voltage-differs-from-source": _DIFFERS,
    "phase-exceeds-source": _DIFFERS,
    "neutral-not-supplied": _DIFFERS,
    "transformer-primary-mismatch": "A transformer on another voltage than its own gives wrong voltages or overheats.",
    "transformer-secondary-mismatch": _DIFFERS,
    "no-service-disconnect": "In an emergency somebody must know where the building is shut off.",
    "pv-disconnect-not-recorded": "Whoever shuts the building down must know where the photovoltaic supply is cut off.",
    "hand-motions-over-six": "In an emergency the building may not be shut off in time, or not completely.",
    "secondary-protection-check": "The transformer can be overloaded without anything switching it off.",
    "short-circuit-rating-low": "In a fault, equipment that has to withstand more than it is marked for can burst.",
    "working-depth-short": "Somebody who has to work on it while it is live has no room to step back.",
    "working-height-short": "Whoever works on it bumps their head, or stands bent beside live parts.",
    "door-swing-limited": "A half-open door is in the way of the work and of escape.",
    "front-projection-over": "It keeps whoever works there at arm's length from the equipment, and people can trip over it.",
    "second-entrance-check": "A flash at the equipment can cut off the only way out.",
    "dedicated-space-obstructed": "Whatever leaks or falls from it ends up in live equipment.",
    "working-space-storage": "It slows down shutting off in an emergency, blocks the way out, and can burn.",
}


def kind_of(problem: Problem) -> str:
    """Return whether a problem is a condition of the property, a limit of the survey, or neither."""
    if problem.class_ == "report":
        return CONDITION
    if problem.rule in _LIMITS:
        return LIMIT
    return PAPERWORK if problem.rule in _PAPERWORK or problem.class_ in ("correct", "note") else CONDITION


def action(problem: Problem, template: Template) -> str:
    """Return what the owner is to do: the library's action for the same cause, or the rule's own."""
    for entry in template.findings:
        if problem.rule in entry.disagrees_with:
            return entry.action
    return _ACTIONS.get(problem.rule, _ELECTRICIAN)


def phrase(problem: Problem, row: Row, assessment: Assessment) -> str:
    """Return what a problem says inside a sentence, without a full stop.

    `row` is the row of the survey that the problem stands in.
    """
    words = PHRASES.get(problem.rule)
    return (words(problem, row, assessment) if words is not None else "") or _own_words(problem)


def _own_words(problem: Problem) -> str:
    """Return the rule's message without its section in brackets."""
    return inside(
        re.sub(r"\s*\([^()]*\d{3}\.\d+(?:\([^()]*\))*[^()]*\)", "", problem.message),
        {problem.subject.casefold()},
    )


def _compared(name: str, field: str, words: str) -> Callable[[Problem, Row, Assessment], str]:
    def say(_problem: Problem, row: Row, assessment: Assessment) -> str:
        found: Comparison | None = getattr(assessment.clearance(row), name)
        if found is None:
            return ""
        needed = needed_figure(found.needed, found.measured)
        if found.needed.own:
            own = length_as_read(row, "equipment_width")
            return f"{words} {length_as_read(row, field)} where the equipment itself is {own} wide"
        return f"{words} {length_as_read(row, field)} where {needed} is needed"

    return say


def _door(_problem: Problem, _row: Row, assessment: Assessment) -> str:
    return f"door does not open {assessment.profile.door_opening_degrees:g} degrees"


def _projection(_problem: Problem, row: Row, assessment: Assessment) -> str:
    found = assessment.clearance(row).projection
    if found is None:
        return ""
    most = needed_figure(found.needed, found.measured)
    return f"something above or below sticks out {length_as_read(row, 'front_projection')} past the front, where {most} is the most"


def _items(row: Row, field: str, leave: tuple[str, ...], instead: str) -> str:
    items = [item for item in row.get(field) or () if item not in leave]
    return (
        either([item.lower() if item[1:].islower() else item for item in items], "and") if items else instead
    )


def _above(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"{_items(row, 'items_above', ('None', 'Sprinkler only'), 'something foreign')} in the dedicated space above"


def _storage(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"{_items(row, 'items_in_space', ('None',), 'storage')} in the working space"


def _motions(problem: Problem, _row: Row, assessment: Assessment) -> str:
    count = in_words(int(problem.read)) if problem.read.isdigit() else problem.read
    return f"{count} motions of the hand are needed to shut off the service, where {in_words(assessment.profile.hand_motions)} is the most"


def _rating_low(_problem: Problem, row: Row, assessment: Assessment) -> str:
    marked = row.get("short_circuit_rating_ka")
    behind = [
        (source.rows[0], assessment.plate(source.rows[0]))
        for source in assessment.sources(row)
        if source.rows
    ]
    for transformer, plate in behind:
        highest = assessment.transformer(plate).highest_fault_ka if plate is not None else None
        if highest is not None and marked is not None and highest > marked:
            return (
                f"short-circuit rating of {marked:g} kA where up to {highest:.1f} kA (an upper bound) can flow from "
                f"{transformer.subject}"
            )
    return ""


def _entrances(_problem: Problem, _row: Row, _assessment: Assessment) -> str:
    return "only one way out was recorded from a room with equipment this large"


def _protection(problem: Problem, _row: Row, _assessment: Assessment) -> str:
    return f"first main on the secondary is {problem.read} where the table gives {problem.expected}"


def _sources(row: Row) -> str:
    return either([str(name) for name in row.get("fed_from") or ()] or ["its source"], "and")


def _other_voltage(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return (
        f"recorded with {row['voltage'].typed.strip()} V but fed from {_sources(row)}, which has another voltage, with no "
        "transformer recorded between"
    )


def _phase_exceeds(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"three-phase equipment recorded on a single-phase source, {_sources(row)}"


def _no_neutral(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"recorded with a neutral but fed from {_sources(row)}, which has none"


def _primary(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"primary of {row['primary_v'].typed.strip()} V on a source with another voltage"


def _secondary(_problem: Problem, row: Row, _assessment: Assessment) -> str:
    return f"secondary of {row['secondary_v'].typed.strip()} V where what it feeds is recorded with another voltage"


def _no_pv_disconnect(_problem: Problem, _row: Row, _assessment: Assessment) -> str:
    return "no photovoltaic disconnect found"


def _no_service_disconnect(_problem: Problem, _row: Row, _assessment: Assessment) -> str:
    return "no service disconnect found in the building"


def _alerted(_problem: Problem, _row: Row, _assessment: Assessment) -> str:
    return "a non-contact voltage tester alerted at the enclosure, so its metal may be live"


PHRASES: dict[str, Callable[[Problem, Row, Assessment], str]] = {
    "working-depth-short": _compared("depth", "depth", "depth in front"),
    "working-width-short": _compared("width", "width", "width in front"),
    "working-height-short": _compared("height", "height", "headroom"),
    "door-swing-limited": _door,
    "front-projection-over": _projection,
    "dedicated-space-obstructed": _above,
    "working-space-storage": _storage,
    "hand-motions-over-six": _motions,
    "short-circuit-rating-low": _rating_low,
    "touch-test-alerted": _alerted,
    "second-entrance-check": _entrances,
    "secondary-protection-check": _protection,
    "voltage-differs-from-source": _other_voltage,
    "phase-exceeds-source": _phase_exceeds,
    "neutral-not-supplied": _no_neutral,
    "transformer-primary-mismatch": _primary,
    "transformer-secondary-mismatch": _secondary,
    "pv-disconnect-not-recorded": _no_pv_disconnect,
    "no-service-disconnect": _no_service_disconnect,
}
