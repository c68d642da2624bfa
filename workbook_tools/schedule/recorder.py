"""Writing that remembers: what each cell was meant to hold, for the proof after writing.

    Recorder(path, firm)      the workbook, its styles, and what was meant
    RecordedSheet             one sheet; text, number, blank, merged cells
    printable(text)           a text as it can be printed, in the workbook and in the PDF

Nothing that a person typed can become a formula or a link: texts are written as texts, and
one that begins like a formula is marked as quoted, so that it stays one when it is edited.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from workbook_tools.definitions.model import Firm

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

__all__ = ["FONT", "Meant", "RecordedSheet", "Recorder", "Style", "Target", "printable"]

Meant = dict[str, dict[tuple[int, int], Any]]
"""Sheet -> (row, column) from 0 -> the value that stands there."""

Target = tuple[str, str | int]
"""What a link leads to: ("issue", "K74MP"), ("row", 12), ("photo", 7)."""

_MOST_LINKS = 60_000
"""A sheet holds 65,530 links; what is beyond stays without."""

FONT = "Arial"
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ud800-\udfff\ufeff"
    "\ufff9-\ufffb\ufffe\uffff\U000e0000-\U000e007f]"
)
"""Controls, half characters, and what nobody sees: marks of direction, which can make a line read backwards, spaces
without width, soft hyphens, tags. The joiners stay: words of some languages are written with them."""

_LINE_ENDS = re.compile("\r\n|[\r\x85\u2028\u2029]")
_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "'")


def printable(text: str) -> str:
    r"""Return the text as it can be printed: without controls, half characters, and marks that nobody sees.

    Examples
    --------
    >>> printable("a\x07b\r\nc\td\ud800 e\u202ef")
    'ab\nc d ef'
    """
    if text.isprintable():
        return text
    return _UNSEEN.sub("", _LINE_ENDS.sub("\n", text).replace("\t", " "))


class Recorder:
    """A workbook being written, and what was meant by it.

    Use it as a context manager; the file is complete when the block ends.
    """

    def __init__(self, path: Path, firm: Firm) -> None:
        import xlsxwriter

        self.firm = firm
        self.meant: Meant = {}
        self._targets: dict[Target, tuple[str, int]] = {}
        self._links: list[tuple[RecordedSheet, int, int, Target]] = []
        self.workbook = xlsxwriter.Workbook(
            str(path),
            {
                "strings_to_formulas": False,
                "strings_to_urls": False,
                "strings_to_numbers": False,
                "in_memory": True,
                # Column widths count digits of this font. At 9.5 a digit is 7 pixels in every program; at 9 or 10
                # one program rounds it and another does not, and columns differ by 5 % (measured).
                "default_format_properties": {"font_name": FONT, "font_size": 9.5},
            },
        )
        self._styles: dict[tuple[tuple[str, Any], ...], Style] = {}

    def sheet(self, name: str) -> RecordedSheet:
        """Add a sheet."""
        self.meant[name] = {}
        return RecordedSheet(self, name, self.workbook.add_worksheet(name), self.meant[name])

    def style(self, properties: Mapping[str, Any]) -> Style:
        """Return the style with these properties; each is made once."""
        key = tuple(sorted(properties.items()))
        made = self._styles.get(key)
        if made is None:
            made = self._styles[key] = Style(self, {"font_name": FONT, "font_size": 9, **properties})
        return made

    def target(self, sheet: RecordedSheet, row: int, target: Target) -> None:
        """Say that something stands in this row, so that links lead there; the first place counts."""
        self._targets.setdefault(target, (sheet.name, row))

    def place_of(self, target: Target) -> str:
        """Return where something stands that has been written, as a link says it; "" where it has not."""
        if target not in self._targets:
            return ""
        name, row = self._targets[target]
        return f"internal:'{name}'!A{row + 1}"

    def link(self, sheet: RecordedSheet, row: int, column: int, target: Target) -> None:
        """Let a cell lead to something, wherever it is written, now or later; it must hold a text by the end."""
        self._links.append((sheet, row, column, target))

    def __enter__(self) -> Self:
        """Begin writing."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Write the file, unless something went wrong."""
        if kind is None:
            for sheet, row, column, target in self._links[:_MOST_LINKS]:
                if there := self.place_of(target):
                    sheet.lead(row, column, there)
            self.workbook.close()


class Style:
    """A format of the workbook, and the same for texts that begin like a formula."""

    def __init__(self, recorder: Recorder, properties: dict[str, Any]) -> None:
        self.format: Format = recorder.workbook.add_format(properties)
        self._recorder = recorder
        self._properties = properties

    @cached_property
    def quoted(self) -> Format:
        """The format for a text that begins like a formula: it stays a text when somebody edits it."""
        made: Format = self._recorder.workbook.add_format({**self._properties, "quote_prefix": True})
        return made


class RecordedSheet:
    """One sheet. Every write goes through here and is remembered."""

    def __init__(
        self, recorder: Recorder, name: str, worksheet: Worksheet, meant: dict[tuple[int, int], Any]
    ) -> None:
        self.recorder = recorder
        self.name = name
        self.worksheet = worksheet
        self._meant = meant
        self._texts: dict[tuple[int, int], Format] = {}

    def text(self, row: int, column: int, text: str, style: Style) -> None:
        """Write a text, or a blank cell of that style where it is empty."""
        if not text:
            self.worksheet.write_blank(row, column, None, style.format)
            return
        text = printable(text)
        quoted = text.startswith(_LIKE_A_FORMULA) and len(text) > 1
        look = style.quoted if quoted else style.format
        refused = self.worksheet.write_string(row, column, text, look)
        if refused:
            raise ValueError(f"{self.name}: a text of {len(text)} characters does not fit into a cell")
        self._meant[row, column] = text
        self._texts[row, column] = look

    def lead(self, row: int, column: int, to: str) -> None:
        """Let a cell that holds a text lead somewhere; its text and its look stay."""
        if (row, column) in self._texts:
            self.worksheet.write_url(row, column, to, self._texts[row, column], str(self._meant[row, column]))

    def number(self, row: int, column: int, number: float, style: Style) -> None:
        """Write a number; the style holds its number format."""
        self.worksheet.write_number(row, column, number, style.format)
        self._meant[row, column] = number

    def merged(self, row: int, first: int, last: int, text: str, style: Style) -> None:
        """Write a text over several columns of one row."""
        if last > first:
            self.worksheet.merge_range(row, first, row, last, "", style.format)
        self.text(row, first, text, style)
