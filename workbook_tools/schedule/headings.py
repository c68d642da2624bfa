"""The headings of what the client reads, for the printed sheets and for the data beside them.

Words for the same thing stand here once; a heading that only one sheet has stands with that sheet.
"""

__all__ = [
    "ACCESS",
    "BASIS",
    "EFFORT",
    "LIMIT_REASON",
    "LIMIT_WHAT",
    "LIMIT_WHO",
    "NO_ISSUES",
    "NUMBER",
    "OF_LIMITS",
    "OF_TRANSFORMERS",
    "PHOTOS",
    "POWER",
    "ROOM_LEVEL",
    "TRADE",
    "WHAT_TO_DO",
    "WHAT_WAS_SEEN",
    "WHERE",
    "WHY_IT_MATTERS",
    "WORK",
]

WHERE, WHAT_WAS_SEEN, WHY_IT_MATTERS, WHAT_TO_DO = "Where", "What was seen", "Why it matters", "What to do"
BASIS, PHOTOS = "Basis", "Photos"
NUMBER, ROOM_LEVEL, TRADE, POWER, ACCESS, EFFORT = (
    "No.",
    "Room (level)",
    "Trade",
    "Power",
    "Way in",
    "How ordered",
)
WORK = "Task"
LIMIT_WHAT, LIMIT_REASON, LIMIT_WHO = "What", "Why, and what follows", "Who could look"

OF_TRANSFORMERS = (
    "Computed from the nameplates. The highest fault current is what this transformer alone can send to its secondary "
    "terminals, with an unlimited supply ahead of it and an impedance below the plate's by the usual tolerance; running "
    "motors and further transformers add to it, conductors bring it down. It is not the available fault current that is "
    "posted at the service, and no value to design with."
)
OF_LIMITS = (
    "What was not entered, not seen, not recorded or not compared. Where nothing is said about a thing, nothing is known "
    "about it."
)
NO_ISSUES = "No issues were seen. Keep this schedule with the papers of the building."
"""What stands over the tables, and in place of what to do first."""
