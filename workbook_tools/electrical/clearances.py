"""Working space: how much depth, width and height a code asks for.

    needed_depth, needed_width, needed_height   a Limit with its section and the reason
    least_depth                                 what is needed whatever was not seen
    projection_limit                            how far something may stand out over the front
    meets(limit, measured, profile)             the comparison, as a measuring person means it
    wall_counts_as_grounded(material)           for the opposite side

The row of the depth table is chosen by the voltage TO GROUND. Not here: the numbers
themselves (code_profiles), which equipment and how it is entered (equipment_spaces), nor how a length
is written (quantities).
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from typing import NamedTuple

from workbook_tools.electrical.code_profiles import CodeProfile, Figure, OlderAllowance, profile_of
from workbook_tools.electrical.quantities import Length

__all__ = [
    "CONDITIONS",
    "Limit",
    "least_depth",
    "meets",
    "needed_depth",
    "needed_height",
    "needed_width",
    "projection_limit",
    "wall_counts_as_grounded",
]

# What stands across the working space, with its condition number (NFPA 70) and letter (29 CFR 1910.303).
CONDITIONS = {"Clear": ("1", "A"), "Grounded": ("2", "B"), "Live parts": ("3", "C")}
_ACROSS = {
    "Clear": "nothing live or grounded",
    "Grounded": "something grounded",
    "Live parts": "live parts",
}


class Limit(NamedTuple):
    """A limit to compare a measured length with.

    ``inches`` and ``millimetres`` are the two PRINTED figures (None: nothing metric is
    printed). ``own`` marks a limit that is another measured length, the equipment's own
    width or height; ``at_most`` one that must not be exceeded.
    """

    inches: float
    millimetres: float | None
    section: str
    basis: str
    status: str
    why: str
    own: bool = False
    at_most: bool = False


def _built_before(year_built: int | date, allowance: OlderAllowance) -> bool:
    """Whether all of that year, or that day, lies before the date of the allowance."""
    if isinstance(year_built, int):
        return year_built < allowance.before.year
    return year_built < allowance.before


def needed_depth(
    profile: CodeProfile | str,
    volts_to_ground: float,
    opposite: str,
    year_built: int | date | None = None,
) -> Limit:
    """Depth of the working space in front of equipment.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    volts_to_ground : float
        Nominal voltage to ground, 0 or more: 277 for 480Y/277, 208 for the high leg of
        240/120. [V]
    opposite : str
        What stands across: "Clear" (condition 1, A), "Grounded" (2, B), "Live parts" (3, C).
    year_built : int or date, optional
        When the installation was built; opens the older allowances of the profile. A bare
        year counts as before a date only when all of it is.

    Returns
    -------
    limit : Limit
        The printed figures, their section, and the row as the reason.

    Raises
    ------
    ValueError
        A negative voltage, or another word for the opposite side.

    References
    ----------
    .. [1] NFPA 70 Table 110.26(A)(1) and Table 110.34(A) (NFPA70-2023 in sources.csv).
    .. [2] 29 CFR 1910.303 Table S-1 (WAC-296-24-95703 in sources.csv).

    Examples
    --------
    >>> needed_depth("nec-2023", 277, "Grounded")[:2], needed_depth("nec-2023", 120, "Grounded")[:2]
    ((42, 1000), (36, 900))
    >>> needed_depth("osha-1910", 120, "Clear", year_built=1975).inches
    30
    """
    rules = profile_of(profile)
    if opposite not in CONDITIONS:
        raise ValueError(f"opposite must be one of {', '.join(CONDITIONS)}, not {opposite!r}")
    if not volts_to_ground >= 0:
        raise ValueError(f"volts_to_ground must be 0 or more, not {volts_to_ground!r}")
    row = next((row for row in rules.depth if volts_to_ground <= row.volts_max), None)
    if row is None:
        raise ValueError(f"volts_to_ground is {volts_to_ground!r}; the table of {rules.name} ends below it")
    figure = {"Clear": row.clear, "Grounded": row.grounded, "Live parts": row.live_parts}[opposite]
    why = f"{volts_to_ground:g} V to ground with {_ACROSS[opposite]} opposite"
    if year_built is not None:
        for allowance in rules.older:
            cell = (opposite, row.volts_max) in allowance.cells
            if allowance.what == "depth" and cell and _built_before(year_built, allowance):
                return Limit(*allowance.figure, f"{why}, built before {allowance.before:%d %B %Y}")
    return Limit(*figure, why)


def least_depth(
    profile: CodeProfile | str,
    volts_to_ground: Collection[float],
    opposite: str | None,
    year_built: int | date | None = None,
) -> Limit:
    """Depth that is needed under every reading of what was not seen: a shortfall of it is certain.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    volts_to_ground : collection of float
        The voltages to ground that are possible; empty where any is. [V]
    opposite : str or None
        What stands across; None where that is not known.
    year_built : int or date, optional
        As in needed_depth.

    Returns
    -------
    limit : Limit
        That of the lowest voltage with nothing opposite: the depth rises with both.

    Examples
    --------
    >>> least_depth("nec-2023", [], None).inches, least_depth("nec-2023", [480, 277], "Live parts").inches
    (36, 48)
    """
    least = needed_depth(profile, min(volts_to_ground, default=0), opposite or "Clear", year_built)
    volts = " or ".join(f"{volts:g} V to ground" for volts in sorted(set(volts_to_ground))) or "any voltage"
    across = _ACROSS[opposite] if opposite is not None else "whatever is"
    return least._replace(why=f"{volts} with {across} opposite")


def needed_width(
    profile: CodeProfile | str, equipment_width: Length | None, volts_to_ground: float | None = None
) -> Limit:
    """Width of the working space: the printed minimum or the equipment's own width.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    equipment_width : Length or None
        Width of the equipment; None when it is not known.
    volts_to_ground : float, optional
        Nominal voltage to ground; above the profile's high voltage the minimum is greater. [V]

    Returns
    -------
    limit : Limit
        The greater of the two; ``own`` when it is the equipment's width.

    References
    ----------
    .. [1] NFPA 70 110.26(A)(2) (NFPA70-2023 in sources.csv); 110.32, from memory.

    Examples
    --------
    >>> from workbook_tools.electrical import read_length
    >>> needed_width("nec-2023", read_length("20")).inches, needed_width("nec-2023", read_length("90")).inches
    (30, 90.0)
    >>> needed_width("nec-2023", read_length("20"), volts_to_ground=2400).inches
    36
    """
    rules = profile_of(profile)
    high = rules.high_voltage_at(volts_to_ground)
    figure, above = (
        (rules.width, "") if high is None else (high.width, f" above {high.above.number:g} V to ground")
    )
    return _greater(figure, equipment_width, "width", above)


def needed_height(
    profile: CodeProfile | str,
    equipment_height: Length | None = None,
    year_built: int | date | None = None,
) -> Limit:
    """Height of the working space: the printed minimum or the equipment's own height.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    equipment_height : Length or None
        Height of the top of the equipment; None when it is not known.
    year_built : int or date, optional
        When the installation was built, for the older allowances of the profile.

    Returns
    -------
    limit : Limit
        The greater of the two; ``own`` when it is the equipment's height.

    References
    ----------
    .. [1] NFPA 70 110.26(A)(3) (NFPA70-2023 in sources.csv).
    .. [2] 29 CFR 1910.303(g)(1)(vi) (WAC-296-800-28027 in sources.csv).

    Examples
    --------
    >>> needed_height("nec-2023").inches, needed_height("osha-1910", year_built=2000).inches
    (78, 75)
    """
    rules = profile_of(profile)
    figure, built = rules.height, ""
    if year_built is not None:
        for allowance in rules.older:
            if allowance.what == "height" and _built_before(year_built, allowance):
                figure, built = allowance.figure, f" for what was built before {allowance.before:%d %B %Y}"
    return _greater(figure, equipment_height, "height", built)


def _greater(figure: Figure, own: Length | None, what: str, where: str = "") -> Limit:
    if own is not None and own.inches > figure.inches:
        why = f"the equipment's own {what}"
        return Limit(own.inches, own.millimetres, figure.section, why, "measured", why, own=True)
    return Limit(*figure, f"the least {what}{where}")


def projection_limit(profile: CodeProfile | str) -> Limit:
    """How far other equipment above or below may stand out beyond the front.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.

    Returns
    -------
    limit : Limit
        With ``at_most`` set.

    References
    ----------
    .. [1] NFPA 70 110.26(A)(3) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> projection_limit("nec-2023")[:2]
    (6, 150)
    """
    return Limit(
        *profile_of(profile).projection, "the most that may stand out beyond the front", at_most=True
    )


def meets(limit: Limit, measured: Length, profile: CodeProfile | str) -> bool:
    """Whether a measured length meets a limit, the measuring tolerance allowed.

    A reading in inches or feet is compared with the inch figure; a metric reading passes
    when it meets either printed figure. Against the equipment's own width or height the two
    lengths are compared exactly.

    Parameters
    ----------
    limit : Limit
        From one of the functions above.
    measured : Length
        What was measured, in the unit it was measured in.
    profile : CodeProfile or str
        The code profile, for its measuring tolerance.

    Returns
    -------
    passes : bool
        True when the limit is met.

    Examples
    --------
    >>> from workbook_tools.electrical import read_length
    >>> height = needed_height("nec-2023")
    >>> meets(height, read_length("1981 mm"), "nec-2023"), meets(height, read_length("76"), "nec-2023")
    (True, False)
    """
    rules = profile_of(profile)
    if measured.metric:
        figures = [limit.inches * 25.4]
        if limit.millimetres is not None:
            figures.append(limit.millimetres)
        found, allowed = measured.millimetres, rules.tolerance_mm
    else:
        figures, found, allowed = [limit.inches], measured.inches, rules.tolerance_in
    allowed += 1e-6  # what the arithmetic of fractions leaves behind
    return found <= max(figures) + allowed if limit.at_most else found >= min(figures) - allowed


def wall_counts_as_grounded(material: str) -> bool:
    """Whether a wall of this material counts as grounded, so that "Grounded" stands opposite.

    Parameters
    ----------
    material : str
        "concrete", "brick", "tile", "concrete block", "gypsum board on studs" …

    Returns
    -------
    grounded : bool
        True for concrete, brick, tile and block.

    References
    ----------
    .. [1] NFPA 70 Table 110.26(A)(1), note (NFPA70-2023 in sources.csv): concrete, brick, tile.
       Block is read as concrete: common practice.

    Examples
    --------
    >>> wall_counts_as_grounded("concrete block"), wall_counts_as_grounded("gypsum board on studs")
    (True, False)
    """
    words = material.lower()
    return any(word in words for word in ("concrete", "brick", "tile", "block", "masonry", "cmu"))
