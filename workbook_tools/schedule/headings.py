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
    "NUMBER",
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
