"""What the client receives, and what the firm keeps.

    judge(problems, review)          what goes to the client, what stays, what is open
    open_of_review(...)              what is open about a review and its signature; unmatched(...) about its rows
    delivered_otherwise(...)         answers that an earlier delivery under the same signature had otherwise
    put_in_place(order)              write everything, prove it, put it in place
    Order, Delivered                 a delivery as decided; the folder, its files, and what to tell

A delivery is one folder:

    schedule.xlsx      the client schedule, proved cell by cell before it is put in place
    schedule.pdf       the same, typeset for paper and for screen readers
    photos/            photo-001.jpg, ...: upright, scaled, without position or other metadata
    data/              one CSV file for each table, described by datapackage.json
    schedule.json      everything that the client reads, for another program
    handover.xlsx      where it is asked for: COBie sheets, which facility systems take

Beside it, for the firm and not for the client, "FOLDER - for the file.csv": who signed, what it was
made from, what was left out and why, which questions were left open, and every answer.

Not here: what the schedule says (schedule), the answers of the reviewer (review).
"""

from workbook_tools.delivery.folder import Delivered, Order, put_in_place
from workbook_tools.delivery.for_the_file import delivered_otherwise
from workbook_tools.delivery.gate import judge, not_ready
from workbook_tools.delivery.seal_check import NO_REVIEW, open_of_review, unmatched

__all__ = [
    "NO_REVIEW",
    "Delivered",
    "Order",
    "delivered_otherwise",
    "judge",
    "not_ready",
    "open_of_review",
    "put_in_place",
    "unmatched",
]
