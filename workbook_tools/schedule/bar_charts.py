"""Charts of bars, drawn by the spreadsheet program from cells of the sheet that they stand on.

    insert_bars(page, top, column, bars, ...)   puts a chart beside its table
    Bars                                        one series: the column of its numbers, and its colours

Every colour repeats what a label says; the table beside has the same numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbook_tools.schedule.printed_page import PrintedPage
from workbook_tools.schedule.recorder import FONT

__all__ = ["Bars", "insert_bars"]

_EDGE = "#606060"


@dataclass(frozen=True, slots=True)
class Bars:
    """One series of bars: its name, the column of its numbers, and one colour or one for each bar."""

    name: str
    column: int
    colours: Sequence[str]


def insert_bars(
    page: PrintedPage,
    place: tuple[int, int],
    rows: tuple[int, int],
    bars: Sequence[Bars],
    *,
    size: tuple[int, int],
    says: str,
    labels: int = 0,
) -> None:
    """Put a chart at a cell: lying bars, one above the other where there are several series.

    Parameters
    ----------
    page : PrintedPage
        The sheet that holds the numbers and gets the chart.
    place : (row, column)
        The cell in whose corner the chart begins.
    rows : (first, last)
        The rows of the numbers.
    bars : sequence of Bars
        The series; several are put end to end, with a legend.
    size : (width, height)
        In pixels.
    says : str
        What the chart shows, for who cannot see it.
    labels : int, optional
        The column of the labels.
    """
    name, (first, last), several = page.sheet.name, rows, len(bars) > 1
    small = {"name": FONT, "size": 9}
    chart = page.recorder.workbook.add_chart(
        {"type": "bar", "subtype": "stacked"} if several else {"type": "bar"}
    )
    for one in bars:
        edge = {"color": _EDGE}
        chart.add_series(
            {
                "name": one.name,
                "categories": [name, first, labels, last, labels],
                "values": [name, first, one.column, last, one.column],
                **({"fill": {"color": one.colours[0]}, "border": edge} if len(one.colours) == 1 else
                   {"points": [{"fill": {"color": colour}, "border": edge} for colour in one.colours]}),
                **({} if several else {"data_labels": {"value": True, "font": small}}),
                "gap": 40,
            }
        )  # fmt: skip
    chart.set_legend({"position": "bottom", "font": small} if several else {"none": True})
    chart.set_title({"none": True})
    chart.set_y_axis(
        {"reverse": True, "num_font": small, "line": {"none": True}, "major_tick_mark": "none",
         "interval_unit": 1}  # without it some programs leave labels out
    )  # fmt: skip
    chart.set_x_axis({"visible": False, "major_gridlines": {"visible": False}, "min": 0})
    chart.set_chartarea({"border": {"none": True}})
    chart.set_size({"width": size[0], "height": size[1]})
    page.sheet.worksheet.insert_chart(
        *place, chart, {"object_position": 1, "x_offset": 4, "y_offset": 5, "description": says}
    )
