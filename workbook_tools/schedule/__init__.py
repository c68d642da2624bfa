"""The client schedule: what the property owner receives.

    build_schedule(checked, ...)      a ClientSchedule, from a checked and reviewed survey
    write_schedule(schedule, path)    the workbook; returns what each cell was meant to hold

Not here: whether it may go out (delivery), the photos themselves (photos).
"""

from workbook_tools.schedule.content import build_schedule
from workbook_tools.schedule.model import ClientSchedule, Condition, SignedBy
from workbook_tools.schedule.sheets import write_schedule

__all__ = ["ClientSchedule", "Condition", "SignedBy", "build_schedule", "write_schedule"]
