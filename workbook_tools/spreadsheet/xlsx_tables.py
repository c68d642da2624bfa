"""The two tables of an .xlsx file that its sheets point into.

    read_strings     the shared texts, by index
    read_formats     the number format code of every cell style, by index
    plain            _x000D_ and the like as the characters they stand for

Not here: cells (xlsx_sheet), what a format code makes of a number (number_formats).
"""

from __future__ import annotations

import re

from workbook_tools.spreadsheet.number_formats import BUILT_IN, whole_number
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xml_stream import DEEPEST, LocalNames, read_elements

__all__ = ["plain", "read_formats", "read_strings"]

MOST_STRINGS = 4_000_000

# ECMA-376 part 1, 22.9.2.19 ST_Xstring: a character that XML cannot hold, or "_x005F_" for
# the underscore that begins such an escape (from memory).
ESCAPE = re.compile(r"(?:_x[0-9A-Fa-f]{4}_)+")


def plain(text: str) -> str:
    r"""Text with its escapes resolved; escapes of control characters stay as they are.

    Examples
    --------
    >>> plain("two_x000D_\nlines"), plain("_x005F_x000D_"), plain("_xD83D__xDD0C_") == "\U0001f50c"
    ('two\r\nlines', '_x000D_', True)
    """
    return ESCAPE.sub(_character, text) if "_x" in text else text


def _character(found: re.Match[str]) -> str:
    codes = [int(escape[:4], 16) for escape in found.group().split("_x")[1:]]
    if any(code < 32 and code not in (9, 10, 13) for code in codes):
        return found.group()
    try:
        return b"".join(code.to_bytes(2, "little") for code in codes).decode("utf-16-le")
    except UnicodeDecodeError:
        return found.group()


def read_strings(package: Package, part: str) -> tuple[list[str], list[str]]:
    """Shared texts in order; runs of a rich text joined, reading aids left out."""
    strings: list[str] = []
    pieces: list[str] = []
    words: list[str] = []
    names = LocalNames()
    aids = depth = 0

    def start(tag: str, _: dict[str, str]) -> None:
        nonlocal aids, depth
        name = names[tag]
        depth += 1
        if depth > DEEPEST:
            raise ValueError("elements too deep")
        words.clear()
        if name == "si":
            pieces.clear()
        elif name == "rPh":
            aids += 1

    def end(tag: str) -> None:
        nonlocal aids, depth
        name = names[tag]
        depth -= 1
        if name == "t":
            if not aids:
                pieces.append("".join(words))
        elif name == "si":
            if len(strings) >= MOST_STRINGS:
                raise package.too_large()
            strings.append(plain("".join(pieces)))
        elif name == "rPh":
            aids -= 1

    return strings, read_elements(package.chunks(part), start, end, words.append)


def read_formats(package: Package, part: str) -> tuple[list[str], list[str]]:
    """Give the number format code of each cell style, in the order that cells count them."""
    tree, breaks = package.tree(part)
    if tree.first("styleSheet") is None:
        breaks.append("no styles")
    codes = dict(BUILT_IN)
    for node in tree.walk("numFmt"):
        number = whole_number(node.attributes.get("numFmtId"))
        if number is not None:
            codes[number] = node.attributes.get("formatCode", "General")
    styles = tree.first("cellXfs")
    formats: list[str] = []
    for node in styles.children if styles is not None else ():
        number = whole_number(node.attributes.get("numFmtId", "0"))
        formats.append("General" if number is None else codes.get(number, "General"))
    return formats, breaks
