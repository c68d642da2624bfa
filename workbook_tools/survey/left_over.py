"""What of a text was read, and what stands there besides: words, marks and figures that nobody understood.

    left_over(text, read, words)      a sentence where something in the text says nothing about what was read
    loose_figures(text)               the same for figures that are no part of a voltage
    thousand_or_decimals(text)        the same for "1.200", which is 1200 in some countries and 1.2 in others
    COUNTED, PHASES_AND_WIRES, OF_A_VOLTAGE, OF_A_RATING    the words that are usual beside each

A value is taken where it can be; what was not understood whole is asked about with its text. The words are
common practice.
"""

from __future__ import annotations

import re

from workbook_tools.survey.written_numbers import NUMBER_WORDS

__all__ = ["COUNTED", "OF_A_RATING", "OF_A_VOLTAGE", "PHASES_AND_WIRES", "left_over", "loose_figures",
           "thousand_or_decimals"]  # fmt: skip

COUNTED = frozenset(
    (
        *NUMBER_WORDS, "x", "ea", "each", "pc", "pcs", "piece", "pieces", "no", "nos", "unit", "units", "item", "items",
        "place", "places", "time", "times", "motion", "motions", "move", "moves", "hand", "hands", "of", "the", "throw",
        "throws", "handle", "handles", "switch", "switches", "breaker", "breakers", "in", "all", "total", "only",
    )
)  # fmt: skip
PHASES_AND_WIRES = frozenset(
    (
        *NUMBER_WORDS, "single", "split", "ph", "phs", "phase", "phases", "p", "pole", "poles", "w", "wire", "wires", "g",
        "gnd", "ground", "n", "neutral", "plus", "and", "with", "hz", "φ", "ϕ",
    )
)  # fmt: skip
OF_A_VOLTAGE = PHASES_AND_WIRES | frozenset(
    (
        "v", "vac", "vdc", "volt", "volts", "voltage", "kv", "ac", "dc", "a", "amp", "amps", "ka", "kaic", "kva", "hertz",
        "cycle", "cycles", "y", "wye", "star", "delta", "d", "δ", "high", "hi", "wild", "stinger", "red", "crazy", "leg", "legs", "corner",
        "grounded", "ungrounded", "solidly", "resistance", "impedance", "low", "hrg", "center", "centre", "tap",
        "tapped", "mid", "midpoint", "open", "closed", "nominal", "nom", "system", "sys", "service", "line", "to", "l", "ll",
        "ln", "lg", "u", "ug", "primary", "secondary", "pri", "sec", "of", "the", "b", "c", "earth", "earthed",
        "x", "×",
    )
)  # fmt: skip
OF_A_RATING = frozenset(
    ("v", "vac", "vdc", "volt", "volts", "voltage", "kv", "ac", "dc", "max", "maximum", "rated", "rating", "y", "wye",
     "delta", "hz", "ph", "phase", "w", "wire", "p", "pole", "poles", "class", "nominal", "and", "insulation", "to", "up")
)  # fmt: skip

_NOT_SEEN_OR_NONE = re.compile(r"(?<![a-z])n\s?[./\\]\s?[va](?![a-z])")
_DOUBT = re.compile(r"[?~<>≈±≤≥]|\+\s*$")
_WORD = re.compile(r"[^\W\d_]+")
_OWN_UNIT = r"(?:ph|phs|phase|phases|φ|ϕ|p|pole|poles|w|wire|wires|hz|hertz|cycles?|a|amps?|ka|kaic|kva|g|c)"
_KILOVOLTS = r"\d+(?:\.\d+)?(?:\s*/\s*\d+(?:\.\d+)?)?\s*kv(?![a-z])"
_WITH_UNIT = re.compile(
    rf"{_KILOVOLTS}|\d+(?:\.\d+)?\s*-?\s*{_OWN_UNIT}(?![a-z])|(?:ph|phase|wire|w|g)\s*[-:=]?\s*\d\b|°\s*c"
)
_FIGURE = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?")
_LOWEST_VOLTS = 4.0  # below it no voltage stands on a placard
_THOUSAND = re.compile(r"(?<![\d.,])([1-9]\d{0,2})\.(\d{3})(?![\d.,])")


def left_over(text: str, read: object, words: frozenset[str]) -> str:
    """Return a sentence where a text holds something that says nothing about what was read.

    Examples
    --------
    >>> left_over("2 ea", 2, COUNTED), left_over("2 or more", 2, COUNTED)
    ('', "'2 or more' was read as 2; the rest of the text was not read")
    >>> left_over("480 N/V", "a voltage", OF_A_VOLTAGE)
    "'480 N/V' was read as a voltage; the rest of the text was not read"
    """
    plain = text.casefold().replace("ø", "ph")
    known = all(word in words for word in _WORD.findall(plain))
    if known and not _DOUBT.search(plain) and not _NOT_SEEN_OR_NONE.search(plain):
        return ""
    return f"{text.strip()!r} was read as {read}; the rest of the text was not read"


def loose_figures(text: str) -> str:
    """Return a sentence where figures stand beside a voltage that are neither volts nor phases nor wires.

    Examples
    --------
    >>> loose_figures("480Y/277 3PH 4W 60 Hz"), loose_figures("120/208 3ph4w"), loose_figures("4.16/2.4kV")
    ('', '', '')
    >>> loose_figures("480/277 2")
    "'480/277 2' was read as a voltage; the figure 2 was not read"
    """
    rest = _WITH_UNIT.sub(" ", text.casefold().replace("ø", "ph"))
    for figure in _FIGURE.findall(rest):
        if float(figure.replace(",", "")) < _LOWEST_VOLTS:
            return f"{text.strip()!r} was read as a voltage; the figure {figure} was not read"
    return ""


def thousand_or_decimals(text: str) -> str:
    """Return a sentence where a point can part thousands as well as decimals.

    Examples
    --------
    >>> thousand_or_decimals("1.200 A")
    "'1.200 A' was read as 1.2; it could also be 1200"
    >>> thousand_or_decimals("0.125"), thousand_or_decimals("112.5"), thousand_or_decimals("1,200.5")
    ('', '', '')
    """
    found = _THOUSAND.search(text)
    if found is None:
        return ""
    decimal = float(found[0])
    return f"{text.strip()!r} was read as {decimal:g}; it could also be {found[1]}{found[2]}"
