"""What the client reads of what a rule found: the part of a rule's card that is addressed to the owner.

    Condition    a condition of the property: it stands among the issues
    Limit        something that was not looked at or not recorded: it stands among the limits of the survey
    Remark       a note that stands beside the equipment, after its issues
    Paperwork    a question about the workbook: nothing to the client once it is answered
    Trade        who mends it

What a condition says inside a sentence ("depth in front 38 in where 42 in is needed") comes with the
problem itself (`Problem.phrase`), since it holds the figures of the case.

Not here: whether a problem goes out at all (delivery), how it is printed (schedule).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workbook_tools.electrical import Length
from workbook_tools.survey import Field

__all__ = ["Condition", "ForClient", "Limit", "LimitGroup", "Paperwork", "Remark", "Trade"]


class Trade(Enum):
    """Who mends a condition."""

    ELECTRICIAN = "licensed electrician"
    ENGINEER = "licensed electrical engineer"
    OWNER = "the owner's own people"
    UTILITY = "the utility, or a licensed electrician"
    PHOTOVOLTAIC = "photovoltaic installer"


DIFFERS = (
    "Something between the two was not seen, or one of them is not what it seems: an electrician can tell."
)
"""Why it matters that two records of one supply differ."""

LOOK_AT_IT = "Have a licensed electrician look at it and say what is there."
"""What to do where nobody can know more from the record."""


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition of the property.

    `do` is what the owner is to do where the finding library has no entry for the same cause;
    `why` why it matters, where the rule's own reason speaks of the workbook. `measures` are the
    lengths in Clearances that the rule judges, `too` how a wrong one is called; `in_short` is how it reads
    among the results of Clearances where its phrase is long. `may_be_live`
    marks metal on which a tester alerted.
    """

    do: str = LOOK_AT_IT
    trade: Trade = Trade.ELECTRICIAN
    why: str = ""
    measures: tuple[Field[Length], ...] = ()
    too: str = "too small"
    in_short: str = ""
    may_be_live: bool = False


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
