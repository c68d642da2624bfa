"""Names that other rows refer to, and texts that fit into a cell.

    one_line(text)      the text without line ends and what nobody sees
    fitting(text)       one line, as long as a cell may be; NOT_KNOWN for nothing
    Names               gives each thing a name that no other thing of the sheet has
    address(...)        an e-mail address that cannot belong to anybody
    address_in(lines)   the first e-mail address in a firm's lines, or ""

Not here: what is named (building).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from workbook_tools.handover.model import MOST_CHARACTERS, NOT_KNOWN
from workbook_tools.schedule.recorder import printable

__all__ = ["Names", "address", "address_in", "fitting", "one_line"]

_CUT = "..."
_EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+", re.ASCII)
_NO_ADDRESS = re.compile(r"[^a-z0-9]+")


def one_line(text: str) -> str:
    """Return a text as it can be printed, in one line."""
    return " ".join(printable(text).split())


def fitting(text: str) -> str:
    r"""Return a text as it stands in a cell.

    Examples
    --------
    >>> fitting(" two\nlines "), fitting(""), len(fitting("x" * 300))
    ('two lines', 'n/a', 255)
    """
    line = one_line(text)
    if len(line) > MOST_CHARACTERS:
        return line[: MOST_CHARACTERS - len(_CUT)].rstrip() + _CUT
    return line or NOT_KNOWN


class Names:
    """The names of one sheet. No two are the same in any case, and none holds a comma: a list of names is parted by it."""

    def __init__(self) -> None:
        self._taken: dict[str, int] = {NOT_KNOWN: 1}

    def distinct(self, wanted: str) -> str:
        """Return the name, or one like it that is not taken.

        Examples
        --------
        >>> names = Names()
        >>> names.distinct("DP-1"), names.distinct("dp-1"), names.distinct("DP-1 (2)"), names.distinct("A, B")
        ('DP-1', 'dp-1 (2)', 'DP-1 (2) (2)', 'A; B')
        """
        name = fitting(wanted.replace(",", ";"))
        count = self._taken.get(name.casefold(), 0) + 1
        found = name
        while found.casefold() in self._taken:
            more = f" ({max(count, 2)})"
            found = name[: MOST_CHARACTERS - len(more)].rstrip() + more
            count = max(count, 2) + 1
        self._taken[name.casefold()] = count
        self._taken.setdefault(found.casefold(), 1)
        return found


def address(wanted: str, other: str) -> str:
    """Return an address in a domain that nobody can have (RFC 2606, section 2: .invalid).

    Examples
    --------
    >>> address("Marlowe & Co.", "maker"), address("--", "maker")
    ('marlowe-co@example.invalid', 'maker@example.invalid')
    """
    letters = unicodedata.normalize("NFKD", wanted).encode("ascii", "ignore").decode().casefold()
    return f"{_NO_ADDRESS.sub('-', letters).strip('-')[:60].strip('-') or other}@example.invalid"


def address_in(lines: Iterable[str]) -> str:
    """Return the first e-mail address in the lines under a firm's name, "" where there is none."""
    return next((found[0] for line in lines if (found := _EMAIL.search(line))), "")
