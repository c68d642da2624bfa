"""What the client reads of what a rule found: the part of a rule's card that is addressed to the owner.

    Condition    a condition of the property: it stands among the issues
    Limit        something that was not looked at or not recorded: it stands among the limits of the survey
    Remark       a note that stands beside the equipment, after its issues
    Paperwork    a question about the workbook: nothing to the client once it is answered

What a condition says inside a sentence ("depth in front 38 in where 42 in is needed") comes with the
problem itself (`Problem.phrase`), since it holds the figures of the case.

Not here: whether a problem goes out at all (delivery), how it is printed (schedule).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workbook_tools.definitions.work import Work
from workbook_tools.electrical import Length
from workbook_tools.survey import Field

__all__ = ["Condition", "ForClient", "Limit", "LimitGroup", "Paperwork", "Remark"]


DIFFERS = (
    "Something between the two was not seen, or one of them is not what it seems: an electrician can tell."
)
"""Why it matters that two records of one supply differ."""

LOOK_AT_IT = "Have a licensed electrician look at it and say what is there."
"""What to do where nobody can know more from the record."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """A condition of the property.

    `do` is what is to be done where the finding library has no entry for the same cause, `work` by
    whom and how; `why` why it matters, where the rule's own reason speaks of the workbook. `measures` are the
    lengths in Clearances that the rule judges, `too` how a wrong one is called; `in_short` is how it reads
    among the results of Clearances where its phrase is long. `may_be_live`
    marks metal on which a tester alerted, `switching_off` what makes it uncertain how the building
    is switched off.
    """

    work: Work
    do: str = LOOK_AT_IT
    why: str = ""
    measures: tuple[Field[Length], ...] = ()
    too: str = "too small"
    in_short: str = ""
    may_be_live: bool = False
    switching_off: bool = False


class LimitGroup(Enum):
    """The heading under which a limit stands."""

    ROOMS = "Rooms not entered"
    OUTSIDE = "Recorded, not inspected"
    UNSEEN = "Could not be seen"
    UNRECORDED = "Not recorded"


@dataclass(frozen=True, slots=True)
class Limit:
    """Something that was not looked at or not recorded.

    `one` and `many` say it of one subject and of several; the first three groups say it by
    what was recorded instead.
    """

    group: LimitGroup = LimitGroup.UNRECORDED
    one: str = ""
    many: str = ""


@dataclass(frozen=True, slots=True)
class Remark:
    """A note beside the equipment."""


@dataclass(frozen=True, slots=True)
class Paperwork:
    """A question about the workbook. An open one is listed among the limits, unless it is the firm's own."""

    firms_own: bool = False


ForClient = Condition | Limit | Remark | Paperwork
