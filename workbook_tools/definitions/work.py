"""The work that mends a condition: who does it, with power off or on, how large it is, and from what danger.

    Work     all of it, as a finding of the library or the card of a rule holds it
    USUAL    what is told where nothing was said
    Trade, Power, Effort, Danger   the words that it is told in, as a template writes them and the client reads them

Who works on electrical equipment decides on site what has to be off; what stands here is for a quotation.
Not here: what is to be done (the action of the finding, the `do` of the card).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

__all__ = ["USUAL", "Danger", "Effort", "Power", "Trade", "Work"]


class Trade(Enum):
    """Who mends a condition, in the order of the work list."""

    OWNER = "the owner's own people"
    ELECTRICIAN = "licensed electrician"
    ENGINEER = "licensed electrical engineer"
    UTILITY = "the utility, or a licensed electrician"
    PHOTOVOLTAIC = "photovoltaic installer"
    BUILDING = "building or fire-protection trade"


class Power(Enum):
    """Whether the equipment has to be off for it."""

    OFF = "must be off"
    ON = "can stay on"
    ON_SITE = "decided on site"


class Effort(Enum):
    """How it is ordered: by oneself, with one visit, with a planned shutdown, or after a study."""

    OWN = "by the owner"
    VISIT = "one visit"
    SHUTDOWN = "planned shutdown"
    ENGINEER = "engineer first"


class Danger(Enum):
    """What may happen until it is mended; among conditions of one priority the first comes first."""

    SHOCK_OR_FIRE = "shock or fire"
    ACCESS = "access or escape"
    LABEL = "label or record"

    @property
    def rank(self) -> int:
        """The place among the dangers, the gravest 0."""
        return list(Danger).index(self)


@dataclass(frozen=True, slots=True)
class Work:
    """Who mends it, whether power is off, how large it is, what the danger is, and whether it is out of reach.

    What nobody has said is told carefully: an electrician comes, decides on site, and it counts among the gravest.
    """

    trade: Trade = Trade.ELECTRICIAN
    power: Power = Power.ON_SITE
    effort: Effort = Effort.VISIT
    danger: Danger = Danger.SHOCK_OR_FIRE
    ladder: bool = False


USUAL = Work()
"""What is told of work about which nobody has said anything."""
