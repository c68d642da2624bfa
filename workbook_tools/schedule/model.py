"""The client schedule as a finished object: every text and figure that will be printed.

    ClientSchedule   the whole of it; frozen, and the only thing that the sheets are written from
    Condition        one thing that is wrong: where, what was seen, why it matters, what to do
    ScheduleRow      one line of the list of everything
    ClearanceRow     measured beside needed
    TransformerRow   direction, ratio, currents
    TreeNode         one line of the supply tree
    PhotoEntry       one photo with its number
    LimitLine        one thing that was not looked at, with the reason
    SignedBy         who reviewed it, and when
    Reviewed         what a reviewer made of a finding; ReviewersIssue one that the reviewer adds

Texts are ready to print. Numbers are not rounded; the sheet's number format does that.
Not here: how any of it came about (content), or how it looks (sheets).
"""

from __future__ import annotations

from dataclasses import dataclass

from workbook_tools.definitions.model import Firm

__all__ = [
    "NOT_LISTED",
    "ROOM",
    "ClearanceRow",
    "ClientSchedule",
    "Condition",
    "LimitLine",
    "Measured",
    "PhotoEntry",
    "Reviewed",
    "ReviewersIssue",
    "ScheduleRow",
    "SignedBy",
    "TransformerRow",
    "TreeNode",
]

ROOM, NOT_LISTED = "Room", "Not in the list of equipment"
"""Kinds of those lines of the list that are no equipment; a room's level follows."""

Figure = float | str | None
"""A number, or the words that stand in its place ("not visible"), or nothing."""


@dataclass(frozen=True, slots=True)
class SignedBy:
    """Who reviewed the schedule, and when."""

    reviewer: str
    date: str


@dataclass(frozen=True, slots=True)
class Reviewed:
    """What a reviewer made of a finding of the inspector's; "" where it stays as it is."""

    left_out: bool = False
    priority: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class ReviewersIssue:
    """An issue that the reviewer adds to what was found."""

    subject: str
    seen: str
    action: str = ""
    priority: str = ""


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition of the property.

    `phrase` is how it reads inside a sentence ("depth in front 38 in where 42 in is needed");
    `seen` what was seen, as one sentence; `place` the tag with its kind and room.
    """

    priority: str
    subject: str
    place: str
    phrase: str
    seen: str
    why: str
    action: str
    basis: str
    photos: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """One line of the list of everything, in walking order."""

    tag: str
    kind: str
    room: str
    rating: str
    voltage: str
    phase_wires: str
    maker: str
    fed_from: str
    issues: str
    priority: str
    photos: tuple[int, ...] = ()
    level: int = 0


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured length as typed, what is needed, and whether it is enough (None: not compared)."""

    measured: str
    needed: str
    enough: bool | None


@dataclass(frozen=True, slots=True)
class ClearanceRow:
    """What was measured around one piece of equipment."""

    tag: str
    room: str
    volts_to_ground: Figure
    opposite: str
    depth: Measured
    width: Measured
    height: Measured
    projection: Measured
    above: str
    result: str
    short: bool
    remarks: str


@dataclass(frozen=True, slots=True)
class TransformerRow:
    """One label plate and what follows from it."""

    tag: str
    room: str
    kva: Figure
    phase: str
    primary: str
    secondary: str
    direction: str
    ratio: Figure
    primary_amps: Figure
    secondary_amps: Figure
    impedance: Figure
    highest_fault_ka: Figure
    remarks: str
    photos: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class TreeNode:
    """One line of the supply tree.

    `level` counts from 0 at what comes from outside; `parent` is the position of the line
    that feeds it, or None; `short` is what the picture shows under the tag; `note` says what
    a tree cannot draw (a second source, a loop, a source that is not known). `issues` counts
    the conditions of the equipment; `also` are the positions of further lines that feed it.
    """

    level: int
    parent: int | None
    tag: str
    kind: str
    room: str
    short: str
    note: str = ""
    source: bool = False
    issues: int = 0
    also: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class PhotoEntry:
    """One photo. `picture` is a JPEG that is upright, small and without any other data."""

    number: int
    caption: str
    subject: str
    file: str
    picture: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit of the survey: the group it stands in, what it is about, the reason, who could look."""

    group: str
    what: str
    reason: str
    who: str = ""


@dataclass(frozen=True, slots=True)
class ClientSchedule:
    """Everything that the client reads.

    `facts` are label and value about the job; `services` one sentence each, `other_sources`
    what stays live behind them; `counts` the conditions by priority, most urgent first;
    `first` the most urgent ones; `not_looked_at` the limits in a few lines; `words` the terms
    used, each with its meaning; `edition` the name of the code profile.
    """

    firm: Firm
    property: str
    facts: tuple[tuple[str, str], ...]
    draft: bool
    signed: SignedBy | None
    services: tuple[str, ...]
    other_sources: str
    counts: tuple[tuple[str, int], ...]
    first: tuple[Condition, ...]
    not_looked_at: tuple[str, ...]
    cautions: tuple[str, ...]
    rows: tuple[ScheduleRow, ...]
    conditions: tuple[Condition, ...]
    clearances: tuple[ClearanceRow, ...]
    clearance_note: str
    transformers: tuple[TransformerRow, ...]
    tree: tuple[TreeNode, ...]
    photos: tuple[PhotoEntry, ...]
    limits: tuple[LimitLine, ...]
    words: tuple[tuple[str, str], ...]
