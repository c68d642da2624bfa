"""The client schedule as a finished object: every text and figure that will be printed.

    ClientSchedule   the whole of it; frozen, and the only thing that the sheets are written from
    Condition        one thing that is wrong: where, what was seen, why it matters, what to do, by whom
    WorkItem         one line of the work list, which an electrician can quote from
    ScheduleRow      one line of the list of everything
    ClearanceRow     measured beside needed
    TransformerRow   direction, ratio, currents
    TreeNode         one line of the supply tree
    PhotoEntry       one photo with its number
    LimitLine        one thing that was not looked at, with the reason
    SinceLast        what has changed since the survey before
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
    "SinceEquipment",
    "SinceIssue",
    "SinceLast",
    "TransformerRow",
    "TreeNode",
    "WorkItem",
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

    `id` is its number, which a later edition and next year's survey give it again. `phrase` is how it
    reads inside a sentence ("depth in front 38 in where 42 in is needed"); `seen` what was seen, as
    one sentence; `place` the tag with its kind, room and level. `action` is what the owner is to do or to
    have done, `task` that of it which is quoted;
    `trade`, `power`, `effort` and `access` say by whom, whether power is off, how it is ordered, and
    what it takes to get there. `rows` are the positions of its lines in the list of everything.
    """

    id: str
    priority: str
    subject: str
    place: str
    phrase: str
    seen: str
    why: str
    action: str
    basis: str
    photos: tuple[int, ...] = ()
    kind: str = ""
    room: str = ""
    level: str = ""
    count: int = 1
    trade: str = ""
    power: str = ""
    effort: str = ""
    access: str = ""
    rows: tuple[int, ...] = ()
    task: str = ""


@dataclass(frozen=True, slots=True)
class WorkItem:
    """One line of the work list: an issue, what it is about, and what it takes to mend it.

    `id` is the number of the issue; `tag` the equipment or the room. What the equipment is
    (`rating` to `short_circuit`) is blank for what is no equipment, and so is where it is switched off
    (`fed_from`) and what goes off with it (`feeds`).
    """

    id: str
    priority: str
    trade: str
    level: str
    room: str
    tag: str
    kind: str
    rating: str
    voltage: str
    phase_wires: str
    maker: str
    main_device: str
    short_circuit: str
    fed_from: str
    feeds: str
    seen: str
    task: str
    count: int
    power: str
    access: str
    effort: str


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """One line of the list of everything, in walking order; `depth` counts from 0 at the source."""

    tag: str
    kind: str
    room: str
    level: str
    rating: str
    voltage: str
    phase_wires: str
    maker: str
    fed_from: str
    issues: str
    priority: str
    photos: tuple[int, ...] = ()
    depth: int = 0
    main_device: str = ""
    short_circuit: str = ""
    issue_ids: tuple[str, ...] = ()


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
    level: str
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
    level: str
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

    `depth` counts from 0 at what comes from outside; `parent` is the position of the line
    that feeds it, or None; `row` its position in the list of everything; `short` is what the picture shows under the tag; `note` says what
    a tree cannot draw (a second source, a loop, a source that is not known). `issues` counts
    the conditions of the equipment; `also` are the positions of further lines that feed it.
    """

    depth: int
    parent: int | None
    tag: str
    kind: str
    room: str
    level: str
    short: str
    note: str = ""
    source: bool = False
    issues: int = 0
    also: tuple[int, ...] = ()
    row: int | None = None


@dataclass(frozen=True, slots=True)
class PhotoEntry:
    """One photo. `picture` is a JPEG that is upright, small and without any other data.

    `issue` is the number of the first issue that it shows and `wrong` what is wrong there; both are
    blank for a photo that stands beside none.
    """

    number: int
    caption: str
    subject: str
    file: str
    picture: bytes
    width: int
    height: int
    issue: str = ""
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit of the survey: the group it stands in, what it is about, the reason, who could look."""

    group: str
    what: str
    reason: str
    who: str = ""


@dataclass(frozen=True, slots=True)
class SinceEquipment:
    """One change of the equipment: new, gone, changed (one answer), or a tag that may be another's."""

    change: str
    tag: str
    field: str
    was: str
    is_: str


@dataclass(frozen=True, slots=True)
class SinceIssue:
    """One issue of either year, and what became of it; `why` says by what that is known."""

    state: str
    id: str
    priority: str
    place: str
    what: str
    why: str


@dataclass(frozen=True, slots=True)
class SinceLast:
    """What has changed since the survey before.

    `last` and `this` name the two surveys; `pieces` and `states` are figures, each with its word; `said`
    is what makes the comparison doubtful.
    """

    last: str
    this: str
    pieces: tuple[tuple[str, int], ...]
    states: tuple[tuple[str, int], ...]
    equipment: tuple[SinceEquipment, ...]
    issues: tuple[SinceIssue, ...]
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ClientSchedule:
    """Everything that the client reads.

    `facts` are label and value about the job; `services` one sentence each, `doubts` what speaks
    against switching off there, `other_sources` what stays live behind them; `who` says who is needed; `counts` the conditions by priority, most urgent first;
    `first` the most urgent ones; `not_looked_at` the limits in a few lines; `words` the terms
    used, each with its meaning; `edition` the name of the code profile.
    """

    firm: Firm
    property: str
    facts: tuple[tuple[str, str], ...]
    draft: bool
    signed: SignedBy | None
    services: tuple[str, ...]
    doubts: tuple[str, ...]
    other_sources: str
    counts: tuple[tuple[str, int], ...]
    first: tuple[Condition, ...]
    who: str
    not_looked_at: tuple[str, ...]
    cautions: tuple[str, ...]
    rows: tuple[ScheduleRow, ...]
    conditions: tuple[Condition, ...]
    work: tuple[WorkItem, ...]
    clearances: tuple[ClearanceRow, ...]
    clearance_note: str
    transformers: tuple[TransformerRow, ...]
    tree: tuple[TreeNode, ...]
    photos: tuple[PhotoEntry, ...]
    limits: tuple[LimitLine, ...]
    words: tuple[tuple[str, str], ...]
    since: SinceLast | None = None

    def priority_of(self, node: TreeNode) -> str:
        """Return the most urgent priority of what a line of the tree stands for; "" for none."""
        return self.rows[node.row].priority if node.row is not None else ""
