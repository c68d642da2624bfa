"""What follows from a survey: voltages to ground, currents, needed clearances, who feeds whom.

    Assessment(survey)            the electrical facts of each row, computed once
    EquipmentFacts, TransformerFacts, ClearanceFacts, Comparison, Source   what it answers with
    read_profile(survey)          the code profile that the Job sheet names
    profile_of(template, name)    a profile with the template's amendments
    supply_paths                  services, feeders and loops, followed through the whole survey

Not here: whether something is wrong (rules) and any text for a person.
"""

from workbook_tools.assessment.assessing import (
    IMPEDANCE_TOLERANCE_PERCENT,
    STEPS_UP,
    Assessment,
    ClearanceFacts,
    Comparison,
    EquipmentFacts,
    Source,
    TransformerFacts,
    profile_of,
    read_profile,
)

__all__ = [
    "IMPEDANCE_TOLERANCE_PERCENT",
    "STEPS_UP",
    "Assessment",
    "ClearanceFacts",
    "Comparison",
    "EquipmentFacts",
    "Source",
    "TransformerFacts",
    "profile_of",
    "read_profile",
]
