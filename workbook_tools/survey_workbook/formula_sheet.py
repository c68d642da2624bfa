"""A sheet on which the formula of a column is stated once, and whose rows grow with what is typed.

    FormulaSheet                          a sheet of the spreadsheet library, for formulas of ours
        .formulas_down(formula, column, last_row)   what to write in each row of a column

The first cell of the column holds the formula; those below say that they share it, as a spreadsheet
program does when somebody fills a formula down. The file is a third as long, and sooner read.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xlsxwriter.worksheet import CellFormulaTuple, Worksheet

from workbook_tools.survey_workbook.layout import FIRST_ROW

__all__ = ["FormulaSheet"]

OF_ANOTHER_SHEET = "!$"
"""In a formula that reads another sheet. Spreadsheet programs share none of these when they write (from memory)."""


TOGETHER = 90
"""Rows of a column whose formulas are alike to the letter; the next so many stand in parentheses.

LibreOffice 7.4 computes a hundred and more alike on several threads, and then leaves the first row of some
columns wrong when it computes a file anew (seen, and not with SC_FORCE_CALCULATION=core; test_row_check).
"""


class _Shared(str):
    """The element of a formula that several cells share."""

    __slots__ = ()


class FormulaSheet(Worksheet):  # type: ignore[misc]  # the library ships no types
    """A sheet of the spreadsheet library whose cells can share a formula."""

    shared = 0
    """How many formulas are shared so far."""

    def formulas_down(
        self, formula: str, column: str, last_row: int, first_row: int = FIRST_ROW
    ) -> Sequence[str]:
        """Return what `write_formula` takes for each row of a column, by its letters, from a first row to a last.

        `formula` begins with = and says {r} where the number of its row goes.
        """
        stated: list[str] = []
        for first in range(first_row, last_row + 1, TOGETHER):
            last = min(first + TOGETHER - 1, last_row)
            bare = formula.removeprefix("=")
            stated += self._block(bare if first // TOGETHER % 2 == 0 else f"({bare})", column, first, last)
        return stated

    def _block(self, formula: str, column: str, first: int, last: int) -> Sequence[str]:
        if OF_ANOTHER_SHEET in formula or first == last:
            parts = formula.split("{r}")
            return [str(row).join(parts) for row in range(first, last + 1)]
        number, self.shared = self.shared, self.shared + 1
        stated = self._escape_data(formula.replace("{r}", str(first)))
        head = f'<f t="shared" ref="{column}{first}:{column}{last}" si="{number}">{stated}</f>'
        return [_Shared(head), *[_Shared(f'<f t="shared" si="{number}"/>')] * (last - first)]

    def _xml_start_tag_unencoded(self, tag: str, attributes: Sequence[tuple[str, Any]] = ()) -> None:
        super()._xml_start_tag_unencoded(tag, _growing(attributes))

    def _xml_empty_tag_unencoded(self, tag: str, attributes: Sequence[tuple[str, Any]] = ()) -> None:
        super()._xml_empty_tag_unencoded(tag, _growing(attributes))

    def _write_sheet_format_pr(self) -> None:
        # The height of a row on which nothing is typed; stated as somebody's own it would be that of all, for good.
        self._xml_empty_tag("sheetFormatPr", [("defaultRowHeight", f"{self.default_row_height * 0.75:g}")])

    def _write_formula(self, row: int, column: int, formula: str, style: Any = None, result: Any = 0) -> int:
        # The library looks into every formula for what none of ours has; of shared ones it sees the element alone.
        if not isinstance(formula, _Shared):
            return int(super()._write_formula(row, column, formula, style, result))
        if self._check_dimensions(row, column):
            return -1
        self.table[row][column] = CellFormulaTuple(formula, style, result)
        return 0

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        # The library searches every formula for some thirty new functions; none of ours has one,
        # and with long formulas on every row the search takes four fifths of the time.
        return formula if isinstance(formula, _Shared) else formula.removeprefix("=")

    def _xml_formula_element(
        self, formula: str, result: Any, attributes: Sequence[tuple[str, Any]] = ()
    ) -> None:
        if not isinstance(formula, _Shared):
            super()._xml_formula_element(formula, result, attributes)
            return
        stated = "".join(f' {name}="{value}"' for name, value in attributes)
        self.fh.write(f"<c{stated}>{formula}<v>{self._escape_data(result)}</v></c>")


def _growing(attributes: Sequence[tuple[str, Any]]) -> list[tuple[str, Any]]:
    """Return the attributes of a row without the word that its height is somebody's own: it follows what is typed."""
    return [pair for pair in attributes if pair[0] != "customHeight"]
