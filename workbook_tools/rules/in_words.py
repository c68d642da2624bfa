"""How the messages of rules say a length, a limit, a section, a list of names.

    length_as_read, needed_figure    a length as typed, and a limit as printed
    section                          a section of the code profile, as a sentence cites it
    edition, cited_edition           "NFPA 70-2023": of the job, and where a source is cited
    either(names)                    "A, B or C"
    items_in_words(items, leave)     what stands in a space: "pipe and storage"

Not here: rules, and what a rule must know before it speaks (assessment).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import Length, Limit, write_length
from workbook_tools.rules.plain_english import listed
from workbook_tools.survey import Value

__all__ = [
    "cited_edition",
    "edition",
    "either",
    "items_in_words",
    "length_as_read",
    "needed_figure",
    "section",
]


def length_as_read(length: Value[Any]) -> str:
    """Return a length as typed, with the unit that was understood: "38 in", "2 m (78.7 in)"."""
    measured = length.value
    if not isinstance(measured, Length):
        return length.said
    text = length.said if measured.unit_said else f"{length.said} {measured.unit}"
    return f"{text} ({measured.inches:.1f} in)" if measured.metric else text


def needed_figure(limit: Limit, measured: Length) -> str:
    """Return the printed figure that a reading is compared with; both where it is metric."""
    if limit.own:
        return write_length(Length(round(limit.inches, 1), "in"))
    if measured.metric and limit.millimetres is not None:
        return f"{limit.millimetres:g} mm (or {limit.inches:g} in)"
    return f"{limit.inches:g} in"


def section(assessment: Assessment, cited: str, basis: str = "printed") -> str:
    """Return a section of the code profile as a sentence cites it, with what an amendment names as its basis."""
    # A depth figure is cited with its table ("110.26(A)(1), Table 110.26(A)(1)"): the first is enough.
    short = cited.partition(",")[0]
    if short.startswith("1910"):
        short = f"29 CFR {short}"
    elif not short.startswith("NFPA"):
        short = f"{assessment.profile.title} {short}"
    return short if basis == "printed" or "own" in basis else f"{short}, {basis}"


def edition(assessment: Assessment) -> str:
    """Return the edition of NFPA 70 in words, for what stands in no profile of another code.

    Only the name without an edition where the code profile is another code's.
    """
    title = assessment.profile.title
    return title if title.startswith("NFPA 70") else "NFPA 70"


def cited_edition(assessment: Assessment) -> str:
    """Return the edition of NFPA 70 that the rules' sources are cited from: the job's, else the one they were read in."""
    title = assessment.profile.title
    return title if title.startswith("NFPA 70-") else "NFPA 70-2023"


def either(names: Sequence[str]) -> str:
    """Return the names of which one is meant: "A, B or C"."""
    return listed(names, "or")


def items_in_words(items: Sequence[str], leave: Collection[str] = ()) -> str:
    """Return what stands somewhere as it reads inside a sentence: small letters, abbreviations as they are.

    Examples
    --------
    >>> items_in_words(["Pipe", "HVAC duct", "None"], ["None"])
    'pipe and HVAC duct'
    """
    named = [item for item in items if item not in leave]
    return listed([item.lower() if item[1:].islower() else item for item in named])
