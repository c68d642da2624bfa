"""The client schedule: what the property owner receives.

    build_schedule(checked, ...)      a ClientSchedule, from a checked and reviewed survey
    write_schedule(schedule, path)    the workbook; returns what each cell was meant to hold
    write_changes(since, path, ...)   a workbook of nothing but what has changed since the survey before

Not here: whether it may go out (delivery), the photos themselves (photos).
"""

from workbook_tools.schedule.content import build_schedule
from workbook_tools.schedule.model import ClientSchedule, Condition, SignedBy, SinceLast
from workbook_tools.schedule.sheets import write_schedule
from workbook_tools.schedule.since_sheet import write_changes

__all__ = [
    "ClientSchedule",
    "Condition",
    "SignedBy",
    "SinceLast",
    "build_schedule",
    "write_changes",
    "write_schedule",
]
