"""The words that the schedule uses, each with its meaning in plain English.

    words_used(text)   those terms that occur in the text, and the priorities

The meanings are our own wording of common practice; none of them is a definition of a code.
"""

from __future__ import annotations

__all__ = ["PRIORITY_MEANINGS", "words_used"]

PRIORITY_MEANINGS = (
    (
        "Act now",
        "Someone could be hurt or a fire could start: keep clear and have it corrected without delay.",
    ),
    ("Correct soon", "A protective feature is missing or damage is growing: plan a qualified repair soon."),
    ("Upkeep", "To be mended in ordinary maintenance."),
    ("Record", "No action now; noted so that the file is complete."),
)

_TERMS = (
    ("service disconnect", "The switch or breaker that shuts off the building, or a part of it, from the utility."),
    ("motion of the hand", "One movement of a handle. How many it takes to shut off everything counts in an emergency."),
    ("switchboard", "A large board that divides the power of the building among smaller ones."),
    ("panelboard", "A wall cabinet with the breakers of the final circuits."),
    ("motor control center", "A row of cabinets that hold the switches and starters of motors."),
    ("transformer", "Changes one voltage into another. Its primary side is fed, its secondary side feeds."),
    ("transfer switch", "Moves its loads from one source to another, mostly from the utility to a generator."),
    ("inverter", "Turns the direct current of a photovoltaic array into alternating current."),
    ("main breaker", "A breaker that shuts off the whole board it sits in."),
    ("main lugs", "The feeder ends on bare terminals: the board is shut off upstream, not at the board."),
    ("3-phase", "Three voltages that take turns; large motors and boards use it. 1-phase serves small loads."),
    ("4-wire", "Wires that carry current in use, the neutral counted, the ground not."),
    ("volts to ground", "Voltage between a live part and the ground or a grounded wall; it decides the depth needed in front."),
    ("working space", "The clear space in front of equipment that a person needs to work on it and to step back from it."),
    ("dedicated space", "The space above and below equipment that is kept free of pipes, ducts and other foreign items."),
    ("opposite side", "What stands across the working space: clear, grounded (concrete, brick and tile count) or live parts."),
    ("short-circuit rating", "The largest fault current that the equipment withstands, as marked by its maker, in kA."),
    ("fault current", "The current that flows when conductors touch each other or ground. 1 kA is 1000 A."),
    ("full load", "The current at the rated load, computed from the nameplate."),
    ("impedance", "A figure of the nameplate that limits the fault current, in percent."),
    ("ratio", "Primary voltage over secondary voltage, line to line."),
    ("step-down", "From a higher voltage to a lower one; step-up the other way; isolation keeps the voltage."),
    ("high leg", "One of three conductors that has a higher voltage to ground than the two others."),
    ("circuit directory", "The list on the door that says what each breaker serves."),
    ("dead-front", "The inner cover that keeps hands away from live parts."),
    ("knockout", "A round opening for a conduit. Unused ones must be closed."),
    ("arc-flash", "A violent burst of heat from an electric arc."),
    ("non-contact", "A pocket tester that alerts near a voltage without touching it. A silent tester proves nothing dead."),
    ("emt", "Electrical metallic tubing, a thin steel or aluminum conduit."),
    ("busway", "Bars in a metal duct that carry large currents in place of cables."),
)  # fmt: skip

_ALWAYS = (
    ("not visible", "Nobody could see it without opening, moving or touching something."),
    ("-", "Does not apply."),
)


def words_used(text: str) -> tuple[tuple[str, str], ...]:
    """Return the terms that occur in the text with their meanings, after the priorities.

    Examples
    --------
    >>> [word for word, _ in words_used("RP-1 is a Panelboard with main lugs")][4:6]
    ['Panelboard', 'Main lugs']
    """
    small = text.casefold()
    used = [
        (word[:1].upper() + word[1:] if word != "emt" else "EMT", meaning)
        for word, meaning in _TERMS
        if word in small
    ]
    return (*PRIORITY_MEANINGS, *used, *((word[:1].upper() + word[1:], meaning) for word, meaning in _ALWAYS))
