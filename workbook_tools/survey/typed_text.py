"""What stands in a cell, made comparable: quotes, dashes, fractions, spaces, and the answers N/V and N/A.

    straight(text)          quotes, dashes, fractions and spaces in one form; for parsing only
    is_not_visible(text)    "N/V", "not visible", "n.v.", "cannot be seen", "illegible", "unknown"
    is_not_applicable(text) "N/A", "n.a.", "not applicable"
    is_dash(text)           "-", "--", "—": could mean either, so it is asked about
    is_ditto(text)          a ditto mark, which holds the value of another row
    is_error_text(text)     "#N/A", "#REF!": what a spreadsheet shows where a formula failed
    separate(text)          the entries of a cell that holds several, parted by ";", "," or a new line

Not here: numbers, dates and choices. The typed text itself is kept beside what is read.
"""

from __future__ import annotations

import re
from functools import lru_cache

from workbook_tools.definitions import spelling
from workbook_tools.electrical import FRACTION_SIGNS, PLAIN_SIGNS

__all__ = [
    "is_dash",
    "is_ditto",
    "is_error_text",
    "is_not_applicable",
    "is_not_visible",
    "separate",
    "straight",
]

_STRAIGHT = str.maketrans({**PLAIN_SIGNS, **FRACTION_SIGNS})

_NOT_VISIBLE = frozenset(("nv", "notvisible"))
_NOT_VISIBLE_IN_OTHER_WORDS = frozenset(
    [
        "notseen",
        "couldnotsee",
        "couldnotbeseen",
        "cannotbeseen",
        "cannotsee",
        "cantsee",
        "cantbeseen",
        "novisibility",
        "notreadable",
        "notlegible",
        "illegible",
        "unreadable",
        "notviewable",
        "unknown",
        "unk",
        "notknown",
    ]
)
_NOT_APPLICABLE = frozenset(["na", "notapplicable", "notapplic", "doesnotapply"])
_ERROR = re.compile(r"#(?:N/A|[A-Z]{2,}(?:/0)?[!?]|GETTING_DATA)|Err:[0-9]{3}")
_BREAKS = re.compile(r"[;\n]")


@lru_cache(maxsize=65536)
def straight(text: str) -> str:
    r"""Return the text with straight quotes, plain dashes, written fractions and single spaces.

    One apostrophe in front goes: it is how a spreadsheet marks text, kept by mistake.

    Examples
    --------
    >>> straight("3’–6 ½”"), straight("'007"), straight("  MSB ;  DP-1 ")
    ('3\'-6 1/2"', '007', 'MSB ; DP-1')
    """
    lines = text.translate(_STRAIGHT).split("\n")
    text = "\n".join(" ".join(line.split()) for line in lines).strip()
    return text[1:] if text.startswith("'") and len(text) > 1 and text[1] != "'" else text


def is_not_visible(text: str, *, of_a_name: bool = False, free: bool = False) -> bool:
    """Whether the text answers that it cannot be seen.

    A panel can be called NV, so where a name is asked for (`of_a_name`) two bare letters are
    one. In free text (`free`) "illegible" may be what was seen, so only N/V itself counts.

    Examples
    --------
    >>> is_not_visible("n.v."), is_not_visible("Not visible"), is_not_visible("NV", of_a_name=True)
    (True, True, False)
    >>> is_not_visible("illegible"), is_not_visible("illegible", free=True)
    (True, False)
    """
    said = spelling(text)
    if said in _NOT_VISIBLE:
        return not (of_a_name and _is_bare(text))
    return not free and said in _NOT_VISIBLE_IN_OTHER_WORDS


def is_not_applicable(text: str, *, of_a_name: bool = False) -> bool:
    """Whether the text answers that there is none.

    Examples
    --------
    >>> is_not_applicable("n/a"), is_not_applicable("None"), is_not_applicable("NA", of_a_name=True)
    (True, False, False)
    """
    return spelling(text) in _NOT_APPLICABLE and not (of_a_name and _is_bare(text)) and "#" not in text


def _is_bare(text: str) -> bool:
    return len(text.strip()) == 2


def is_dash(text: str) -> bool:
    """Whether nothing but dashes (or dots) stands in the cell.

    Examples
    --------
    >>> is_dash("–"), is_dash("---"), is_dash("-1")
    (True, True, False)
    """
    return bool(text.strip()) and not text.translate(_STRAIGHT).strip("-. \n")


def is_ditto(text: str) -> bool:
    """Whether the cell points to the one above it.

    Examples
    --------
    >>> is_ditto('"'), is_ditto("ditto"), is_ditto('42"')
    (True, True, False)
    """
    text = text.translate(_STRAIGHT).strip().casefold()
    return text in ('"', "''", "〃", "ditto", "do.", "same as above", "as above", "same") or text == '" "'


def is_error_text(text: str) -> bool:
    """Whether the text is what a spreadsheet shows where a formula failed.

    Examples
    --------
    >>> is_error_text("#N/A"), is_error_text("#REF!"), is_error_text("N/A"), is_error_text("#2")
    (True, True, False, False)
    """
    return bool(_ERROR.fullmatch(text.strip()))


def separate(text: str, *, at_commas: bool = True) -> tuple[str, ...]:
    r"""Return the entries of a cell that may hold several, parted by ";", "," or a new line.

    Examples
    --------
    >>> separate("MSB; GEN-1"), separate("RP-1, RP-2\nRP-3,"), separate("a, b; c", at_commas=False)
    (('MSB', 'GEN-1'), ('RP-1', 'RP-2', 'RP-3'), ('a, b', 'c'))
    """
    parts = _BREAKS.split(text)
    if at_commas:
        parts = [entry for part in parts for entry in part.split(",")]
    return tuple(part.strip() for part in parts if part.strip())
