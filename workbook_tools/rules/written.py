"""What is written in free words about a row: its remarks, and the findings about it.

    answer(assessment, pattern, *rows)         what they say of a thing: there, not there, or nothing
    answer_in(pattern, *texts)                 the same of texts alone
    found_already(assessment, slug, row)       whether a finding of the library says what a rule would ask

A question that no column answers is answered there: "ground-fault relay on the door", "no sign at
the service". Only what is said to be there settles such a question: an honest "none" is an answer
that the client must read. Not here: which words answer which question (the rules).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum
from typing import NamedTuple

from workbook_tools.assessment import Assessment
from workbook_tools.survey import Equipment, Transformer

__all__ = ["Answer", "Said", "answer", "answer_in", "found_already"]


class Said(Enum):
    """What free words say of a thing."""

    NOTHING = "nothing"
    THERE = "it is there"
    NOT_THERE = "it is not there, or was looked for and not seen"
    UNSEEN = "somebody looked, and could not tell"
    ASKED = "somebody asks about it or wants it, or a part of it alone is missing"
    FOUND = "a finding speaks of it, and the client reads that"


class Answer(NamedTuple):
    """What was said of a thing, and in which words."""

    said: Said
    words: str = ""

    @property
    def quoted(self) -> str:
        """The words as a message repeats them."""
        return repr(self.words if len(self.words) <= _QUOTED else f"{self.words[:_QUOTED].rstrip()} …")

    @property
    def settled(self) -> bool:
        """Whether there is nothing left to ask: it is there, or the client reads a finding about it."""
        return self.said in (Said.THERE, Said.FOUND)

    @property
    def there(self) -> bool:
        """Whether it is said to be there."""
        return self.said is Said.THERE

    @property
    def denied(self) -> bool:
        """Whether it is said not to be there."""
        return self.said is Said.NOT_THERE


_NOTHING = Answer(Said.NOTHING)
_QUOTED = 80
"""How many letters of a clause a message repeats."""

# A clause ends here; a figure's point ends none, and neither does a colon ("Barriers: none").
_END = re.compile(r"[;\n!]|\.(?=\s|$)|\b(?:but|however|although|though|while|whereas)\b", re.IGNORECASE)
_OR = re.compile(r"\bn?or\b", re.IGNORECASE)

_NOT = r"(?:\bnot|n['’]t)"
_BEFORE = re.compile(
    r"\bno\b(?!\.?\s*\d|\s+(?:\w+\s+)?(?:damage|problems?|issues?|defects?|alerts?|doubt|concerns?|tests?|records?|photos?|"
    r"dates?|noise|access|change)\b)"
    rf"|{_NOT}\b(?!\s+(?:only|just|touched|tested|opened|operated|tripped|damaged)\b)"
    r"|\b(?:none|without|missing|absent|lack(?:s|ing)?|never|neither|nor|nil|zero(?![\s-]*sequence))\b|\bw/o(?:ut)?\b|(?<![.\d])0(?![.,\d])",
    re.IGNORECASE,
)
"""What denies whatever follows it in its clause."""

_IS_NOT = (
    rf"{_NOT}\s+(?:been\s+|yet\s+|currently\s+)?"
    r"(?:seen|found|there|present|installed|provided|fitted|posted|in place|observed|noted|available|used|given|existing|working|"
    r"functional|functioning|operational|connected|in service)\b"
)
_GONE = r"\b(?:missing|absent|lacking|removed|nowhere|disabled|bypassed|defeated|inoperative|disconnected|out of service)\b"
_BEHIND = re.compile(
    rf"{_IS_NOT}|\bnone (?:seen|found|there|present|installed)\b|{_GONE}|"
    r"(?:[:=?–—-]|\b(?:is|are|was|were))\s*no?\s*$|\b(?:none|nil|no|n/?a)\s*$",
    re.IGNORECASE,
)
"""What denies whatever stands before it in its clause; what is there and does not work counts as not there."""

_BEHIND_A_COMMA = re.compile(
    rf",\s*(?:none|no|nil|n/?a|(?:it )?(?:is |was )?(?:{_IS_NOT}|{_GONE}))\s*$", re.IGNORECASE
)
_OF_A_PART = re.compile(
    r"\bno\s+(?!evidence|signs?|indication|trace|provisions?|means|form|kind|type|sort)(?:\w+\s+){1,2}"
    r"(?:on|at|to|from|about|inside|beside|behind|for)\s+(?:the\s+|an?\s+)?$",
    re.IGNORECASE,
)
_PART = re.compile(
    r"\b(?:covers?|labels?|lamps?|screws?|tags?|dates?|lens|nameplates?|knobs?|seals?|records?|tests?)\b",
    re.IGNORECASE,
)
"""A part of it, or its label: "no label on the relay" does not say that the relay is missing."""

_TWICE = re.compile(_GONE, re.IGNORECASE)

_UNSEEN = re.compile(
    rf"\b(?:could|can)\s*{_NOT}\b|\bcan(?:not|['’]t)\b|\bunable\b|"
    rf"{_NOT}\s+(?:been\s+)?(?:visible|verified|confirmed|determined|checked|known|clear|accessible|inspected|recorded|measured|"
    r"read|legible|sure)\b|\bun(?:known|clear|sure|measured|verified)\b|\bn/?v\b|\b(?:maybe|possibly|perhaps)\b",
    re.IGNORECASE,
)
"""Words of somebody who could not tell."""

_ASKED_BEFORE = re.compile(
    r"\b(?:recommend\w*|suggest\w*|propos\w*|needs?|wants?|should|must|ask|check|verify|confirm|install|provide|add(?!-)|planned|future|"
    r"whether|is there|are there|if)\b",
    re.IGNORECASE,
)
_ASKED_BEHIND = re.compile(
    r"\b(?:needed|required|recommended|planned|on order|to follow|tbd|to be \w+|should|must|if any)\b|\?\s*$",
    re.IGNORECASE,
)
"""Words of somebody who asks, or wants it: they do not say that it is there."""


def answer(assessment: Assessment, pattern: re.Pattern[str], *rows: Equipment) -> Answer:
    """Return what is written of a thing, named by a pattern, about some rows.

    One word that it is there outweighs a denial beside it: of two relays one may be missing.
    """
    if any(pattern.search(text) for row in rows for text in _findings(assessment, row)):
        return Answer(Said.FOUND)
    return answer_in(pattern, *(text for row in rows for text in _remarks(assessment, row)))


def answer_in(pattern: re.Pattern[str], *texts: str) -> Answer:
    """Return what texts say of a thing.

    Examples
    --------
    >>> relay = re.compile("relay")
    >>> [answer_in(relay, text).said.name for text in ("relay on the door", "No fan or relay", "relay: none", "relay?", "fan")]
    ['THERE', 'NOT_THERE', 'NOT_THERE', 'ASKED', 'NOTHING']
    """
    best = _NOTHING
    for text in texts:
        for found in pattern.finditer(text) if text else ():
            said = _of_mention(text, found.start(), found.end())
            if said.there:
                return said
            if not best.denied:
                best = said
    return best


def _remarks(assessment: Assessment, row: Equipment) -> Iterator[str]:
    """Yield the remarks and comments of a row and of its label plate."""
    yield row.typed(Equipment.remarks)
    yield from (comment.typed for comment in row.comments)
    plate = assessment.plate(row)
    if plate is not None:
        yield plate.typed(Transformer.remarks)
        yield from (comment.typed for comment in plate.comments)


def _findings(assessment: Assessment, row: Equipment) -> Iterator[str]:
    """Yield the words of the findings about a row."""
    for finding in assessment.survey.findings_about(row.tag.value):
        yield finding.finding.typed
        yield finding.seen.typed


def _of_mention(text: str, start: int, end: int) -> Answer:
    """Return what the clause of a mention says of it."""
    begins = max((found.end() for found in _END.finditer(text, 0, start)), default=0)
    ends = found.start() if (found := _END.search(text, end)) else len(text)
    before, behind = text[begins:start], text[end:ends]
    # "No relay, fan or lamp" denies all three; "no fan, relay on the door" one of them.
    comma = before.rfind(",") + 1
    if not _OR.search(text, begins + comma, ends):
        before = before[comma:]
    near = behind.partition(",")[0]
    words = f"{before}{text[start:end]}{behind}".strip()
    if _UNSEEN.search(before) or _UNSEEN.search(near):
        return Answer(Said.UNSEEN, words)
    first, then = (
        _BEFORE.search(before),
        _BEHIND.search(near.rstrip()) or _BEHIND_A_COMMA.search(behind.rstrip()),
    )
    in_part = bool(_OF_A_PART.search(before)) or (
        then is not None and _PART.search(near, 0, then.start()) is not None
    )
    asked = not (first or then) and (_ASKED_BEFORE.search(before) or _ASKED_BEHIND.search(near))
    if in_part or asked:
        return Answer(Said.ASKED, words)
    denied = bool(first) != bool(_TWICE.search(near)) if first else bool(then)
    return Answer(Said.NOT_THERE if denied else Said.THERE, words)


def found_already(assessment: Assessment, slug: str, row: Equipment) -> bool:
    """Whether a finding about the row has the cause of a rule: what somebody found is not asked again."""
    template, about = assessment.survey.template, assessment.survey.findings_about(row.tag.value)
    entries = (template.find_finding(finding.finding.value) for finding in about if finding.finding.value)
    return any(entry is not None and slug in entry.disagrees_with for entry in entries)
