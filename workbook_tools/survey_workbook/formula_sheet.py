"""A sheet on which the formula of a column is stated once.

    FormulaSheet                          a sheet of the spreadsheet library, for formulas of ours
        .formulas_down(formula, column)   what to write in each row of a column, from FIRST_ROW on

The first cell of the column holds the formula; those below say that they share it, as a spreadsheet
program does when somebody fills a formula down. The file is a third as long, and sooner read.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from xlsxwriter.worksheet import Worksheet

from workbook_tools.survey_workbook.layout import FIRST_ROW

__all__ = ["FormulaSheet"]

OF_ANOTHER_SHEET = "!$"
"""In a formula that reads another sheet. Spreadsheet programs share none of these when they write (from memory)."""


class _Shared(str):
    """The element of a formula that several cells share."""

    __slots__ = ()


class FormulaSheet(Worksheet):  # type: ignore[misc]  # the library ships no types
    """A sheet of the spreadsheet library whose cells can share a formula."""

    shared = 0
    """How many formulas are shared so far."""

    def formulas_down(self, formula: str, column: str, last_row: int) -> Sequence[str]:
        """Return what `write_formula` takes for each row of a column, by its letters.

        `formula` begins with = and says {r} where the number of its row goes.
        """
        rows = range(FIRST_ROW, last_row + 1)
        if OF_ANOTHER_SHEET in formula or len(rows) < 2:
            parts = formula.split("{r}")
            return [str(row).join(parts) for row in rows]
        number, self.shared = self.shared, self.shared + 1
        stated = self._escape_data(formula.removeprefix("=").replace("{r}", str(FIRST_ROW)))
        first = f'<f t="shared" ref="{column}{FIRST_ROW}:{column}{last_row}" si="{number}">{stated}</f>'
        return [_Shared(first), *[_Shared(f'<f t="shared" si="{number}"/>')] * (len(rows) - 1)]

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
