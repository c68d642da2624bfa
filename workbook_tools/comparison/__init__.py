"""Two surveys of one building, held against each other: what is new, gone, changed, mended, still there.

    compare_checked(last, this, same)   a Comparison
    Comparison                          equipment and issues that differ or stay, and what is to be known
    since_last(comparison)              the same as the client schedule prints it
    comparison_json(comparison)         the same as one object

A tag that seems to have been renamed is asked about, never guessed; an issue counts as mended only
where this year's survey shows it.

Not here: how a survey is read (survey), what is wrong in it (rules), how the sheets look (schedule).
"""

from workbook_tools.comparison.comparing import compare_checked
from workbook_tools.comparison.model import Comparison, comparison_json
from workbook_tools.comparison.since import since_last

__all__ = ["Comparison", "compare_checked", "comparison_json", "since_last"]
