"""The words that the schedule uses, each with its meaning in plain English.

    words_used(text)    those terms that occur in the text, and the priorities
    PRIORITY_MEANINGS   what each priority means, PRIORITY_NOTE whose judgment it is

The meanings are our own wording of common practice; none of them is a definition of a code.
"""

from __future__ import annotations

import re

__all__ = ["PRIORITY_MEANINGS", "PRIORITY_NOTE", "words_used"]

PRIORITY_MEANINGS = (
    (
        "Act now",
        "Someone could be hurt or a fire could start: keep people away and call for it today, before anything else.",
    ),
    (
        "Correct soon",
        "A protective feature is missing or damage is growing: arrange a qualified repair next, ahead of maintenance.",
    ),
    ("Upkeep", "To be mended in ordinary maintenance, the next time that a contractor is there."),
    ("Record", "No action now; noted so that the file is complete."),
)

PRIORITY_NOTE = "the surveyor's judgment of what was seen; no code sets these times"

_TERMS = (
    ("service disconnect", "The switch or breaker that shuts off the building, or a part of it, from the utility."),
    ("motion of the hand", "One movement of a handle. How many it takes to shut off everything counts in an emergency."),
    ("switchboard", "A large board that divides the power of the building among smaller ones."),
    ("panelboard", "A wall cabinet with the breakers of the final circuits."),
    ("motor control center", "A row of cabinets that hold the switches and starters of motors."),
    ("transformer", "Changes one voltage into another. Its primary side is fed, its secondary side feeds."),
    ("transfer switch", "Moves its loads from one source to another, mostly from the utility to a generator."),
    ("inverter", "Turns the direct current of a photovoltaic array into alternating current."),
    ("fused switch", "A switch with a fuse for each line. It shuts off by hand; the fuses act by themselves in a fault."),
    ("main breaker", "A breaker that shuts off the whole board it sits in."),
    ("main lugs", "The feeder ends on bare terminals: the board is shut off upstream, not at the board."),
    ("pv", "Photovoltaic: solar panels (the array) and what belongs to them."),
    ("photovoltaic array", "The solar panels. By daylight they and their wires are live; no switch in the building changes that."),
    ("kva", "Kilovolt-amperes, the size of a transformer: how much it can carry."),
    ("ka", "Kiloamperes, 1000 A each; the measure of fault currents."),
    ("nfpa 70", "The National Electrical Code; its sections are named so that an electrician can look them up."),
    ("29 cfr 1910", "The federal rules for the safety of workplaces (OSHA)."),
    ("3-phase", "Three voltages that take turns; large motors and boards use it. 1-phase serves small loads."),
    ("4-wire", "Wires that carry current in use, the neutral counted, the ground not."),
    ("delta", "Windings joined in a ring, mostly without a neutral. Wye: joined at one point, the neutral, which is grounded."),
    ("volts to ground", "Voltage between a live part and the ground or a grounded wall; it decides the depth needed in front."),
    ("working space", "The clear space in front of equipment that a person needs to work on it and to step back from it."),
    ("dedicated space", "The space above and below equipment that is kept free of pipes, ducts and other foreign items."),
    ("opposite side", "What stands across the working space: clear, grounded (concrete, brick and tile count) or live parts."),
    ("short-circuit rating", "The largest fault current that the equipment withstands, as marked by its maker, in kA."),
    ("fault current", "The current that flows when conductors touch each other or ground."),
    ("full load", "The current at the rated load, computed from the nameplate."),
    ("highest fault current", "What a transformer alone can send into a fault; what flows may be less, and motors add to it."),
    ("impedance", "A figure of the nameplate that limits the fault current, in percent."),
    ("ratio", "Primary voltage over secondary voltage, line to line."),
    ("step-down", "From a higher voltage to a lower one; step-up the other way; isolation keeps the voltage."),
    ("high leg", "One of three conductors that has a higher voltage to ground than the two others."),
    ("circuit directory", "The list on the door that says what each breaker serves."),
    ("dead-front", "The inner cover that keeps hands away from live parts."),
    ("knockout", "A round opening for a conduit; a plug or a plate closes an unused one."),
    ("filler plate", "A small cover that closes an unused place for a breaker."),
    ("arc-flash", "A violent burst of heat from an electric arc."),
    ("non-contact", "A pocket tester that alerts near an alternating voltage, never near direct current. Silent, it proves nothing dead."),
    ("emt", "Electrical metallic tubing, a thin steel or aluminum conduit."),
    ("raceway", "A tube or duct for wires, such as a conduit."),
    ("bonding", "Joining metal parts by a conductor, so that a fault switches the supply off."),
    ("planned shutdown", "Work with the board off, announced beforehand. One visit: done when the trade comes, with what is needed switched off."),
    ("engineer first", "Somebody has to work out what is to be done before it can be quoted."),
    ("busway", "Bars in a metal duct that carry large currents in place of cables."),
)  # fmt: skip

_ALWAYS = (
    ("not visible", "Nobody could see it without opening, moving or touching something."),
    ("-", "Does not apply."),
)


_AS_WRITTEN = {
    "emt": "EMT",
    "pv": "PV",
    "kva": "kVA",
    "ka": "kA",
    "nfpa 70": "NFPA 70",
    "29 cfr 1910": "29 CFR 1910",
}
"""Terms with letters that stay as they are; the short ones of them are found as whole words."""

_WYE = re.compile(r"\b(\d+)y/(\d+)\b")


def words_used(text: str) -> tuple[tuple[str, str], ...]:
    """Return the terms that occur in the text with their meanings, after the priorities.

    Examples
    --------
    >>> [word for word, _ in words_used("RP-1 is a Panelboard with main lugs, 10 kA")][4:7]
    ['Panelboard', 'Main lugs', 'kA']
    """
    small = text.casefold()
    words = frozenset(re.findall(r"[a-z]+", small))
    used = [
        (_AS_WRITTEN.get(word, word[:1].upper() + word[1:]), meaning)
        for word, meaning in _TERMS
        if (word in words if word in _AS_WRITTEN and word.isalpha() else word in small)
    ]
    if wye := _WYE.search(small):
        line, neutral = wye.groups()
        used.append(
            (
                f"{line}Y/{neutral} V",
                f"{line} volts between two lines and {neutral} from a line to the neutral; other such names read the same way.",
            )
        )
    always = ((word[:1].upper() + word[1:], meaning) for word, meaning in _ALWAYS)
    return (*PRIORITY_MEANINGS, *used, *always)
