"""What is wrong, said the way a person writes it.

    finding_phrase(entry, typed, count, seen)   "two missing cover screws", or what was seen
    finding_headline(entry, typed, count)       the same without what was seen
    issue_sentence(phrases)                     one sentence out of several phrases
    basis(sources, code)                        sections to look up, each after the edition of its code
    edition_of(source)                          the edition that an entry of the library was read in

Not here: what rules found (client_reads), the service (services), grammar (plain_english).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from workbook_tools.definitions import FindingType
from workbook_tools.rules.plain_english import capital, in_words, inside, sentence

__all__ = [
    "NOTHING_SEEN",
    "basis",
    "edition_of",
    "finding_headline",
    "finding_phrase",
    "issue_sentence",
    "telling_words",
]

NOTHING_SEEN = "No issue seen."


def finding_headline(entry: FindingType | None, typed: str, count: int | None) -> str:
    """Return the finding with its count: "two open knockouts", "circuit directory missing".

    Parameters
    ----------
    entry : FindingType or None
        The library entry; None for the inspector's own wording.
    typed : str
        The finding as typed.
    count : int or None
        How many, where it was counted.
    """
    if entry is None or not entry.one:
        own = inside(typed)
        return f"{own} ({in_words(count)})" if count is not None and count > 1 else own
    if count is None or count < 1:
        return entry.one
    if count == 1:
        return f"one {entry.one}" if _countable(entry) else entry.one
    return f"{in_words(count)} {entry.many or entry.one}"


def _countable(entry: FindingType) -> bool:
    """Whether one of it can be said: the plural begins with the same noun or adjective as the singular."""
    first = re.split(r"[\s,]", entry.one, maxsplit=1)[0]
    if first in ("no", "too", "more", "several", "two", "signs", "service"):
        return False
    stem = first.removesuffix("y")
    return entry.many.startswith(stem)


def finding_phrase(
    entry: FindingType | None, typed: str, count: int | None, seen: str, names: Collection[str] = ()
) -> str:
    """Return what a finding says inside a sentence.

    What the inspector wrote stands alone where it names the thing itself ("two of eight trim
    screws gone"); otherwise the library's words come first, so that the reader knows what
    "half the spaces are blank" is about.

    Parameters
    ----------
    entry : FindingType or None
        The library entry; None for the inspector's own wording.
    typed : str
        The finding as typed.
    count : int or None
        How many, where it was counted.
    seen : str
        What was seen, as typed; blank where nothing was written.
    names : collection of str
        Names that keep their capital inside a sentence (makers, rooms), in small letters.
    """
    said = inside(seen, names)
    headline = finding_headline(entry, typed, count)
    if not said:
        return headline
    known = telling_words(f"{typed} {entry.name} {entry.one} {entry.many}" if entry is not None else typed)
    if known & telling_words(said) and len(said.split()) >= _A_SENTENCE:
        return said
    return f"{headline} ({said})"


_A_SENTENCE = 3  # words; "cover" or "left cover" says where, and not what is wrong with it
_COMMON = frozenset(
    ("equip", "enclo", "place", "where", "there", "their", "with", "works", "space", "room", "panel")
)


def telling_words(text: str) -> set[str]:
    """Return the beginnings of the telling words of a text: "screws" and "screw" are one."""
    words = re.findall(r"[^\W\d_]{4,}", text.casefold())
    return {word[:5].rstrip("s") for word in words} - _COMMON


def issue_sentence(phrases: Sequence[str]) -> str:
    """Return one sentence out of several phrases, most urgent first as given.

    Examples
    --------
    >>> issue_sentence(["two of eight trim screws missing", "depth in front 38 in where 42 in is needed"])
    'Two of eight trim screws missing; depth in front 38 in where 42 in is needed.'
    >>> issue_sentence([])
    'No issue seen.'
    """
    said = list(dict.fromkeys(phrase for phrase in phrases if phrase))
    return sentence(capital("; ".join(said))) if said else NOTHING_SEEN


def basis(sources: str, code: str) -> str:
    """Return what a condition rests on: each section after the name and the edition of its code.

    Parameters
    ----------
    sources : str
        Sections and other sources, parted by ";": "408.7; 29 CFR 1910.303(g)(1)".
    code : str
        The edition of NFPA 70 whose sections these are, where they name none: "NFPA 70-2023".

    Examples
    --------
    >>> basis("408.7; 110.12(A); 110.17 (2023)", "NFPA 70-2023")
    'NFPA 70-2023 408.7, 110.12(A), 110.17'
    >>> basis("29 CFR 1910.303(g)(1); NFPA 70 110.26(B); NFPA 70-2023 408.7, 450.9", "NFPA 70-2017")
    '29 CFR 1910.303(g)(1); NFPA 70-2017 110.26(B); NFPA 70-2023 408.7, 450.9'
    >>> basis("common practice", "NFPA 70-2023")
    'Common practice'
    """
    said: dict[str, list[str]] = {}
    for part in filter(None, (text.strip() for text in sources.split(";"))):
        named = _CODE.fullmatch(part)
        if named is None:
            said.setdefault(part, [])
            continue
        edition = named["edition"] or code
        year = f" ({edition[-4:]})"
        sections = said.setdefault(edition, [])
        sections += [s.removesuffix(year) for s in named["sections"].split(", ") if s not in sections]
    return capital(
        "; ".join(f"{name} {', '.join(dict.fromkeys(of))}" if of else name for name, of in said.items())
    )


_CODE = re.compile(
    r"(?:(?P<edition>NFPA 70-[0-9]{4})|NFPA 70)? ?(?P<sections>(?:[0-9]{2,3}\.[0-9]|(?:Article|Table) [0-9]).*)"
)
"""Sections of NFPA 70, with its edition or without."""


def edition_of(source: str) -> str:
    """Return the edition of NFPA 70 that a source of the finding library was read in.

    Examples
    --------
    >>> edition_of("NFPA70-2017"), edition_of("CEC-2022"), edition_of("TRADE")
    ('NFPA 70-2017', 'NFPA 70-2020', 'NFPA 70-2023')
    """
    year = re.fullmatch(r"NFPA70-([0-9]{4})", source)
    return f"NFPA 70-{year[1]}" if year else _ADOPTED.get(source, "NFPA 70-2023")


_ADOPTED = {"CEC-2022": "NFPA 70-2020"}
"""State codes and the edition that they adopt; what rests on the trade was looked up in the edition of 2023."""
