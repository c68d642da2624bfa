"""Whether one text is another one mistyped: a letter more, less or different, or two of them changed about.

slips(typed, meant, most)    how many such slips lie between the two; more than `most` where there are more
allowed(typed)               how many a text of that length may have and still be told from another
is_tail(typed, meant)        whether one ends with the whole of the other, as "did alert" with "alert"
"""

from __future__ import annotations

__all__ = ["allowed", "is_tail", "slips"]

_ONE_FROM, _TWO_FROM = (
    4,
    12,
)  # letters: in a shorter text as many slips make another word ("meter can", "meter main")


def allowed(typed: str) -> int:
    """Return how many slips a text may have: none in three letters, one up to eleven, two in a longer one."""
    return (len(typed) >= _ONE_FROM) + (len(typed) >= _TWO_FROM)


def slips(typed: str, meant: str, most: int) -> int:
    """Return the number of slips between two texts, or `most` + 1 where there are more.

    Examples
    --------
    >>> slips("panelbaord", "panelboard", 2), slips("brik", "brick", 1), slips("grounded", "concrete", 2)
    (1, 1, 3)
    """
    # A slip changes the length by one and the letters that there are by two: most texts are told apart by that.
    if abs(len(typed) - len(meant)) > most or len(set(typed) ^ set(meant)) > 2 * most:
        return most + 1
    before: list[int] = []
    row = list(range(len(meant) + 1))
    for at, letter in enumerate(typed, 1):
        earlier, before, row = before, row, [at]
        for place, wanted in enumerate(meant, 1):
            cost = min(before[place] + 1, row[-1] + 1, before[place - 1] + (letter != wanted))
            if at > 1 and place > 1 and letter == meant[place - 2] and typed[at - 2] == wanted:
                cost = min(cost, earlier[place - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return most + 1
    return min(row[-1], most + 1)


def is_tail(typed: str, meant: str) -> bool:
    """Whether one of two different texts ends with the whole of the other: what comes before may turn it round.

    Examples
    --------
    >>> is_tail("didalert", "alert"), is_tail("safe", "unsafe"), is_tail("alrt", "alert")
    (True, True, False)
    """
    long, short = sorted((typed, meant), key=len, reverse=True)
    return len(short) >= _ONE_FROM and long != short and long.endswith(short)
