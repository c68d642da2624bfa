"""Many sites in one workbook: surveys, issues, counts, and what changed over the years.

    record_one(look)                   what is kept of one survey, from a process of its own
    gather(records)                    all of them with their sites, and which of them are counted
    roll_up(gathered)                  the counts, by pandas
    write_overview(rolled, path)       the workbook; returns what each cell was meant to hold
    data_tables(rolled)                the same as tables of data

Not here: how surveys are found and read (sites), what an issue is (schedule).
"""

from workbook_tools.portfolio.gathered import Gathered, gather
from workbook_tools.portfolio.records import SiteRecord, record_one
from workbook_tools.portfolio.rolled_up import RolledUp, roll_up
from workbook_tools.portfolio.sheets import write_overview
from workbook_tools.portfolio.tables import data_tables

__all__ = [
    "Gathered",
    "RolledUp",
    "SiteRecord",
    "data_tables",
    "gather",
    "record_one",
    "roll_up",
    "write_overview",
]
