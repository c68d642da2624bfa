"""The headings of what the client reads, for the printed sheets and for the data beside them.

Words for the same thing stand here once; a heading that only one sheet has stands with that sheet.
"""

__all__ = [
    "BASIS",
    "LIMIT_REASON",
    "LIMIT_WHAT",
    "LIMIT_WHO",
    "PHOTOS",
    "WHAT_TO_DO",
    "WHAT_WAS_SEEN",
    "WHERE",
    "WHY_IT_MATTERS",
]

WHERE, WHAT_WAS_SEEN, WHY_IT_MATTERS, WHAT_TO_DO = "Where", "What was seen", "Why it matters", "What to do"
BASIS, PHOTOS = "Basis", "Photos"
LIMIT_WHAT, LIMIT_REASON, LIMIT_WHO = "What", "Why, and what follows", "Who could look"
