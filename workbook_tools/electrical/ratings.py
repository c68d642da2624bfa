"""Standard ampere ratings of fuses and circuit breakers.

    standard_ratings(profile)              the printed table
    fuse_only_ratings(profile)             the additional ratings of fuses alone
    is_standard, rating_neighbours, next_standard_rating

The list is in standard_ampere_ratings.csv beside this module. A rating that is not standard
is allowed; it is a reason to read the nameplate again. Not here: which device protects what
(currents has the limits for transformers).
"""

from __future__ import annotations

import csv
from functools import lru_cache
from pathlib import Path

from workbook_tools.electrical.code_profiles import CodeProfile, profile_of

__all__ = [
    "fuse_only_ratings",
    "is_standard",
    "next_standard_rating",
    "rating_neighbours",
    "standard_ratings",
]


def standard_ratings(profile: CodeProfile | str = "nec-2023") -> tuple[int, ...]:
    """Return the ratings that are standard for fuses and inverse-time circuit breakers alike.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name. 10 A entered the table in 2023; before, it was an
        additional fuse rating.

    Returns
    -------
    amperes : tuple of int
        Rising. [A]

    References
    ----------
    .. [1] NFPA 70 Table 240.6(A) (NFPA70-2023 in sources.csv; the 2020 list as adopted in CEC-2022).

    Examples
    --------
    >>> len(standard_ratings("nec-2023")), len(standard_ratings("nec-2020"))
    (38, 37)
    """
    return _ratings(profile_of(profile).ratings_list)[0]


def fuse_only_ratings(profile: CodeProfile | str = "nec-2023") -> tuple[int, ...]:
    """Return the additional ratings that are standard for fuses alone.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.

    Returns
    -------
    amperes : tuple of int
        Rising. [A]

    References
    ----------
    .. [1] NFPA 70 240.6(A) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> fuse_only_ratings("nec-2023"), fuse_only_ratings("nec-2020")
    ((1, 3, 6, 601), (1, 3, 6, 10, 601))
    """
    return _ratings(profile_of(profile).ratings_list)[1]


def is_standard(amps: float, profile: CodeProfile | str = "nec-2023", *, fuse: bool = False) -> bool:
    """Whether a rating is standard; 1, 3, 6 and 601 A only for a fuse.

    Parameters
    ----------
    amps : float
        Ampere rating, above 0. [A]
    profile : CodeProfile or str
        The code profile, or its name.
    fuse : bool, optional
        True for a fuse, whose additional ratings count too.

    Returns
    -------
    standard : bool
        Looked up, never interpolated.

    Raises
    ------
    ValueError
        A rating that is not above 0.

    Examples
    --------
    >>> is_standard(225), is_standard(75), is_standard(601), is_standard(601, fuse=True)
    (True, False, False, True)
    """
    return _above_zero(amps) in _choices(profile, fuse)


def rating_neighbours(
    amps: float, profile: CodeProfile | str = "nec-2023", *, fuse: bool = False
) -> tuple[int | None, int | None]:
    """Return the standard ratings below and above a rating, the rating itself left out.

    Parameters
    ----------
    amps : float
        Ampere rating, above 0. [A]
    profile : CodeProfile or str
        The code profile, or its name.
    fuse : bool, optional
        True for a fuse, whose additional ratings count too.

    Returns
    -------
    below, above : int or None
        None where the list ends. [A]

    Raises
    ------
    ValueError
        A rating that is not above 0.

    Examples
    --------
    >>> rating_neighbours(75), rating_neighbours(100), rating_neighbours(6000)
    ((70, 80), (90, 110), (5000, None))
    """
    _above_zero(amps)
    choices = _choices(profile, fuse)
    below = [rating for rating in choices if rating < amps]
    above = [rating for rating in choices if rating > amps]
    return (below[-1] if below else None, above[0] if above else None)


def next_standard_rating(
    amps: float, profile: CodeProfile | str = "nec-2023", *, fuse: bool = False
) -> int | None:
    """Return the smallest standard rating that is not below a current.

    Parameters
    ----------
    amps : float
        Current, above 0. [A]
    profile : CodeProfile or str
        The code profile, or its name.
    fuse : bool, optional
        True for a fuse, whose additional ratings count too.

    Returns
    -------
    rating : int or None
        None above the highest rating of the list. [A]

    Raises
    ------
    ValueError
        A current that is not above 0.

    Examples
    --------
    >>> next_standard_rating(112.8), next_standard_rating(601), next_standard_rating(15)
    (125, 700, 15)
    """
    _above_zero(amps)
    return next((rating for rating in _choices(profile, fuse) if rating >= amps), None)


def _above_zero(amps: float) -> float:
    if not 0 < amps < float("inf"):
        raise ValueError(f"amps must be above 0, not {amps!r}")
    return amps


def _choices(profile: CodeProfile | str, fuse: bool) -> tuple[int, ...]:
    both, fuse_only = _ratings(profile_of(profile).ratings_list)
    return tuple(sorted((*both, *fuse_only))) if fuse else both


@lru_cache(maxsize=4)
def _ratings(edition: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    with open(Path(__file__).with_name("standard_ampere_ratings.csv"), encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    column = f"list_{edition}"
    if column not in rows[0]:
        raise ValueError(f"there is no list of standard ratings for {edition}")
    both = tuple(int(row["amperes"]) for row in rows if row[column] == "both")
    fuse = tuple(int(row["amperes"]) for row in rows if row[column] == "fuse")
    return tuple(sorted(both)), tuple(sorted(fuse))
