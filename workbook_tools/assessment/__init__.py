"""What follows from a survey: voltages to ground, currents, needed clearances, who feeds whom.

    Assessment(survey)            the electrical facts of each row, computed once
    EquipmentFacts, TransformerFacts, ClearanceFacts, Comparison, Source, Supplied   what it answers with
    Supply(survey)                services, feeders and loops, followed through the whole survey
    read_profile(survey)          the code profile that the Job sheet names
    profile_of(template, name)    a profile with the template's amendments

Not here: whether something is wrong (rules) and any text for a person.
"""

from workbook_tools.assessment.assessing import (
    STEPS_UP,
    Assessment,
    profile_of,
    read_profile,
)
from workbook_tools.assessment.facts import (
    ClearanceFacts,
    Comparison,
    EquipmentFacts,
    Source,
    Supplied,
    TransformerFacts,
)
from workbook_tools.assessment.supply import SERVICE_DISCONNECT, Supply

__all__ = [
    "SERVICE_DISCONNECT",
    "STEPS_UP",
    "Assessment",
    "ClearanceFacts",
    "Comparison",
    "EquipmentFacts",
    "Source",
    "Supplied",
    "Supply",
    "TransformerFacts",
    "profile_of",
    "read_profile",
]
