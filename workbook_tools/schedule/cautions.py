"""What the client must not do because of the schedule.

    CAUTION              one sentence or three, on every page
    CLIENT_CAUTIONS      all of them, on the first pages
    WHO_MAY_SWITCH       stands beside where the building is switched off

The template's own cautions speak to the inspector and stand in the survey workbook; these are
addressed to an owner, who stands beside equipment without training or a tester.
"""

from __future__ import annotations

__all__ = ["CAUTION", "CLIENT_CAUTIONS", "WHO_MAY_SWITCH"]

CAUTION = (
    "Visual survey only: no design and no ruling on code compliance. The local authority and licensed practice decide. "
    "Nobody opens or works on equipment because of this schedule."
)
"""Stands on every page."""

WHO_MAY_SWITCH = "Who may switch: the building's own trained staff, or the fire service in an emergency; otherwise a qualified person."

CLIENT_CAUTIONS = (
    CAUTION,
    f"{WHO_MAY_SWITCH} Switching off stops lifts, lighting and alarms too, and parts of the building may stay live.",
    (
        "Nobody else operates, opens, touches or clears anything at equipment that stands under Act now: keep people away until a "
        "qualified person has been there."
    ),
    (
        "A voltage tester that stays silent proves nothing, and a non-contact one does not detect direct current: photovoltaic "
        "and battery equipment may be live all the same. Whoever works on equipment tests it again, with a tester proved before "
        "and after."
    ),
    (
        "Stay at least 10 ft (3 m) away from anything with an open cover or parts laid bare, and outside rooms and fences of "
        "equipment above 1000 V."
    ),
    (
        "Water, heat, a burning smell or a crackling sound at equipment: keep people out and call a licensed electrician. Smoke "
        "or fire: leave, and call the fire service."
    ),
)
